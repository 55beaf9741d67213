"""Text on its way into Typst: always a string literal, never markup.

The letters of an author can be anything. What Typst cannot print (a control character, a letter that no font of the
manual has) is dropped or written out by name here, because PDF/UA-1 refuses a character without a glyph.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping

KEPT_FORMATS = frozenset("\u00ad\u200b\u2060")
"""Format characters that only say where a line may break; every other one is dropped (direction marks could
make a printed value read otherwise than it stands in the file)."""

LONGEST = 24
"""A run of characters longer than this, without a place to break, gets places to break."""

PIECE = 8
"""The distance of those places, in characters."""

BREAK = "\u200b"
"""Zero-width space: a line may break here."""

_RUN = re.compile(r"[^\s\u00ad\u200b\u2010-\u2014-]{%d,}" % (LONGEST + 1))
_AFTER = re.compile(r"(?<=[/\\_.,;:=&?@+|])(?=[^\s/\\_.,;:=&?@+|])")


def clean(text: str) -> str:
    """Return `text` composed (NFC), without control characters, format characters and half characters."""
    kept = []
    for character in unicodedata.normalize("NFC", text):
        category = unicodedata.category(character)
        if character in "\n\t":
            kept.append(character)
        elif category == "Cs":
            kept.append("\ufffd")
        elif category == "Cc":
            kept.append(" ")
        elif (category != "Cf" and not _is_selector(character)) or character in KEPT_FORMATS:
            kept.append(character)
    return "".join(kept)


def unusual(texts: Iterable[str]) -> list[str]:
    """Return the characters of `texts`, in order of their numbers, that a font might not have."""
    found: set[str] = set()
    for text in texts:
        if not text.isascii():
            found.update(character for character in clean(text) if ord(character) > 0x7E)
    return sorted(found - KEPT_FORMATS)


def by_name(character: str) -> str:
    """Return what is printed for a character without a glyph: its Unicode name in brackets."""
    return f"[{unicodedata.name(character, f'U+{ord(character):04X}').lower()}]"


def breakable(text: str) -> str:
    """Return `text` with places to break in every run of more than `LONGEST` characters."""
    return _RUN.sub(lambda run: _broken(run.group()), text)


def literal(text: str) -> str:
    """Return `text` as a Typst string literal, exactly."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + plain.replace("\n", "\\n").replace("\t", "\\t").replace("\r", "\\r") + '"'


def printed(text: str, unprintable: Mapping[str, str]) -> str:
    """Return `text` cleaned, with each character of `unprintable` replaced by its stand-in."""
    cleaned = clean(text)
    if not unprintable or cleaned.isascii():
        return cleaned
    return "".join(unprintable.get(character, character) for character in cleaned)


def one_line(text: str) -> str:
    """Return `text` with every run of blanks as one blank; a no-break space stays."""
    return re.sub(r"[ \t\n\r\f\v]+", " ", text)


def _is_selector(character: str) -> bool:
    return "\ufe00" <= character <= "\ufe0f" or "\U000e0100" <= character <= "\U000e01ef"


def _broken(run: str) -> str:
    pieces = []
    for part in _AFTER.split(run):
        if len(part) > LONGEST:
            pieces.extend(part[at : at + PIECE] for at in range(0, len(part), PIECE))
        else:
            pieces.append(part)
    return BREAK.join(pieces)
