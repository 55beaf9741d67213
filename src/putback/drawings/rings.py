"""Flat and round parts: washers, rings, seals, gaskets, plates, wheels, springs."""

from __future__ import annotations

import math

from putback.drawings.canvas import FINE, INK, PAPER
from putback.drawings.sketch import RUBBER, SHADE, SIDE, Body, Sketch, flat, outline


def tube(s: Sketch, b: Body) -> None:
    """Draw what was turned and has a straight hole."""
    s.tube(0, b.radius, b.high, b.hole)


def wave_washer(s: Sketch, b: Body) -> None:
    """Draw a wave washer."""
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


def spring_washer(s: Sketch, b: Body) -> None:
    """Draw a spring washer."""
    turns = [math.tau * (0.33 + 0.94 * k / 40) for k in range(41)]
    rise = 0.22 * b.radius

    def edge(radius: float, down: float) -> list[tuple[float, float]]:
        return [flat(down + rise * (k / 40 - 0.5), radius, turn) for k, turn in enumerate(turns)]

    for down, fill in ((b.high, SIDE), (0.0, PAPER)):
        s.figure(edge(b.radius, down) + edge(b.hole, down)[::-1], fill=fill)


def o_ring(s: Sketch, b: Body) -> None:
    """Draw an O-ring."""
    thick = min(max(b.radius - b.hole, 1.1), 0.3 * b.radius)
    s.ellipse((0, 0), b.radius - thick / 2, fill="none", weight=thick)
    s.ellipse((0, 0), b.radius - thick / 2, fill="none", stroke=RUBBER, weight=thick - 0.6)


def seal(s: Sketch, b: Body) -> None:
    """Draw a shaft seal."""
    s.tube(0, b.radius, b.high)
    s.ellipse((0, 0), 0.78 * b.radius, fill=RUBBER, weight=FINE)
    s.hole(0, min(b.hole, 0.62 * b.radius), b.high)


def grommet(s: Sketch, b: Body) -> None:
    """Draw a rubber grommet."""
    third = b.high / 3
    s.tube(2 * third, b.radius, third, side=RUBBER, top=RUBBER)
    s.tube(third, 0.78 * b.radius, third, side=SHADE, top=RUBBER)
    s.tube(0, b.radius, third, side=RUBBER, top=SHADE)
    s.hole(0, b.hole, b.high)


def circlip(s: Sketch, b: Body) -> None:
    """Draw a circlip with its two eyes."""
    first, last = 0.25 * math.pi + 0.35, 0.25 * math.pi + math.tau - 0.35
    turns = [first + (last - first) * k / 40 for k in range(41)]
    for down, fill in ((b.high, SIDE), (0.0, PAPER)):
        ring = [flat(down, b.radius, turn) for turn in turns] + [flat(down, b.hole, turn) for turn in turns[::-1]]
        s.figure(ring, fill=fill)
    for turn in (first, last):
        x, y = flat(0, (b.radius + b.hole) / 2, turn)
        s.ellipse((x, y), 0.16 * b.radius, weight=FINE)
        s.ellipse((x, y), 0.07 * b.radius, fill=INK, weight=0)


def ears(y: float, radius: float, number: int = 4, neck: float = 0.84) -> list[tuple[float, float]]:
    """Return the outline of a flange with ears for its screws."""
    turned = math.pi / number

    def reach(turn: float) -> float:
        return radius * (neck + (1 - neck) * max(0.0, math.cos(number * (turn - turned))) ** 2)

    return outline(y, reach)


def screw_holes(s: Sketch, radius: float, number: int = 4, y: float = 0) -> None:
    """Draw holes for screws, on a circle."""
    for k in range(number):
        s.ellipse(flat(y, radius, math.tau * (k + 0.5) / number), 0.06 * radius + 0.15, weight=FINE)


def gasket(s: Sketch, b: Body) -> None:
    """Draw a flat gasket with ears."""
    s.pressed(ears(0, b.radius), b.high, side=SIDE, top=SHADE)
    hole = min(b.hole, 0.76 * b.radius)
    s.ellipse((0, 0), hole, weight=FINE)
    screw_holes(s, 0.87 * b.radius)


def plate(s: Sketch, b: Body) -> None:
    """Draw a round plate with holes for screws."""
    s.tube(0, b.radius, b.high)
    screw_holes(s, 0.82 * b.radius)
    if b.hole:
        s.hole(0, min(b.hole, 0.66 * b.radius), b.high)


def diaphragm(s: Sketch, b: Body) -> None:
    """Draw a diaphragm."""
    s.pressed(ears(0, b.radius, 6, 0.93), b.high, top=SHADE)
    s.ellipse((0, 0), 0.68 * b.radius, fill=SIDE, weight=FINE)
    s.tube(-0.1 * b.radius, 0.36 * b.radius, 0.1 * b.radius, b.hole and 0.12 * b.radius)
    screw_holes(s, 0.86 * b.radius, 6)


def gear(s: Sketch, b: Body) -> None:
    """Draw a toothed wheel."""
    teeth = 18
    ring = [
        flat(0, b.radius * (1 if part in (0, 1) else 0.86), math.tau * (k + (0.12, 0.38, 0.58, 0.92)[part]) / teeth)
        for k in range(teeth)
        for part in range(4)
    ]
    s.pressed(ring, b.high, edges=True)
    s.ellipse((0, 0), 0.7 * b.radius, weight=FINE)
    s.hole(0, min(b.hole, 0.6 * b.radius), b.high)


def pulley(s: Sketch, b: Body) -> None:
    """Draw a pulley."""
    third = b.high / 3
    s.tube(2 * third, b.radius, third)
    s.tube(third, 0.76 * b.radius, third, side=SHADE)
    s.tube(0, b.radius, third, b.hole)


def bearing(s: Sketch, b: Body) -> None:
    """Draw a ball bearing."""
    s.tube(0, b.radius, b.high)
    hole = min(b.hole, 0.5 * b.radius)
    middle = (0.86 * b.radius + hole * 1.24) / 2
    s.ellipse((0, 0), 0.84 * b.radius, fill=SHADE, weight=FINE)
    ball = 0.13 * b.radius
    for k in range(10):
        s.ellipse(flat(0, middle, math.tau * k / 10), ball, 0.55 * ball, weight=FINE)
    s.ellipse((0, 0), hole * 1.28, weight=FINE)
    s.hole(0, hole, b.high)


def spring(s: Sketch, b: Body) -> None:
    """Draw a coil spring."""
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
