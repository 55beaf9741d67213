"""Text on its way into Typst: always a string literal, never markup.

The letters of an author can be anything. What Typst cannot print (a control character, a letter that no font of the
manual has) is dropped or written out by name here, because PDF/UA-1 refuses a character without a glyph.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable

KEPT_FORMATS = frozenset("\u00ad\u200b\u2060")
"""Format characters that only say where a line may break; every other one is dropped (direction marks could
make a printed value read otherwise than it stands in the file)."""

LONGEST = 24
"""A run of characters longer than this, without a place to break, gets places to break."""

PIECE = 8
"""The distance of those places, in characters."""

BREAK = "\u200b"
"""Zero-width space: a line may break here."""

_RUN = re.compile(rf"[^\s\u00ad\u200b\u2010-\u2014-]{{{LONGEST + 1},}}")
_AFTER = re.compile(r"(?<=[/\\_.,;:=&?@+|])(?=[^\s/\\_.,;:=&?@+|])")
_PLAIN = re.compile(r"[ -~\n\t]*")
"""Letters of ASCII, of which every one is printed as it is."""

_NOT_ALONE = re.compile(r"[\s\S]?[^\x00-\x7f]+")
"""Letters that are not of ASCII, with the one before them that they may stand on."""


def clean(text: str) -> str:
    """Return `text` composed (NFC), without control and format characters, separators of lines and half characters."""
    if _PLAIN.fullmatch(text):
        return text
    kept = []
    for character in unicodedata.normalize("NFC", text):
        category = unicodedata.category(character)
        if character in "\n\t":
            kept.append(character)
        elif category == "Cs":
            kept.append("\ufffd")
        elif category in ("Cc", "Zl", "Zp"):
            kept.append(" ")
        elif (category != "Cf" and not _is_selector(character)) or character in KEPT_FORMATS:
            kept.append(character)
    return "".join(kept)


def clusters(text: str) -> list[str]:
    """Return `text` cut into letters, each together with the marks that stand on it."""
    found: list[str] = []
    for character in text:
        if found and not found[-1].isspace() and _is_mark(character):
            found[-1] += character
        else:
            found.append(character)
    return found


def unusual(texts: Iterable[str]) -> list[str]:
    """Return, sorted, the letters of `texts` (with their marks) that a font might not have."""
    found: set[str] = set()
    for text in texts:
        if not text.isascii():
            for run in _NOT_ALONE.findall(clean(text)):
                for cluster in clusters(run):
                    found.update((cluster, cluster[0]))
    return sorted(cluster for cluster in found - KEPT_FORMATS if not cluster.isascii())


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


def printed(text: str, unprintable: Collection[str]) -> str:
    """Return `text` cleaned, with every letter and mark of `unprintable` written out by name."""
    cleaned = clean(text)
    if cleaned.isascii():
        return cleaned
    return _NOT_ALONE.sub(
        lambda run: "".join(_replaced(cluster, unprintable) for cluster in clusters(run.group())), cleaned
    )


def drawable(svg: str, unprintable: Collection[str]) -> str:
    """Return a drawing with a question mark for every letter that cannot be printed: by its name, it has no room."""
    if svg.isascii():
        return svg
    return _NOT_ALONE.sub(
        lambda run: "".join(
            letter if _replaced(letter, unprintable) == letter else "?" for letter in clusters(run.group())
        ),
        svg,
    )


def one_line(text: str) -> str:
    """Return `text` with every run of blanks as one blank; a no-break space stays."""
    return re.sub(r"[ \t\n\r\f\v]+", " ", text)


def _replaced(cluster: str, unprintable: Collection[str]) -> str:
    base = by_name(cluster[0]) if cluster[0] in unprintable or _is_mark(cluster[0]) else cluster[0]
    if base == cluster[0] and cluster not in unprintable and _can_carry(cluster):
        return cluster
    return base + "".join(map(by_name, cluster[1:]))


def _is_mark(character: str) -> bool:
    return unicodedata.category(character).startswith("M")


def _can_carry(cluster: str) -> bool:
    """Tell whether marks can be set: on a letter of these scripts, and of the common ones.

    Whether a font has any other mark depends on the words around it, so that a trial beforehand proves nothing.
    """
    if len(cluster) == 1:
        return True
    script = unicodedata.name(cluster[0], "").partition(" ")[0]
    return script in ("LATIN", "GREEK", "CYRILLIC") and all("\u0300" <= mark <= "\u036f" for mark in cluster[1:])


def _is_selector(character: str) -> bool:
    return "\ufe00" <= character <= "\ufe0f" or "\U000e0100" <= character <= "\U000e01ef"


def _broken(run: str) -> str:
    pieces: list[str] = []
    for part in _AFTER.split(run):
        if len(part) > LONGEST:
            letters = clusters(part)
            pieces.extend("".join(letters[at : at + PIECE]) for at in range(0, len(letters), PIECE))
        else:
            pieces.append(part)
    return BREAK.join(pieces)
