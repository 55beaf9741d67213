"""In which order a language puts words."""

from __future__ import annotations

import re
import unicodedata

_LAST = "\U0010ffff"
"""Comes after every letter."""


def in_order(words: str, tag: str | None) -> list[tuple[int, str]]:
    """Return what to sort words by.

    Numbers go by their size: 5 mm before 10 mm. Marks on letters do not count, as in German (DIN 5007-1): ä is where a
    is. Spanish alone, of the languages here, has a letter of its own with a mark: ñ comes after n.
    """
    plain = words.casefold()
    if (tag or "").lower().startswith("es"):
        plain = unicodedata.normalize("NFC", plain).replace("ñ", f"n{_LAST}")
    bare = "".join(letter for letter in unicodedata.normalize("NFD", plain) if not unicodedata.combining(letter))
    return [(int(part), "") if part.isdecimal() else (0, part) for part in re.split(r"(\d+)", bare)]
