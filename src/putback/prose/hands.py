"""What a text says of the way in which a thread is turned."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.source.late import Late

ANTICLOCKWISE = Late(r"\b(?:anti-?|counter-?)clockwise\b|\bagainst the clock\b", re.IGNORECASE)
"""Words for the way against the hands of a clock."""
CLOCKWISE = Late(r"(?<![-\w])clockwise\b|\bwith the clock\b", re.IGNORECASE)
"""Words for the way of the hands of a clock."""
_WAY = Late(rf"(?P<anti>{ANTICLOCKWISE.pattern})|{CLOCKWISE.pattern}", re.IGNORECASE)
_PURPOSE = r"(?:(?P<out>(?:loosen|unscrew|undo|slacken)\w*)|tighten\w*)"
# What else a text turns is not meant: `clockwise to tighten the belt`.
_BEHIND = Late(rf"\s+to\s+{_PURPOSE}(?=\s*(?:$|[.,;:)]|(?:it|them)\b))", re.IGNORECASE)
_BEFORE = Late(rf"\b{_PURPOSE}\s+(?:it|them)\s+(?:by turning\s+(?:it|them)\s+)?$", re.IGNORECASE)
_SEEN = Late(r"\b(?:seen|viewed|looking|look) (?:at it )?(?:from|at|towards?)\b", re.IGNORECASE)
_LEFT_HAND = Late(
    r"\bleft[\s-]?hand(?:ed)?[\s-](?:screw\s)?threads?\b|\bthreads? (?:is|are) left[\s-]?hand(?:ed)?\b", re.IGNORECASE
)
_NOT = Late(r"\b(?:no|not|never|isn't|without)\s+(?:\w+\s+)?$", re.IGNORECASE)


class SaidWay(NamedTuple):
    """A way of turning that a text says."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last one."""
    clockwise: bool
    """Whether it is clockwise."""
    loosens: bool | None
    """Whether the text says that this loosens, or tightens; None when it does not say."""


def ways_in(text: str) -> Iterator[SaidWay]:
    """Yield the ways of turning in a text; none of one that says from where it is seen."""
    if _SEEN.search(text):
        return
    for found in _WAY.finditer(text):
        why = _BEHIND.match(text, found.end()) or _BEFORE.search(text, 0, found.start())
        yield SaidWay(found.start(), found.end(), not found["anti"], bool(why["out"]) if why else None)


def left_hand_in(text: str) -> tuple[int, int] | None:
    """Return where a text speaks of a left-hand thread, and does not deny it."""
    found = _LEFT_HAND.search(text)
    return found.span() if found and not _NOT.search(text, 0, found.start()) else None
