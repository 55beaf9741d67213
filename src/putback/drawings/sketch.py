"""A round thing seen from a little above, as the paths that it is drawn with; how large it is follows from these."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from putback.drawings.canvas import FINE, INK, LIGHT, PAPER, USUAL, Canvas, Point, around, point
from putback.model.forms import PartShape

TILT = 0.28
"""Height of an ellipse for its width: how far from above it is seen."""
SIDE, RUBBER, SHADE = "#e4e4e4", "#8f8f8f", "#c4c4c4"
"""Greys of a side, of rubber, and of what lies in shade."""
_ROUND = 0.5523
"""Where the handles of a Bézier curve lie that draws a quarter of an ellipse."""
_FINENESS = 72
"""Points of an outline that is no ellipse."""

Step = tuple[str, tuple[Point, ...]]
"""A command of a path with its points."""


@dataclass(frozen=True, slots=True)
class Body:
    """A part to be drawn, as large as on paper."""

    shape: PartShape
    """Its shape."""
    radius: float
    """Half of what it measures across, mm."""
    hole: float
    """The radius of its hole, mm; 0 for none."""
    high: float
    """How thick or long it is along its axis, mm."""


class Sketch:
    """Paths with their ground, in mm; the axis is at 0, and y goes down."""

    def __init__(self) -> None:
        self._paths: list[tuple[list[Step], str, str, float]] = []

    def path(self, steps: list[Step], *, fill: str = PAPER, stroke: str = INK, weight: float = USUAL) -> None:
        """Add a path; what is added later lies on top."""
        self._paths.append((steps, fill, stroke, weight))

    def figure(self, points: Sequence[Point], *, fill: str = PAPER, stroke: str = INK, weight: float = USUAL) -> None:
        """Add a closed figure."""
        self.path([*_through(points), ("Z", ())], fill=fill, stroke=stroke, weight=weight)

    def line(self, points: Sequence[Point], *, stroke: str = INK, weight: float = USUAL) -> None:
        """Add a line through points."""
        self.path(_through(points), fill="none", stroke=stroke, weight=weight)

    def ellipse(
        self,
        middle: Point,
        across: float,
        down: float | None = None,
        *,
        fill: str = PAPER,
        stroke: str = INK,
        weight: float = USUAL,
    ) -> None:
        """Add an ellipse by its radii; a circle that lies flat by one."""
        down = TILT * across if down is None else down
        x, y = middle
        steps: list[Step] = [("M", ((x - across, y),))]
        steps += _half(x - across, x + across, y, down) + _half(x + across, x - across, y, -down)
        self.path([*steps, ("Z", ())], fill=fill, stroke=stroke, weight=weight)

    def tube(
        self, y: float, radius: float, high: float, hole: float = 0, *, side: str = SIDE, top: str = PAPER
    ) -> None:
        """Add a piece that was turned: its upper edge is at `y`, and a hole goes through it."""
        down = TILT * radius
        steps: list[Step] = [("M", ((-radius, y),)), ("L", ((-radius, y + high),))]
        steps += _half(-radius, radius, y + high, down)
        steps += [("L", ((radius, y),)), *_half(radius, -radius, y, -down), ("Z", ())]
        self.path(steps, fill=side)
        self.ellipse((0, y), radius, fill=top)
        if hole > 0:
            self.hole(y, hole, high)

    def hole(self, y: float, radius: float, deep: float) -> None:
        """Add a hole: its wall on the far side, and what is seen through it."""
        self.ellipse((0, y), radius, fill=SHADE, weight=FINE)
        if deep < 1.9 * TILT * radius:
            half = math.sqrt(1 - (deep / (2 * TILT * radius)) ** 2)
            far = [radius * half * math.cos(math.pi * k / 16) for k in range(17)]
            upper = [(x, y + deep - TILT * math.sqrt(radius**2 - x**2)) for x in far]
            lower = [(x, y + TILT * math.sqrt(radius**2 - x**2)) for x in reversed(far)]
            self.figure(upper + lower, weight=FINE)

    def pressed(
        self, outline: Sequence[Point], high: float, *, side: str = SIDE, top: str = PAPER, edges: bool = False
    ) -> None:
        """Add a piece of even thickness by its upper outline, which goes from the right over the front to the left."""
        ring = [*outline, outline[0]]
        pairs = list(pairwise(ring))
        facing = [other[0] < one[0] for one, other in pairs]
        # What is further away first: a tooth hides what is behind it.
        for one, other in sorted(pairs, key=lambda pair: pair[0][1] + pair[1][1]):
            wall = [one, other, (other[0], other[1] + high), (one[0], one[1] + high)]
            if edges:
                self.figure(wall, fill=side, weight=FINE)
            else:
                self.figure(wall, fill=side, stroke=side, weight=0.12)
        for k, (one, other) in enumerate(pairs):
            if facing[k] and not edges:
                self.line([(one[0], one[1] + high), (other[0], other[1] + high)])
            if facing[k] != facing[k - 1] and not edges:
                self.line([one, (one[0], one[1] + high)])
        self.figure(outline, fill=top)

    def box(self) -> tuple[float, float, float, float]:
        """Return left, top, right and bottom of all that is drawn, with the width of its lines."""
        edges = [
            (x + way * weight / 2, y + way * weight / 2)
            for steps, _, _, weight in self._paths
            for _, points in steps
            for x, y in points
            for way in (-1, 1)
        ]
        return around(edges)

    def put_on(self, canvas: Canvas, at: Point, *, pale: bool = False, kind: str = "part") -> None:
        """Draw it on a canvas, with its axis and its height 0 at a point; a pale one stands back."""
        for steps, fill, stroke, weight in self._paths:
            data = "".join(name + " ".join(point((x + at[0], y + at[1])) for x, y in points) for name, points in steps)
            if pale:
                fill, stroke = (fill if fill == "none" else PAPER), (LIGHT if stroke == INK else PAPER)
            canvas.path(data, fill=fill, stroke=stroke, weight=weight, kind=kind)


def outline(y: float, reach: Callable[[float], float]) -> list[Point]:
    """Return the outline of a flat piece by how far it reaches at each angle, from the right over the front."""
    turns = [math.tau * k / _FINENESS for k in range(_FINENESS)]
    return [flat(y, reach(turn), turn) for turn in turns]


def flat(y: float, reach: float, turn: float) -> Point:
    """Return a point of a level plane by its distance from the axis and its angle."""
    return reach * math.cos(turn), y + TILT * reach * math.sin(turn)


def _through(points: Iterable[Point]) -> list[Step]:
    first, *rest = points
    return [("M", (first,)), *(("L", (each,)) for each in rest)]


def _half(start: float, end: float, y: float, down: float) -> list[Step]:
    """Return half of an ellipse from one end of its width to the other, over its lowest or highest point."""
    middle, across = (start + end) / 2, (end - start) / 2
    return [
        ("C", ((start, y + _ROUND * down), (middle - _ROUND * across, y + down), (middle, y + down))),
        ("C", ((middle + _ROUND * across, y + down), (end, y + _ROUND * down), (end, y))),
    ]
