"""Which characters a file may hold: those that a reader sees, or that do no harm unseen.

Refused are control characters, which a terminal or browser acts on; hidden line ends, which make every line number
wrong; code points that are no character; and those that turn the direction of reading (U+202A to U+202E, U+2066 to
U+2069), by which `120` is shown as `021`. Right-to-left writing needs none of these: its letters say which way they
run. The marks U+200E, U+200F and U+061C only lean on their neighbours, and Hebrew and Arabic authors type them; they
pass in a file that has such letters, and elsewhere can only disturb.

What joins or parts letters passes (no-break spaces, joiners, soft hyphens, variation selectors): languages need it, and
it changes no number. `visible` shows it in a message, where it would be looked for in vain.
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from putback.source.late import Late

_TURNS = "\u202a-\u202e\u2066-\u2069"
_LEANS = "\u200e\u200f\u061c"
_LINES = "\x85\u2028\u2029"
_CONTROLS = "\x00-\x08\x0b-\x1f\x7f-\x84\x86-\x9f"
_HALVES = "\ud800-\udfff"
_HIDDEN = "\ufeff\u206a-\u206f\ufff9-\ufffb\U000e0000-\U000e007f"
_NONE = "\ufdd0-\ufdef" + "".join(chr(plane << 16 | end) for plane in range(17) for end in (0xFFFE, 0xFFFF))

_REFUSED = Late(f"[{_CONTROLS}{_LINES}{_TURNS}{_LEANS}{_HALVES}{_HIDDEN}{_NONE}]")
_LEANING = Late(f"[{_LEANS}]")
_TURNING = Late(f"[{_TURNS}]")
_LINE_ENDS = Late(f"[{_LINES}]")
_HALF = Late(f"[{_HALVES}]")
_CONTROL = Late(f"[{_CONTROLS}]")
_NO_CHARACTER = Late(f"[{_NONE}]")
_RIGHT_TO_LEFT = Late(
    "[\u0590-\u061b\u061d-\u08ff\ufb1d-\ufdcf\ufdf0-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
)
_UNSEEN = Late(
    f"[\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f\u3164\ufe00-\ufe0f\ufeff"
    f"\uffa0\ufff9-\ufffb\U000e0000-\U000e0fff{_CONTROLS}\t\n{_LINES}{_HALVES}{_LEANS}]"
)
_ESCAPE = Late(r"\\(?:x([0-9A-Fa-f]{2})|u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|.)")
_ESCAPES = {
    "0": "\0", "a": "\a", "b": "\b", "v": "\v", "f": "\f", "r": "\r", "e": "\x1b", "N": "\x85", "L": "\u2028",
    "P": "\u2029",
}  # fmt: skip
"""Escapes of one letter, between double quotes in YAML, that stand for a character that is refused."""
_NAMES = {
    0x00: "NUL", 0x07: "bell", 0x08: "backspace", 0x0B: "vertical tab", 0x0C: "form feed", 0x0D: "carriage return",
    0x1B: "escape", 0x7F: "delete", 0x85: "next line",
}  # fmt: skip
"""Control characters that people know by name; Unicode gives them none."""


class RefusedCharacter(NamedTuple):
    """A character that may not stand in a file."""

    place: int
    """Where it stands in the text, from 0."""
    problem: str
    """What it is, as a message."""


def refused(text: str, *, around: str | None = None) -> RefusedCharacter | None:
    """Return the first character of a text that no file may hold, with how many more there are; None when all pass.

    `around` is the whole file when the text is a part of it.
    """
    found = _REFUSED.search(text)
    if found is None:
        return None
    leaning = _RIGHT_TO_LEFT.search(text) or (around and _RIGHT_TO_LEFT.search(around))
    places = [hit.start() for hit in _REFUSED.finditer(text) if not (leaning and hit[0] in _LEANS)]
    if not places:
        return None
    more = f"; {len(places) - 1} more like it in this file" if len(places) > 1 else ""
    return RefusedCharacter(places[0], f"{described(text[places[0]])}{more}")


def refused_escape(line: str, start: int, around: str) -> re.Match[str] | None:
    """Return the first escape in a line of a text in double quotes, from `start` on, that stands for a refused one.

    `around` is the whole file.
    """
    for found in _ESCAPE.finditer(line):
        digits = found[1] or found[2] or found[3]
        character = chr(int(digits, 16)) if digits else _ESCAPES.get(found[0][1:], "")
        if found.start() >= start and refused(character, around=around):
            return found
    return None


def described(character: str) -> str:
    """Return what is wrong with a character that is refused, and which it is."""
    if _TURNING.search(character):
        what = "there is a character that reverses the direction of reading"
    elif _LEANING.search(character):
        what = "there is an invisible mark for right-to-left writing"
    elif _LINE_ENDS.search(character):
        what = "there is a hidden line separator"
    elif _HALF.search(character):
        what = "there is half of a character"
    elif _CONTROL.search(character):
        what = "there is a control character"
    elif _NO_CHARACTER.search(character):
        what = "there is a code that is not a character"
    else:
        what = "there is an invisible character"
    return f"{what} ({code(character)})"


def code(character: str) -> str:
    """Return the number and the name of a character: `U+202E right-to-left override`."""
    name = _NAMES.get(ord(character)) or unicodedata.name(character, "").lower()
    return f"U+{ord(character):04X} {name}".rstrip()


def visible(text: str) -> str:
    """Return a text with what nobody would see in it written out: `lid<U+200B>`."""
    if text.isascii() and text.isprintable():
        return text
    return _UNSEEN.sub(lambda found: f"<U+{ord(found[0]):04X}>", text)


def is_blank(text: str) -> bool:
    """Tell whether nothing of a text is seen: white space, or characters without a shape."""
    return not text.strip() or (not text.isascii() and not _UNSEEN.sub("", text).strip())
