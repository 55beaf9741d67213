"""The geometry of bolts on paper: how close they stand, what goes round them, what passes under them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from putback.drawings.canvas import Point


def least_distance(places: Sequence[Point]) -> float | None:
    """Return the least distance between two places; None for one."""
    ordered = sorted(places)
    least = math.inf
    for k, place in enumerate(ordered):
        for other in ordered[k + 1 :]:
            if other[0] - place[0] >= least:
                break
            least = min(least, math.dist(place, other))
    return None if math.isinf(least) else least


def middle_of(places: Sequence[Point]) -> Point:
    """Return the middle of the box round places."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2


def hull(places: Sequence[Point]) -> list[Point]:
    """Return the corners of the convex hull (Andrew's monotone chain, 1979)."""
    ordered = sorted(set(places))
    if len(ordered) < 3:
        return ordered

    def half(points: Sequence[Point]) -> list[Point]:
        chain: list[Point] = []
        for place in points:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], place) <= 0:
                chain.pop()
            chain.append(place)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def passes_under(bolts: Sequence[Point], start: Point, end: Point, radius: float) -> bool:
    """Tell whether the line between two bolts passes under a third."""
    length = math.dist(start, end)
    for bolt in bolts:
        if bolt in (start, end):
            continue
        along = ((bolt[0] - start[0]) * (end[0] - start[0]) + (bolt[1] - start[1]) * (end[1] - start[1])) / length
        if 0 < along < length and abs(_turn(start, end, bolt)) / length < radius:
            return True
    return False
