"""The order in which the pieces of one joint are tightened.

Crosswise (read: the practice of gasket makers for flanges; common practice): opposite pairs, the second pair at 90° to
the first, and then the angles are halved. From the middle outwards (common practice for heads and long covers): the
joint is pressed flat from its middle, so that nothing is shut in, on alternate sides.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from enum import StrEnum

from putback.joints.layouts import (
    Layout,
    LayoutError,
    Shape,
    centre_of,
    is_ring,
    is_straight,
    positions_layout,
    read_layout,
)
from putback.joints.plane import ALIKE, Place, axes, clockwise, mean
from putback.source.nearest import nearest

__all__ = [
    "Layout",
    "LayoutError",
    "Place",
    "Rule",
    "Shape",
    "degrees_apart",
    "in_rows",
    "opposite",
    "order_of",
    "positions_layout",
    "read_layout",
    "rule_of",
]

_FINE = 6
"""Decimals that count in a comparison: two equal distances differ in the last digits of a float."""


class Rule(StrEnum):
    """How an order is found."""

    CROSSWISE = "crosswise"
    FROM_THE_MIDDLE = "from the middle"
    IN_TURN = "in turn"


def order_of(layout: Layout, rule: str | None = None) -> tuple[int, ...]:
    """Return the numbers of the places, from 1, in tightening order; without a rule, by `rule_of`.

    Raises LayoutError when the rule is none of `Rule`.
    """
    if rule is not None and rule not in list(Rule):
        near = nearest(rule, Rule)
        known = "write 'crosswise', 'from the middle', 'in turn' or a list of numbers"
        raise LayoutError(f"'{rule}' is not a known order", f"did you mean '{near}'?" if near else known)
    match rule_of(layout) if rule is None else Rule(rule):
        case Rule.CROSSWISE:
            order = _crosswise(layout.places, centre_of(layout) or mean(layout.places))
        case Rule.FROM_THE_MIDDLE:
            order = _from_the_middle(layout.places)
        case Rule.IN_TURN:
            order = list(range(len(layout.places)))
    return tuple(index + 1 for index in order)


def rule_of(layout: Layout) -> Rule:
    """Return the rule that suits a layout: crosswise for four, on a circle and on a ring that is about as wide as long.

    All others are tightened from the middle outwards.
    """
    if is_straight(layout):
        return Rule.FROM_THE_MIDDLE
    crossed = len(layout.places) == 4 or centre_of(layout) is not None or is_ring(layout)
    return Rule.CROSSWISE if crossed else Rule.FROM_THE_MIDDLE


def opposite(order: Iterable[int]) -> tuple[int, ...]:
    """Return the opposite order, for loosening."""
    return tuple(order)[::-1]


def degrees_apart(one: float, other: float, period: float = 360) -> float:
    """Return how far two angles are apart, degrees, within a period."""
    away = abs(one - other) % period
    return round(min(away, period - away), _FINE)


# Crosswise


def _crosswise(places: Sequence[Place], centre: Place) -> list[int]:
    """Return indexes crosswise: one, its opposite, the one at 90° to it, and the opposite of that; then again.

    Each cross starts as far as can be from those already tightened: that halves the angles. Of those alike, it starts
    farthest from the last one tightened, and then at the first clockwise. Where not all have an opposite (an odd
    number, uneven places), the nearest to it stands for it: five make a star, 1-3-5-2-4. What sits in the very middle
    comes first.
    """
    radii = [math.dist(place, centre) for place in places]
    hub = [i for i, radius in enumerate(radii) if radius <= ALIKE * max(radii)]
    rest = [i for i in range(len(places)) if i not in hub]
    if not rest:
        return hub
    start = clockwise(places[rest[0]], centre)
    turns = [round((clockwise(place, centre) - start) % 360, _FINE) % 360 for place in places]
    mirrors = [(2 * centre[0] - x, 2 * centre[1] - y) for x, y in places]
    paired = all(min(math.dist(mirrors[i], places[j]) for j in rest) <= ALIKE * radii[i] for i in rest)
    # A cross of four looks the same after a quarter of a turn.
    period = 90 if paired else 360
    left = _Left(rest, turns, period, hub)
    last = rest[0]
    while rest:
        first = left.take(left.farthest(last))
        last = left.take_nearest(places, mirrors[first]) if rest else first
        if rest:
            beside = [round(abs(90 - degrees_apart(turns[i], turns[first])), _FINE) for i in rest]
            away = [0 if paired else -degrees_apart(turns[i], turns[last]) for i in rest]
            crossing = left.take(min(zip(beside, away, (turns[i] for i in rest), rest, strict=True))[-1])
            last = left.take_nearest(places, mirrors[crossing]) if rest else crossing
    return left.order


class _Left:
    """Pieces that are not tightened yet, by how far they are from those that are."""

    def __init__(self, rest: list[int], turns: Sequence[float], period: int, order: list[int]) -> None:
        self.rest, self.turns, self.period, self.order = rest, turns, period, order
        self.nearest_done = dict.fromkeys(rest, 360.0)
        self.nearest_done[rest[0]] += 1  # the lowest number starts

    def take(self, index: int) -> int:
        self.order.append(index)
        self.rest.remove(index)
        for i in self.rest:
            apart = degrees_apart(self.turns[i], self.turns[index], self.period)
            self.nearest_done[i] = min(self.nearest_done[i], apart)
        return index

    def take_nearest(self, places: Sequence[Place], to: Place) -> int:
        return self.take(min(self.rest, key=lambda i: (round(math.dist(to, places[i]), _FINE), self.turns[i], i)))

    def farthest(self, last: int) -> int:
        apart = [-degrees_apart(self.turns[i], self.turns[last], self.period) for i in self.rest]
        far = [(-self.nearest_done[i], away, self.turns[i], i) for i, away in zip(self.rest, apart, strict=True)]
        return min(far)[-1]


# From the middle


def _from_the_middle(places: Sequence[Place]) -> list[int]:
    """Return indexes from the middle of the long way outwards, each pair across the middle, on alternate sides.

    Those equally far from the middle, on both sides of it, belong together. Among them the innermost comes first, then
    the one on the other side of the one before, across and along; then the lowest number.
    """
    along, across = _middle_lines(places)
    longest = max(map(abs, along), default=0.0)
    widest = max(map(abs, across), default=0.0)
    order: list[int] = []
    for group in _groups([abs(s) for s in along], ALIKE * longest):
        rest = group
        while rest:
            before = order[-1] if order else None

            def rank(i: int, before: int | None = before) -> tuple[int, bool, bool, int]:
                level = round(10 * abs(across[i]) / widest) if widest else 0
                if before is None:
                    return level, False, False, i
                return level, _same_side(across[i], across[before]), _same_side(along[i], along[before]), i

            first = min(rest, key=rank)
            order.append(first)
            rest.remove(first)
            if not rest or math.hypot(along[first], across[first]) <= ALIKE * longest:
                continue
            mirror = (-along[first], -across[first])
            second = min(rest, key=lambda i: (round(math.dist(mirror, (along[i], across[i])), _FINE), i))
            order.append(second)
            rest.remove(second)
    return order


def _middle_lines(places: Sequence[Place]) -> tuple[list[float], list[float]]:
    """Return how far each place is from the middle, along and across the long way, mm."""
    if is_straight(Layout(tuple(places), Shape.FREE)):
        (ux, uy), _ = axes(places, mean(places))
    else:
        xs, ys = [x for x, _ in places], [y for _, y in places]
        wide = max(xs) - min(xs) >= max(ys) - min(ys) - 1e-6
        ux, uy = (1.0, 0.0) if wide else (0.0, 1.0)
    along = [x * ux + y * uy for x, y in places]
    across = [y * ux - x * uy for x, y in places]
    return _centred(along), _centred(across)


def _centred(values: list[float]) -> list[float]:
    middle = (max(values) + min(values)) / 2
    return [round(value - middle, _FINE) for value in values]


def _groups(distances: Sequence[float], slack: float) -> Iterable[list[int]]:
    """Yield the indexes of distances that are alike, the shortest first."""
    group: list[int] = []
    for index in sorted(range(len(distances)), key=lambda i: (distances[i], i)):
        if group and distances[index] > distances[group[0]] + slack:
            yield sorted(group)
            group = []
        group.append(index)
    yield sorted(group)


def _same_side(one: float, other: float) -> bool:
    return one * other > 0


def in_rows(places: Sequence[Place]) -> list[list[int]]:
    """Return the indexes of places by rows, the top row first, each from the left."""
    xs, ys = [x for x, _ in places], [y for _, y in places]
    top = max(ys)
    rows = _groups([top - y for y in ys], 0.05 * max(max(xs) - min(xs), top - min(ys)))
    return [sorted(row, key=lambda i: (places[i][0], i)) for row in rows]
