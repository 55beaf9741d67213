"""Places in a plane: their mean, the circle and the line that are nearest to them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TypeAlias

ALIKE = 0.02
"""Share of a size within which two lengths count as the same."""

Place: TypeAlias = tuple[float, float]
"""x to the right and y upwards, mm, as seen by the person who tightens."""


def mean(places: Sequence[Place]) -> Place:
    """Return the mean of places, mm."""
    return sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places)


def fitted(places: Sequence[Place]) -> Place | None:
    """Return the centre of the circle nearest to places: least squares of x² + y² + ax + by + c; None for a line.

    Kåsa, "A circle fitting procedure and its error analysis", IEEE Transactions on Instrumentation and Measurement 25
    (1976).
    """
    mx, my = mean(places)
    near = [(x - mx, y - my) for x, y in places]
    sxx, syy = sum(x * x for x, _ in near), sum(y * y for _, y in near)
    sxy = sum(x * y for x, y in near)
    px = sum(x * (x * x + y * y) for x, y in near) / 2
    py = sum(y * (x * x + y * y) for x, y in near) / 2
    whole = sxx * syy - sxy * sxy
    if whole <= 1e-9 * (sxx + syy) ** 2:
        return None
    return mx + (px * syy - py * sxy) / whole, my + (py * sxx - px * sxy) / whole


def axes(places: Sequence[Place], middle: Place) -> tuple[Place, Place]:
    """Return the unit vectors along and across the direction in which places spread most."""
    near = [(x - middle[0], y - middle[1]) for x, y in places]
    sxx, syy = sum(x * x for x, _ in near), sum(y * y for _, y in near)
    turn = math.atan2(2 * sum(x * y for x, y in near), sxx - syy) / 2
    return (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))


def clockwise(place: Place, centre: Place) -> float:
    """Return the angle of a place, clockwise from the top, degrees."""
    return math.degrees(math.atan2(place[0] - centre[0], place[1] - centre[1])) % 360
