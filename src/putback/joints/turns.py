"""How far pipe threads, filters and plugs with a gasket are turned past hand-tight.

Taper pipe threads: ASME B1.20.1 gives 2 1/2 to 3 3/4 turns by wrench after hand-tight engagement. Makers of metal
fittings ask for 1 1/2 to 3 turns up to 1 in and for 1 to 2 1/2 above it; of plastic ones for 1 to 2, or up to 4 where
the plastic is soft. What has a gasket: spin-on filters 1/2 to 1 1/2 turns after it touches, spark plugs 1/16 to 3/4.
"""

from __future__ import annotations

from math import pi
from typing import Literal

from putback.units import Quantity, si

_TURN = 2 * pi
_TAPER = (0.5, 4.5)
"""Turns that some taper thread takes: half as much as the least that is asked for, and a little above the most."""
_GASKET = (0.0, 2.0)
"""The same of all other threads."""


def likely(turns: Quantity, *, taper: bool) -> Literal["less", "more"] | None:
    """Return whether turns past hand-tight are less or more than any thread of the kind takes; None for neither."""
    low, high = si(turns)
    least, most = _TAPER if taper else _GASKET
    ends = [end / _TURN for end in (low, high) if end is not None]
    if not ends:
        return None
    return "more" if max(ends) > most + 1e-9 else "less" if min(ends) < least - 1e-9 else None


def likely_range(*, taper: bool) -> tuple[str, str]:
    """Return the turns that are usual, in words."""
    return ("1", "3 turns") if taper else ("1/4", "1 turn")
