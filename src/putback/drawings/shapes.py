"""What parts of each shape look like: simple, and told apart at a glance."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from putback.drawings.canvas import FINE, INK, PAPER
from putback.drawings.sketch import RUBBER, SHADE, SIDE, TILT, Sketch, flat, outline
from putback.model.forms import PartShape

_CORNERS = [math.tau * (k + 0.5) / 6 for k in range(6)]


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


@dataclass(frozen=True, slots=True)
class _Look:
    """How a shape is drawn, and how large it is when nobody says."""

    draw: Callable[[Sketch, Body], None]
    """Draws it."""
    radius: float
    """Its radius in parts of the largest one."""
    hole: float
    """The radius of its hole in parts of its own radius; 0 for none."""
    high: float
    """Its thickness in parts of the radius of the largest one."""
    least: float = 0.7
    """The least thickness that can be drawn, mm."""


def sketch_of(body: Body) -> Sketch:
    """Return what a part looks like."""
    sketch = Sketch()
    LOOKS[body.shape].draw(sketch, body)
    return sketch


def _tube(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high, b.hole)


def _wave_washer(s: Sketch, b: Body) -> None:
    lift, hole = min(0.8, 0.12 * b.radius), max(b.hole, 0.56 * b.radius)
    turns = [math.tau * k / 72 for k in range(73)]

    def edge(radius: float, down: float = 0) -> list[tuple[float, float]]:
        # Seen from higher up than other parts, or nobody would see its waves.
        return [
            (radius * math.cos(turn), down + 0.36 * radius * math.sin(turn) - lift * math.sin(3 * turn))
            for turn in turns
        ]

    for down, fill in ((max(b.high, 0.6), SIDE), (0.0, PAPER)):
        s.figure(edge(b.radius, down) + edge(hole, down)[::-1], fill=fill, stroke=fill, weight=0.05)
        s.figure(edge(b.radius, down), fill="none")
        s.figure(edge(hole, down), fill="none", weight=FINE)


def _spring_washer(s: Sketch, b: Body) -> None:
    turns = [math.tau * (0.33 + 0.94 * k / 40) for k in range(41)]
    rise = 0.22 * b.radius

    def edge(radius: float, down: float) -> list[tuple[float, float]]:
        return [flat(down + rise * (k / 40 - 0.5), radius, turn) for k, turn in enumerate(turns)]

    for down, fill in ((b.high, SIDE), (0.0, PAPER)):
        s.figure(edge(b.radius, down) + edge(b.hole, down)[::-1], fill=fill)


def _o_ring(s: Sketch, b: Body) -> None:
    thick = min(max(b.radius - b.hole, 1.1), 0.3 * b.radius)
    s.ellipse((0, 0), b.radius - thick / 2, fill="none", weight=thick)
    s.ellipse((0, 0), b.radius - thick / 2, fill="none", stroke=RUBBER, weight=thick - 0.6)


def _seal(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high)
    s.ellipse((0, 0), 0.78 * b.radius, fill=RUBBER, weight=FINE)
    s.hole(0, min(b.hole, 0.62 * b.radius), b.high)


def _grommet(s: Sketch, b: Body) -> None:
    third = b.high / 3
    s.tube(2 * third, b.radius, third, side=RUBBER, top=RUBBER)
    s.tube(third, 0.78 * b.radius, third, side=SHADE, top=RUBBER)
    s.tube(0, b.radius, third, side=RUBBER, top=SHADE)
    s.hole(0, b.hole, b.high)


def _circlip(s: Sketch, b: Body) -> None:
    first, last = 0.25 * math.pi + 0.35, 0.25 * math.pi + math.tau - 0.35
    turns = [first + (last - first) * k / 40 for k in range(41)]
    for down, fill in ((b.high, SIDE), (0.0, PAPER)):
        ring = [flat(down, b.radius, turn) for turn in turns] + [flat(down, b.hole, turn) for turn in turns[::-1]]
        s.figure(ring, fill=fill)
    for turn in (first, last):
        x, y = flat(0, (b.radius + b.hole) / 2, turn)
        s.ellipse((x, y), 0.16 * b.radius, weight=FINE)
        s.ellipse((x, y), 0.07 * b.radius, fill=INK, weight=0)


def _ears(y: float, radius: float, number: int = 4, neck: float = 0.84) -> list[tuple[float, float]]:
    """Return the outline of a flange with ears for its screws."""
    turned = math.pi / number

    def reach(turn: float) -> float:
        return radius * (neck + (1 - neck) * max(0.0, math.cos(number * (turn - turned))) ** 2)

    return outline(y, reach)


def _screw_holes(s: Sketch, radius: float, number: int = 4, y: float = 0) -> None:
    for k in range(number):
        s.ellipse(flat(y, radius, math.tau * (k + 0.5) / number), 0.06 * radius + 0.15, weight=FINE)


def _gasket(s: Sketch, b: Body) -> None:
    s.pressed(_ears(0, b.radius), b.high, side=SIDE, top=SHADE)
    hole = min(b.hole, 0.76 * b.radius)
    s.ellipse((0, 0), hole, weight=FINE)
    _screw_holes(s, 0.87 * b.radius)


def _plate(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high)
    _screw_holes(s, 0.82 * b.radius)
    if b.hole:
        s.hole(0, min(b.hole, 0.66 * b.radius), b.high)


def _diaphragm(s: Sketch, b: Body) -> None:
    s.pressed(_ears(0, b.radius, 6, 0.93), b.high, top=SHADE)
    s.ellipse((0, 0), 0.68 * b.radius, fill=SIDE, weight=FINE)
    s.tube(-0.1 * b.radius, 0.36 * b.radius, 0.1 * b.radius, b.hole and 0.12 * b.radius)
    _screw_holes(s, 0.86 * b.radius, 6)


def _flanged(s: Sketch, b: Body, neck: float) -> None:
    flange = max(0.9, 0.18 * b.high)
    s.pressed(_ears(b.high - flange, b.radius), flange)
    _screw_holes(s, 0.9 * b.radius, y=b.high - flange)
    s.tube(0, neck * b.radius, b.high - flange)


def _cover(s: Sketch, b: Body) -> None:
    _flanged(s, b, 0.62)
    s.ellipse((0, 0), 0.44 * b.radius, weight=FINE)


def _housing(s: Sketch, b: Body) -> None:
    _flanged(s, b, 0.68)
    s.hole(0, min(b.hole, 0.5 * b.radius) or 0.24 * b.radius, b.high)


def _cap(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high)
    for k in range(1, 12):
        x, y = flat(0, b.radius, math.pi * k / 12)
        s.line([(x, y + 0.2 * b.high), (x, y + 0.9 * b.high)], weight=FINE)
    s.ellipse((0, 0), 0.72 * b.radius, weight=FINE)


def _bowl(s: Sketch, b: Body) -> None:
    wall, low = 0.86 * b.radius, 0.6 * b.radius
    s.tube(0.55 * b.high, low, 0.45 * b.high)
    sides = [flat(0.2 * b.high, wall, turn * math.pi / 16) for turn in range(17)]
    s.figure(
        [*sides, (-wall, 0.7 * b.high), *(flat(0.86 * b.high, low, turn * math.pi / 16) for turn in range(16, -1, -1))],
        fill=SIDE,
    )
    s.tube(0, b.radius, max(0.9, 0.18 * b.high), 0.8 * b.radius)


def _gear(s: Sketch, b: Body) -> None:
    teeth = 18
    ring = [
        flat(0, b.radius * (1 if part in (0, 1) else 0.86), math.tau * (k + (0.12, 0.38, 0.58, 0.92)[part]) / teeth)
        for k in range(teeth)
        for part in range(4)
    ]
    s.pressed(ring, b.high, edges=True)
    s.ellipse((0, 0), 0.7 * b.radius, weight=FINE)
    s.hole(0, min(b.hole, 0.6 * b.radius), b.high)


def _pulley(s: Sketch, b: Body) -> None:
    third = b.high / 3
    s.tube(2 * third, b.radius, third)
    s.tube(third, 0.76 * b.radius, third, side=SHADE)
    s.tube(0, b.radius, third, b.hole)


def _bearing(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high)
    hole = min(b.hole, 0.5 * b.radius)
    middle = (0.86 * b.radius + hole * 1.24) / 2
    s.ellipse((0, 0), 0.84 * b.radius, fill=SHADE, weight=FINE)
    ball = 0.13 * b.radius
    for k in range(10):
        s.ellipse(flat(0, middle, math.tau * k / 10), ball, 0.55 * ball, weight=FINE)
    s.ellipse((0, 0), hole * 1.28, weight=FINE)
    s.hole(0, hole, b.high)


def _spring(s: Sketch, b: Body) -> None:
    coils = 4
    wire = max(0.9, 0.09 * b.radius)
    pitch = (b.high - wire) / coils

    def coil(k: int, start: float) -> list[tuple[float, float]]:
        turns = [start + math.pi * each / 24 for each in range(25)]
        return [flat(pitch * (k + turn / math.tau), b.radius - wire / 2, turn) for turn in turns]

    for start in (math.pi, 0.0):  # what is behind, then what is in front, the lowest first
        for k in reversed(range(coils)):
            s.line(coil(k, start), weight=wire)
            s.line(coil(k, start), stroke=PAPER if start == 0 else SIDE, weight=wire - 0.5)


def _impeller(s: Sketch, b: Body) -> None:
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


def _propeller(s: Sketch, b: Body) -> None:
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


def _key(s: Sketch, b: Body) -> None:
    _cuboid(s, b.radius, max(0.4 * b.radius, 0.9), max(b.high, 1.2))


def _block(s: Sketch, b: Body) -> None:
    _cuboid(s, 0.72 * b.radius, 0.72 * b.radius, b.high)


def _cuboid(s: Sketch, wide: float, deep: float, high: float) -> None:
    """Add a box, half as wide and deep as given, turned a little."""
    aside, back = 0.4 * deep, TILT * 1.5 * deep
    left, right = -wide - aside / 2, wide - aside / 2
    s.figure([(left, back), (right, back), (right, back + high), (left, back + high)], fill=SIDE)
    s.figure([(left, back), (right, back), (right + aside, -back), (left + aside, -back)])
    s.figure([(right, back), (right + aside, -back), (right + aside, high - back), (right, back + high)], fill=SHADE)


def _element(s: Sketch, b: Body) -> None:
    rim = max(0.8, 0.12 * b.high)
    s.tube(b.high - rim, b.radius, rim)
    s.tube(rim / 2, 0.92 * b.radius, b.high - rim)
    for k in range(1, 18):
        x, y = flat(0, 0.92 * b.radius, math.pi * k / 18)
        s.line([(x, y + rim), (x, y + b.high - rim / 2)], weight=FINE)
    s.tube(0, b.radius, rim)
    s.hole(0, min(b.hole, 0.7 * b.radius) or 0.4 * b.radius, b.high)


def _strainer(s: Sketch, b: Body) -> None:
    s.tube(0, b.radius, b.high, 0.8 * b.radius)
    for k in range(1, 14):
        x, y = flat(0, b.radius, math.pi * k / 14)
        s.line([(x, y), (x, y + b.high)], weight=FINE)
    for k in range(1, 4):
        down = b.high * k / 4
        s.line([flat(down, b.radius, math.pi * part / 16) for part in range(17)], weight=FINE)


def _ball(s: Sketch, b: Body) -> None:
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


def _bolt(s: Sketch, b: Body) -> None:
    head = 0.62 * b.radius
    _shank(s, 0.56 * b.radius, head, b.high, head + 0.25 * (b.high - head))
    _hexagon(s, b.radius, head)
    s.ellipse((0, 0), 0.78 * b.radius, weight=FINE)


def _screw(s: Sketch, b: Body) -> None:
    head = 0.6 * b.radius
    _shank(s, 0.5 * b.radius, head, b.high, head)
    s.tube(0, b.radius, head)
    s.line([(-0.6 * b.radius, 0.1 * b.radius), (0.6 * b.radius, -0.1 * b.radius)], weight=0.6)


def _stud(s: Sketch, b: Body) -> None:
    _shank(s, b.radius, 0, b.high, 0)


def _nut(s: Sketch, b: Body) -> None:
    _hexagon(s, b.radius, b.high)
    s.hole(0, min(b.hole, 0.66 * b.radius) or 0.52 * b.radius, b.high)


LOOKS: dict[PartShape, _Look] = {
    PartShape.BALL: _Look(_ball, 0.22, 0, 0.4),
    PartShape.BEARING: _Look(_bearing, 0.6, 0.42, 0.22, 1.6),
    PartShape.BLOCK: _Look(_block, 0.8, 0, 0.3, 1.5),
    PartShape.BOLT: _Look(_bolt, 0.17, 0, 0.55, 3.2),
    PartShape.BOWL: _Look(_bowl, 0.75, 0, 0.6, 4),
    PartShape.BUSH: _Look(_tube, 0.34, 0.72, 0.34, 1.5),
    PartShape.CAP: _Look(_cap, 0.6, 0, 0.36, 2),
    PartShape.CIRCLIP: _Look(_circlip, 0.5, 0.82, 0.04),
    PartShape.COLLAR: _Look(_tube, 0.4, 0.5, 0.2, 1.2),
    PartShape.COVER: _Look(_cover, 1, 0, 0.3, 2.4),
    PartShape.DIAPHRAGM: _Look(_diaphragm, 0.9, 0, 0.04),
    PartShape.DISC: _Look(_tube, 0.8, 0.3, 0.12, 1),
    PartShape.ELEMENT: _Look(_element, 0.6, 0.5, 0.7, 4),
    PartShape.GASKET: _Look(_gasket, 1, 0.66, 0.03, 0.5),
    PartShape.GEAR: _Look(_gear, 0.75, 0.3, 0.2, 1.2),
    PartShape.GROMMET: _Look(_grommet, 0.4, 0.5, 0.36, 2.4),
    PartShape.HOUSING: _Look(_housing, 1, 0.3, 0.5, 3.5),
    PartShape.IMPELLER: _Look(_impeller, 0.72, 0.18, 0.32, 1.8),
    PartShape.KEY: _Look(_key, 0.14, 0, 0.08, 1.2),
    PartShape.LINER: _Look(_tube, 0.66, 0.86, 0.42, 2),
    PartShape.NUT: _Look(_nut, 0.2, 0.5, 0.16, 1.5),
    PartShape.O_RING: _Look(_o_ring, 0.62, 0.86, 0.06),
    PartShape.PIN: _Look(_tube, 0.09, 0, 0.5, 2.5),
    PartShape.PLATE: _Look(_plate, 1, 0.24, 0.05),
    PartShape.PROPELLER: _Look(_propeller, 1, 0.12, 0.34, 2.4),
    PartShape.PULLEY: _Look(_pulley, 0.8, 0.2, 0.3, 2.4),
    PartShape.RING: _Look(_tube, 0.6, 0.8, 0.12, 0.9),
    PartShape.ROD: _Look(_tube, 0.1, 0, 0.6, 3),
    PartShape.SCREW: _Look(_screw, 0.15, 0, 0.45, 2.8),
    PartShape.SEAL: _Look(_seal, 0.5, 0.5, 0.18, 1.4),
    PartShape.SHAFT: _Look(_tube, 0.16, 0, 0.7, 4),
    PartShape.SPACER: _Look(_tube, 0.36, 0.6, 0.3, 1.4),
    PartShape.SPRING: _Look(_spring, 0.4, 0, 0.7, 5),
    PartShape.SPRING_WASHER: _Look(_spring_washer, 0.36, 0.6, 0.06),
    PartShape.STRAINER: _Look(_strainer, 0.6, 0, 0.5, 3),
    PartShape.STUD: _Look(_stud, 0.09, 0, 0.6, 3),
    PartShape.WASHER: _Look(_tube, 0.42, 0.48, 0.05),
    PartShape.WAVE_WASHER: _Look(_wave_washer, 0.42, 0.48, 0.04, 0.5),
}
"""Every shape; sizes that nobody gave are guesses of ours, made to look right."""
