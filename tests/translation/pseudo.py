"""A catalogue in which every word of an author has a mark: what is printed without one was not translated."""

from __future__ import annotations

import re
from dataclasses import replace

from putback.guide.record import Guide
from putback.translation.merging import merged
from putback.translation.state import wordings_of
from putback.translation.writing import written

TAG = "qaa"
"""The language tag; ISO 639 keeps it for private use."""
MARK = "ø"
_KEPT = re.compile(r"\{[^{}]*\}(?:`[^`]*`)?|`[^`]*`|\]\([^)]*\)|<[^>]*>|[^\W\d_]{3,}")
_UNITS = frozenset({"rpm", "kPa", "MPa", "mbar", "bar", "psi", "lbf"})


def marked(text: str) -> str:
    """Return a text with a mark in each word of it that is not an abbreviation, a unit, or part of a reference."""
    return _KEPT.sub(_word, text)


def _word(found: re.Match[str]) -> str:
    word = found[0]
    if word[0] in "{`]<" or word.isupper() or word in _UNITS:
        return word
    return f"{word[0]}{MARK}{word[1:]}"


def with_marks(guide: Guide) -> Guide:
    """Return a guide with a catalogue in which all of its texts are marked."""
    found = merged(wordings_of(guide), None)
    for wording, entry in found.entries:
        entry.told = marked(wording.text)
    return replace(guide, catalogues={f"{guide.shown}/translations/{TAG}.po": written(found, guide, TAG)})
