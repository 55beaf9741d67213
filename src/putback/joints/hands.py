"""Which way a thread turns, from how it is written: `M12 x 1.25 LH`, `left-hand 1/2-13 UNC`."""

from __future__ import annotations

import re

from putback.source.late import Late

_LEFT = r"l\.?h\.?|left[\s-]?hand(?:ed)?"
_RIGHT = r"r\.?h\.?|right[\s-]?hand(?:ed)?"
_BEHIND = Late(rf"[\s,-]*(?:\b|\()(?:({_LEFT})|{_RIGHT})(?:\s+thread)?\)?$", re.IGNORECASE)
_BEFORE = Late(rf"\(?(?:({_LEFT})|{_RIGHT})(?:\s+thread)?\)?(?:[\s,-]+|$)", re.IGNORECASE)


def without_hand(text: str) -> tuple[str, bool]:
    """Return a thread without the words that say its hand, and whether it is left-hand (ISO 965-1: `LH`)."""
    text = text.strip()
    if behind := _BEHIND.search(text):
        return text[: behind.start()], bool(behind[1])
    if before := _BEFORE.match(text):
        return text[before.end() :], bool(before[1])
    return text, False


def is_left_hand(text: str) -> bool:
    """Tell whether a text names a left-hand thread, be it one that nobody judges."""
    return without_hand(text)[1]


def ways(*, left_hand: bool) -> tuple[str, str]:
    """Return the ways in which a thread is loosened and tightened, as seen by who turns it."""
    return ("clockwise", "anticlockwise") if left_hand else ("anticlockwise", "clockwise")
