"""Times in words: `water within 30 s`."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.said import source_of
from putback.units import Kind, Quantity, QuantityError, parse

_STAYS = frozenset({"no", "not", "never", "without", "stays", "holds", "keeps", "steady", "dry", "still"})
"""Words of what must stay as it is for a time, and is looked for until that is over."""

_FROM = frozenset({"when", "whenever", "after", "once", "as", "if"})
"""Words after a time that say with what it begins."""


def time_within(text: str) -> Quantity | None:
    """Return the time in which something must come, of words such as `water within 30 s`; None when they say none.

    What must not come, or must stay as it is, is looked for all the time: `no drop within 5 min`. A time that begins
    with something else than the run is none: `comes back within 5 s when the hose is let go`.
    """
    before, found, after = source_of(text).lower().partition("within ")
    odd = _STAYS.intersection(before.replace(",", " ").split()) or _FROM.intersection(after.replace(",", " ").split())
    return _time(after) if found and not odd else None


def _time(words: str) -> Quantity | None:
    """Return the time that some words begin with."""
    first = words.replace(",", " ").split()[:2]
    for text in _beginnings(first):
        try:
            return parse(text, Kind.TIME)
        except QuantityError:
            continue
    return None


def _beginnings(words: list[str]) -> Iterator[str]:
    yield " ".join(words)
    yield from words[:1]
