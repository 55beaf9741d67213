"""Parts with a body: covers, housings, impellers, filters, bolts, nuts."""

from __future__ import annotations

import math

from putback.drawings.canvas import FINE
from putback.drawings.rings import ears, screw_holes
from putback.drawings.sketch import RUBBER, SHADE, SIDE, TILT, Body, Sketch, flat

_CORNERS = [math.tau * (k + 0.5) / 6 for k in range(6)]


def _flanged(s: Sketch, b: Body, neck: float) -> None:
    flange = max(0.9, 0.18 * b.high)
    s.pressed(ears(b.high - flange, b.radius), flange)
    screw_holes(s, 0.9 * b.radius, y=b.high - flange)
    s.tube(0, neck * b.radius, b.high - flange)


def cover(s: Sketch, b: Body) -> None:
    """Draw a cover with its flange."""
    _flanged(s, b, 0.62)
    s.ellipse((0, 0), 0.44 * b.radius, weight=FINE)


def housing(s: Sketch, b: Body) -> None:
    """Draw a housing with its flange."""
    _flanged(s, b, 0.68)
    s.hole(0, min(b.hole, 0.5 * b.radius) or 0.24 * b.radius, b.high)


def cap(s: Sketch, b: Body) -> None:
    """Draw a cap with a fluted rim."""
    s.tube(0, b.radius, b.high)
    for k in range(1, 12):
        x, y = flat(0, b.radius, math.pi * k / 12)
        s.line([(x, y + 0.2 * b.high), (x, y + 0.9 * b.high)], weight=FINE)
    s.ellipse((0, 0), 0.72 * b.radius, weight=FINE)


def bowl(s: Sketch, b: Body) -> None:
    """Draw a bowl."""
    wall, low = 0.86 * b.radius, 0.6 * b.radius
    s.tube(0.55 * b.high, low, 0.45 * b.high)
    sides = [flat(0.2 * b.high, wall, turn * math.pi / 16) for turn in range(17)]
    s.figure(
        [*sides, (-wall, 0.7 * b.high), *(flat(0.86 * b.high, low, turn * math.pi / 16) for turn in range(16, -1, -1))],
        fill=SIDE,
    )
    s.tube(0, b.radius, max(0.9, 0.18 * b.high), 0.8 * b.radius)


def impeller(s: Sketch, b: Body) -> None:
    """Draw an impeller."""
    hub = max(0.34 * b.radius, min(1.5 * b.hole, 0.5 * b.radius))

    def vane(k: int) -> None:
        first = math.tau * (k + 0.25) / 6
        curve = [
            flat(0, hub * 0.8 + (b.radius - hub * 0.8) * part / 8, first + 0.55 * (part / 8) ** 2) for part in range(9)
        ]
        s.figure(curve + [(x, y + b.high) for x, y in curve[::-1]], fill=RUBBER)
        x, y = curve[-1]
        s.line([(x, y), (x, y + b.high)], weight=0.7)

    order = sorted(range(6), key=lambda k: math.sin(math.tau * (k + 0.25) / 6 + 0.3))
    for k in order[:3]:
        vane(k)
    s.tube(0, hub, b.high, side=RUBBER, top=SHADE)
    s.hole(0, min(b.hole, 0.62 * hub) or 0.5 * hub, b.high)
    for k in order[3:]:
        vane(k)


def propeller(s: Sketch, b: Body) -> None:
    """Draw a propeller."""
    hub = 0.3 * b.radius

    def blade(turn: float) -> None:
        edge = []
        for part in range(25):
            along, wide = 0.64 - 0.36 * math.cos(math.pi * part / 12), 0.24 * math.sin(math.pi * part / 12)
            x = b.radius * (along * math.cos(turn) - wide * math.sin(turn))
            y = b.radius * TILT * (along * math.sin(turn) + wide * math.cos(turn))
            edge.append((x, y + b.high * (0.5 + 0.5 * wide)))
        s.figure(edge, fill=SIDE)

    blade(-math.pi / 2 - 0.3)
    s.tube(0, hub, b.high, min(b.hole, 0.6 * hub) or 0.45 * hub)
    for turn in (math.pi / 6 - 0.3, 5 * math.pi / 6 - 0.3):
        blade(turn)


def key(s: Sketch, b: Body) -> None:
    """Draw a key."""
    _cuboid(s, b.radius, max(0.4 * b.radius, 0.9), max(b.high, 1.2))


def block(s: Sketch, b: Body) -> None:
    """Draw a plain block."""
    _cuboid(s, 0.72 * b.radius, 0.72 * b.radius, b.high)


def _cuboid(s: Sketch, wide: float, deep: float, high: float) -> None:
    """Add a box, half as wide and deep as given, turned a little."""
    aside, back = 0.4 * deep, TILT * 1.5 * deep
    left, right = -wide - aside / 2, wide - aside / 2
    s.figure([(left, back), (right, back), (right, back + high), (left, back + high)], fill=SIDE)
    s.figure([(left, back), (right, back), (right + aside, -back), (left + aside, -back)])
    s.figure([(right, back), (right + aside, -back), (right + aside, high - back), (right, back + high)], fill=SHADE)


def element(s: Sketch, b: Body) -> None:
    """Draw a pleated filter element."""
    rim = max(0.8, 0.12 * b.high)
    s.tube(b.high - rim, b.radius, rim)
    s.tube(rim / 2, 0.92 * b.radius, b.high - rim)
    for k in range(1, 18):
        x, y = flat(0, 0.92 * b.radius, math.pi * k / 18)
        s.line([(x, y + rim), (x, y + b.high - rim / 2)], weight=FINE)
    s.tube(0, b.radius, rim)
    s.hole(0, min(b.hole, 0.7 * b.radius) or 0.4 * b.radius, b.high)


def strainer(s: Sketch, b: Body) -> None:
    """Draw a strainer."""
    s.tube(0, b.radius, b.high, 0.8 * b.radius)
    for k in range(1, 14):
        x, y = flat(0, b.radius, math.pi * k / 14)
        s.line([(x, y), (x, y + b.high)], weight=FINE)
    for k in range(1, 4):
        down = b.high * k / 4
        s.line([flat(down, b.radius, math.pi * part / 16) for part in range(17)], weight=FINE)


def ball(s: Sketch, b: Body) -> None:
    """Draw a ball."""
    s.ellipse((0, 0), b.radius, b.radius, fill=SIDE)
    s.ellipse((-0.35 * b.radius, -0.35 * b.radius), 0.25 * b.radius, 0.2 * b.radius, weight=0)


def _hexagon(s: Sketch, radius: float, high: float, y: float = 0) -> None:
    s.pressed([flat(y, radius, turn) for turn in _CORNERS], high, edges=True)


def _shank(s: Sketch, radius: float, y: float, end: float, plain: float) -> None:
    """Add a shank with its thread from `plain` to the end."""
    s.tube(y, radius, end - y)
    down = plain + 0.5
    while down < end - 0.1:
        s.line([flat(down, radius, math.pi * part / 8) for part in range(9)], weight=0.2)
        down += 0.75


def bolt(s: Sketch, b: Body) -> None:
    """Draw a hexagon bolt."""
    head = 0.62 * b.radius
    _shank(s, 0.56 * b.radius, head, b.high, head + 0.25 * (b.high - head))
    _hexagon(s, b.radius, head)
    s.ellipse((0, 0), 0.78 * b.radius, weight=FINE)


def screw(s: Sketch, b: Body) -> None:
    """Draw a slotted screw."""
    head = 0.6 * b.radius
    _shank(s, 0.5 * b.radius, head, b.high, head)
    s.tube(0, b.radius, head)
    s.line([(-0.6 * b.radius, 0.1 * b.radius), (0.6 * b.radius, -0.1 * b.radius)], weight=0.6)


def stud(s: Sketch, b: Body) -> None:
    """Draw a stud."""
    _shank(s, b.radius, 0, b.high, 0)


def nut(s: Sketch, b: Body) -> None:
    """Draw a hexagon nut."""
    _hexagon(s, b.radius, b.high)
    s.hole(0, min(b.hole, 0.66 * b.radius) or 0.52 * b.radius, b.high)
