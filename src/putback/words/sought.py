"""Words of the page that searches. Each language fills these in."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchLabels:
    """The page that searches, beside what is around every page."""

    hint: str
    """What can be typed."""
    found: str
    """How many places were found: pattern with `count`."""
    none: str
    """No place has all of the words that were typed."""
    more: str
    """Shows those that are further down."""
    step: str
    """In front of the sentence of a step: pattern with `number`."""
