"""Where the numbers stand that are drawn over a picture: beside what they point at, and in nobody's way.

Nothing is drawn here: on the screen the numbers keep their size while the picture shrinks, so each output draws them in
its own way. All places are in parts of the width of what is shown, from its top left; so the height is a ratio.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from putback.drawings.canvas import Point

DISC = 6.4
"""Diameter of the disc behind a number, mm on paper: figures 3 mm tall, to be read at arm's length (tried by eye)."""
DISC_ON_SCREEN = 26.0
"""The same on a screen, in pixels of CSS."""
NARROWEST = 280.0
"""The least width of a picture that has some height to it, on a screen 390 pixels wide."""

_DIRECTIONS = 16
_DISTANCES = (2.2, 2.8, 3.6, 4.6, 6.0, 8.0, 11.0)
"""From what is pointed at to the middle of the number, in parts of the disc's radius."""
_GAP = 0.3
"""Least gap between a number and anything else, likewise."""


@dataclass(frozen=True, slots=True)
class PictureMark:
    """What is pointed at in a picture."""

    number: int
    """Its number."""
    at: tuple[Point, ...]
    """Where it is."""
    number_at: Point | None = None
    """Where its number must stand."""
    circle: float = 0.0
    """The width of a ring around it; 0 for none."""
    arrow: Point | None = None
    """Where an arrow ends that begins where it is."""


class Label(NamedTuple):
    """A number in its disc, and what lines lead to from it."""

    number: int
    """The number."""
    at: Point
    """The middle of the disc."""
    ends: tuple[Point, ...]
    """Where its lines end."""


def radius_of(width: float) -> float:
    """Return the radius of a disc, in parts of the width of a picture that is printed so wide, mm."""
    return max(DISC / width, DISC_ON_SCREEN / NARROWEST) / 2


def labels(marks: Sequence[PictureMark], ratio: float, radius: float) -> list[Label]:
    """Return the numbers, each at its place; `ratio` is height by width.

    No disc covers another or a spot, and none leaves the picture, as long as there is room. A mark whose number has a
    place has one number with a line to each spot; any other has a number at each.
    """
    room = _Room(marks, ratio, radius)
    fixed = [Label(mark.number, mark.number_at, mark.at) for mark in marks if mark.number_at]
    free = [Label(mark.number, spot, (spot,)) for mark in marks if not mark.number_at for spot in mark.at]
    # What has little room around it comes first.
    order = sorted(range(len(free)), key=lambda at: (round(room.crowd(free[at].ends[0]), 6), at))
    placed: dict[int, Label] = {}
    for _ in range(2):  # the second time, each knows where all the others are
        for at in order:
            others = [*fixed, *(label for other, label in placed.items() if other != at)]
            placed[at] = room.best(free[at], others)
    found = [*fixed, *(placed[at] for at in range(len(free)))]
    return sorted(found, key=lambda label: (label.number, free.index(label) if label in free else 0))


class _Room:
    """A picture with what is pointed at in it."""

    def __init__(self, marks: Sequence[PictureMark], ratio: float, radius: float) -> None:
        self.ratio, self.radius = ratio, radius
        self.spots = [spot for mark in marks for spot in mark.at]
        self.rings = {spot: mark.circle / 2 for mark in marks for spot in mark.at if mark.circle}
        self.shafts = [(spot, mark.arrow) for mark in marks if mark.arrow for spot in mark.at]
        self.middle = (
            sum(x for x, _ in self.spots) / len(self.spots) if self.spots else 0.5,
            sum(y for _, y in self.spots) / len(self.spots) if self.spots else ratio / 2,
        )

    def crowd(self, spot: Point) -> float:
        """Return how far the nearest other spot or edge is."""
        others = [math.dist(spot, other) for other in self.spots if other != spot]
        return min([*others, spot[0], 1 - spot[0], spot[1], self.ratio - spot[1]])

    def best(self, label: Label, others: Sequence[Label]) -> Label:
        """Return a number at the best place for it; where there is no good one, at the least bad."""
        spot = label.ends[0]
        cost, place = self._cheapest(self._around(spot), spot, others)
        if cost >= _BAD:
            cost, place = min((cost, place), self._cheapest(self._anywhere(), spot, others))
        return label._replace(at=place)

    def _cheapest(self, places: Iterable[Point], spot: Point, others: Sequence[Label]) -> tuple[float, Point]:
        """Return the cheapest of some places, and its cost; what is dear already for being far is not looked at."""
        least, found = math.inf, spot
        for far, place in sorted((self._far(place, spot), place) for place in set(places)):
            if far >= least:
                break
            cost = round(self._cost(place, spot, others, far, least), 6)
            if cost < least:
                least, found = cost, place
        return least, found

    def _far(self, place: Point, spot: Point) -> float:
        """Return what it costs that a number is far away; outwards, where the picture shows less, it costs less."""
        out = math.dist(place, self.middle) - math.dist(spot, self.middle)
        return round((math.dist(place, spot) - 0.5 * out) / self.radius, 6)

    def _around(self, spot: Point) -> Iterator[Point]:
        ring = self.rings.get(spot, 0.0)
        for distance in _DISTANCES:
            for turn in range(_DIRECTIONS):
                angle = math.tau * turn / _DIRECTIONS
                far = ring + distance * self.radius
                yield self._inside((spot[0] + far * math.cos(angle), spot[1] + far * math.sin(angle)))

    def _anywhere(self) -> Iterator[Point]:
        step = self.radius * 0.8
        for row in range(1, int(self.ratio / step) + 1):
            for column in range(1, int(1 / step) + 1):
                yield self._inside((column * step, row * step))

    def _inside(self, place: Point) -> Point:
        edge = self.radius * 1.1
        return (
            round(min(max(place[0], min(edge, 0.5)), max(1 - edge, 0.5)), 4),
            round(min(max(place[1], min(edge, self.ratio / 2)), max(self.ratio - edge, self.ratio / 2)), 4),
        )

    def _cost(self, place: Point, spot: Point, others: Sequence[Label], cost: float, most: float) -> float:
        """Return what a place costs, from what is known already; more than `most` need not be exact."""
        radius = self.radius
        for other in self.spots:
            cost += _overlap(math.dist(place, other), (1 + 2 * _GAP) * radius + self.rings.get(other, 0.0))
            if other != spot:
                cost += _overlap(_from_line(other, place, spot), _GAP * 2 * radius) / 8
        for start, end in self.shafts:
            cost += _overlap(_from_line(place, start, end), (1 + _GAP) * radius) / 2
        for label in others:
            if cost >= most:
                break
            cost += _overlap(math.dist(place, label.at), (2 + _GAP) * radius)
            for end in label.ends:
                cost += _overlap(_from_line(place, label.at, end), (1 + _GAP) * radius) / 4
                cost += _overlap(_from_line(label.at, place, spot), (1 + _GAP) * radius) / 4
                cost += 6 * _cross(place, spot, label.at, end)
        return cost


_BAD = 60.0
"""A cost that says: something is covered."""


def _overlap(distance: float, least: float) -> float:
    return _BAD * 4 * (1.2 - distance / least) if distance < least else 0.0


def _from_line(place: Point, start: Point, end: Point) -> float:
    """Return how far a place is from a piece of a line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    along = ((place[0] - start[0]) * dx + (place[1] - start[1]) * dy) / length if length else 0.0
    along = min(1.0, max(0.0, along))
    return math.dist(place, (start[0] + along * dx, start[1] + along * dy))


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Tell whether two pieces of lines cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def where(place: Point, ratio: float) -> tuple[int, int]:
    """Return in which third of a picture a place is: -1, 0, 1 from left to right, and from top to bottom."""
    return _third(place[0]), _third(place[1] / ratio)


def way(start: Point, end: Point) -> tuple[int, int]:
    """Return which way an arrow leads, one of eight: -1, 0, 1 to the right, and downwards."""
    eighth = round(math.atan2(end[1] - start[1], end[0] - start[0]) / (math.tau / 8)) % 8
    return ((1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1))[eighth]


def _third(part: float) -> int:
    return -1 if part < 1 / 3 else 1 if part > 2 / 3 else 0


def clear(found: Iterable[Label], marks: Sequence[PictureMark], ratio: float, radius: float) -> bool:
    """Tell whether no disc covers another or a spot, and all are inside the picture."""
    discs = [label.at for label in found]
    spots = [spot for mark in marks for spot in mark.at]
    apart = all(math.dist(a, b) >= 2 * radius for at, a in enumerate(discs) for b in discs[:at])
    free = all(math.dist(a, spot) >= radius for a in discs for spot in spots)
    return apart and free and all(radius <= x <= 1 - radius and radius <= y <= ratio - radius for x, y in discs)
