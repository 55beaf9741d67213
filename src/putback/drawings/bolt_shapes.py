"""Bolts, nuts and rings at true size: from the side, lying with their axis across the page, and from the end."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from putback.drawings.canvas import FINE, INK, PAPER, USUAL, Canvas, Point, point
from putback.joints.heads import Head, HeadForm, Recess

THREAD_LINE = 0.18
_CORNERS = 2 / math.sqrt(3)
"""From across flats to across corners of a hexagon."""
_BREAK = 5.0
"""What a break takes, mm."""
_AFTER_BREAK = 0.35
"""Share of what is drawn that stands after the break."""


@dataclass(frozen=True, slots=True)
class BoltShape:
    """A bolt, screw, stud or plug."""

    diameter: float
    """Of the thread, mm."""
    pitch: float
    """From thread to thread, mm."""
    length: float
    """As it is stated: from under the head; a countersunk head, and a piece without a head, in full, mm."""
    head: Head
    """Its head."""
    threaded: float | None = None
    """How much of it has a thread, from the end, mm; None for all of it."""

    @property
    def before(self) -> float:
        """How much of it lies before the point from which its length is measured, mm."""
        return 0.0 if self.head.form in (HeadForm.NONE, HeadForm.COUNTERSUNK) else self.head.height

    @property
    def beyond(self) -> float:
        """How much of it lies after that point, mm."""
        return self.length


@dataclass(frozen=True, slots=True)
class NutShape:
    """A nut."""

    diameter: float
    """Of the thread, mm."""
    pitch: float
    """From thread to thread, mm."""
    head: Head
    """What it looks like; its height is that of the nut."""

    before = 0.0

    @property
    def beyond(self) -> float:
        """Its height, mm."""
        return self.head.height


@dataclass(frozen=True, slots=True)
class RingShape:
    """A washer, a ring, or a disc."""

    outside: float
    """Diameter, mm."""
    inside: float = 0.0
    """Diameter of its hole, mm; 0 for none."""
    thickness: float | None = None
    """Along its axis, mm."""

    before = 0.0

    @property
    def beyond(self) -> float:
        """Its thickness, mm."""
        return self.thickness or 0.0


Shape: TypeAlias = BoltShape | NutShape | RingShape
"""What can be drawn at true size."""


def across(shape: Shape) -> float:
    """Return how high a piece is from the side, and how wide and high from the end, mm."""
    match shape:
        case RingShape(outside=outside):
            return outside
        case BoltShape(diameter=diameter, head=head) | NutShape(diameter=diameter, head=head):
            wide = head.width
            if head.form in (HeadForm.HEX, HeadForm.HEX_FLANGE):
                wide *= _CORNERS
            elif head.form is HeadForm.SQUARE:
                wide *= math.sqrt(2)
            return max(wide, head.flange or 0, diameter)


def draw_end(canvas: Canvas, shape: Shape, middle: Point) -> None:
    """Draw a piece as it is seen from its end: of a bolt, its head and its drive."""
    match shape:
        case RingShape():
            canvas.circle(middle, shape.outside / 2, kind="end")
            if shape.inside:
                canvas.circle(middle, shape.inside / 2, kind="hole")
        case NutShape():
            _outside(canvas, shape.head, middle, shape.diameter)
            canvas.circle(middle, (shape.diameter - 1.08 * shape.pitch) / 2, kind="hole")
            canvas.path(_three_quarters(middle, shape.diameter / 2), weight=THREAD_LINE)
        case BoltShape():
            _outside(canvas, shape.head, middle, shape.diameter)
            _recess(canvas, shape.head, middle, shape.diameter)


def _outside(canvas: Canvas, head: Head, middle: Point, diameter: float) -> None:
    if head.flange:
        canvas.circle(middle, head.flange / 2)
    match head.form:
        case HeadForm.HEX | HeadForm.HEX_FLANGE:
            canvas.polygon(_polygon(middle, head.width / 2 * _CORNERS, 6), kind="end")
            canvas.circle(middle, head.width / 2 * 0.95, fill="none", weight=THREAD_LINE)
        case HeadForm.SQUARE:
            canvas.polygon(_polygon(middle, head.width / math.sqrt(2), 4), kind="end")
        case _:
            canvas.circle(middle, max(head.width, diameter) / 2, kind="end")


def _polygon(middle: Point, radius: float, corners: int) -> list[Point]:
    """Return the corners of a figure with one at the top."""
    turns = [2 * math.pi * k / corners for k in range(corners)]
    return [(middle[0] + radius * math.sin(turn), middle[1] - radius * math.cos(turn)) for turn in turns]


def _three_quarters(middle: Point, radius: float) -> str:
    """Return the path of the thread in a nut, as it is drawn by custom: three quarters of a circle (ISO 6410-1)."""
    start, end = (middle[0] + radius, middle[1]), (middle[0], middle[1] - radius)
    return f"M{point(start)}A{point((radius, radius))} 0 1 1 {point(end)}"


def _recess(canvas: Canvas, head: Head, middle: Point, diameter: float) -> None:
    """Draw what a tool goes into; sizes that are not known are common practice, no source."""
    x, y = middle
    size = head.recess_size
    most = 0.46 * max(head.width, diameter)  # whatever is stated, it is within the head
    match head.recess:
        case Recess.HEX:
            canvas.polygon(_polygon(middle, min((size or 0.8 * diameter) / 2 * _CORNERS, most), 6), kind="recess")
        case Recess.SQUARE:
            canvas.polygon(_polygon(middle, min((size or 0.7 * diameter) / math.sqrt(2), most), 4), kind="recess")
        case Recess.SLOT:
            half, wide = max(head.width, diameter) / 2, 0.12 * diameter
            reach = math.sqrt(max(half**2 - wide**2, 0))
            for level in (y - wide, y + wide):
                canvas.line([(x - reach, level), (x + reach, level)], weight=FINE, kind="recess")
        case Recess.CROSS:
            arm, wide = 0.5 * diameter, 0.11 * diameter
            steps = [(wide, arm), (wide, wide), (arm, wide)]
            ring = [*steps, *((a, -b) for a, b in steps[::-1])]
            ring += [(-a, -b) for a, b in ring]
            canvas.polygon([(x + a, y + b) for a, b in ring], weight=FINE, kind="recess")
        case Recess.STAR:
            star: list[Point] = []
            for k in range(12):
                radius = (0.36 if k % 2 else 0.5) * 0.9 * diameter
                turn = math.pi * k / 6
                star.append((x + radius * math.sin(turn), y - radius * math.cos(turn)))
            canvas.polygon(star, weight=FINE, kind="recess")
        case None:
            pass


def draw_side(canvas: Canvas, shape: Shape, zero: Point, room: float = math.inf) -> None:
    """Draw a piece from the side; its length is measured from `zero` to the right.

    What is longer than `room` is broken, and drawn that long.
    """
    match shape:
        case RingShape():
            if shape.thickness:
                canvas.box((zero[0], zero[1] - shape.outside / 2), shape.thickness, shape.outside, kind="side")
        case NutShape():
            _hexagon_side(canvas, shape.head, zero)
        case BoltShape():
            _shank(canvas, shape, zero, min(shape.length, room), broken=shape.length > room)
            _head_side(canvas, shape, zero)


def _shank(canvas: Canvas, bolt: BoltShape, zero: Point, length: float, *, broken: bool) -> None:
    x, y = zero
    half, chamfer = bolt.diameter / 2, min(bolt.pitch, length / 3)
    root = half - 0.61 * bolt.pitch
    end = x + length
    sides = [(x, y - half), (end - chamfer, y - half), (end, y - root), (end, y + root), (end - chamfer, y + half)]
    canvas.polygon([*sides, (x, y + half)], kind="shank")
    canvas.line([(end - chamfer, y - half), (end - chamfer, y + half)], weight=THREAD_LINE)
    start = max(x, end - (bolt.threaded or length))
    if start > x:
        canvas.line([(start, y - half), (start, y + half)], weight=USUAL)
    for level in (y - root, y + root):
        canvas.line([(start, level), (end, level)], weight=THREAD_LINE, kind="thread")
    if broken:
        _break(canvas, x + length * (1 - _AFTER_BREAK), y, half)


def _break(canvas: Canvas, x: float, y: float, half: float) -> None:
    """Draw where a piece is longer than it is drawn: a gap between two waved lines."""
    reach = half + 1.5
    edges = []
    for aside in (-_BREAK / 2, _BREAK / 2):
        waved = [
            (x + aside, y - reach),
            (x + aside - 1, y - reach / 2),
            (x + aside + 1, y + reach / 2),
            (x + aside, y + reach),
        ]
        edges.append(waved)
    canvas.polygon([*edges[0], *edges[1][::-1]], fill=PAPER, weight=0, kind="break")
    for waved in edges:
        canvas.line(waved, weight=USUAL, kind="break")


def _head_side(canvas: Canvas, bolt: BoltShape, zero: Point) -> None:
    head, (x, y) = bolt.head, zero
    half, high = head.width / 2, head.height
    match head.form:
        case HeadForm.HEX | HeadForm.HEX_FLANGE | HeadForm.SQUARE:
            _hexagon_side(canvas, head, (x - high, y))
        case HeadForm.COUNTERSUNK:
            root = bolt.diameter / 2
            canvas.polygon([(x, y - half), (x + high, y - root), (x + high, y + root), (x, y + half)], kind="side")
        case HeadForm.PAN | HeadForm.BUTTON:
            deep = 0.6 * high if head.form is HeadForm.PAN else high
            path = f"M{point((x, y - half))}L{point((x - high + deep, y - half))}"
            path += f"Q{point((x - high, y - half * 0.8))} {point((x - high, y))}"
            path += f"Q{point((x - high, y + half * 0.8))} {point((x - high + deep, y + half))}L{point((x, y + half))}Z"
            canvas.path(path, fill=PAPER, weight=USUAL, kind="side")
        case HeadForm.SOCKET_CAP | HeadForm.CHEESE:
            canvas.box((x - high, y - half), high, head.width, radius=min(0.5, high / 4), kind="side")
        case HeadForm.NONE:
            pass


def _hexagon_side(canvas: Canvas, head: Head, start: Point) -> None:
    """Draw a hexagon or a square from the side, corners outermost, its chamfered end first."""
    x, y = start
    square = head.form is HeadForm.SQUARE
    half = head.width / 2 * (math.sqrt(2) if square else _CORNERS)
    high, bevel = head.height, min(0.12 * head.width, head.height / 3)
    low = high
    if head.flange:
        low = high - min(0.18 * high, 2.5)
        canvas.box((x + low, y - head.flange / 2), high - low, head.flange, radius=0.4)
    corners = [(x + low, y - half), (x + bevel, y - half), (x, y - half + bevel)]
    canvas.polygon([*corners, *((a, 2 * y - b) for a, b in corners[::-1])], kind="side")
    for level in (0.0,) if square else (-half / 2, half / 2):
        canvas.line([(x, y + level), (x + low, y + level)], weight=FINE, stroke=INK)
