"""Controls with their positions: a lever, a knob, a switch, a tap, a pull; the one to set is black and bold."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from putback.drawings.canvas import FINE, INK, LIGHT, PAPER, STRONG, USUAL, Canvas, Point, around, width_of
from putback.words.drawn import DrawnSaid

SIZE = 3.0
"""Size of type, mm."""
ROW = 3.8
"""From one line of type to the next, mm."""
MOST = 6
"""Positions beyond which names would lie on each other."""
EDGE = 0.8
FACE = 9.0
"""Width of one picture of a tap or pull, mm."""


class DrawnPosition(NamedTuple):
    """One position of a control."""

    name: str
    """What it is called."""
    along: bool = False
    """Of a tap: whether its handle lies along the pipe."""


_Draws = Callable[[Canvas, Point, list[float], int], None]


def control_drawing(looks: str, positions: Sequence[DrawnPosition], chosen: int, said: DrawnSaid) -> str:
    """Return a control as the text of a standalone SVG; `chosen` is the position to set, from 0.

    Raises ValueError for looks that are not known, and for a position that there is not.
    """
    if looks not in LOOKS or not 0 <= chosen < len(positions):
        raise ValueError(f"a '{looks}' with position {chosen} of {len(positions)} cannot be drawn")
    return LOOKS[looks](list(positions), chosen).svg(said.label, said.description)


def _lever(positions: list[DrawnPosition], chosen: int) -> Canvas:
    """Stand the lever on its pivot, the positions round it from the left."""
    angles = _fan(len(positions), 50.0)
    return _round(positions, chosen, angles, _draw_lever, 3.4)


def _rotary(positions: list[DrawnPosition], chosen: int) -> Canvas:
    """Look at the knob from the front, the positions round it clockwise."""
    angles = _fan(len(positions), 60.0 if len(positions) < 4 else 110.0)
    return _round(positions, chosen, angles, _draw_knob, 4.8)


def _fan(count: int, half: float) -> list[float]:
    """Return even angles from the left to the right, ° from straight up."""
    return [-half + 2 * half * number / max(count - 1, 1) for number in range(count)]


def _out(angle: float, distance: float) -> Point:
    return distance * math.sin(math.radians(angle)), -distance * math.cos(math.radians(angle))


def _round(
    positions: list[DrawnPosition],
    chosen: int,
    angles: list[float],
    draw: _Draws,
    foot: float,
) -> Canvas:
    """Draw something with its positions round it, each with its name outside; `foot` is how far down it goes, mm."""
    reach = 8.6
    boxes = []
    for number, (position, angle) in enumerate(zip(positions, angles, strict=True)):
        x, y = _out(angle, reach)
        wide = width_of(position.name, SIZE, bold=number == chosen)
        left = x - wide * (0.5 - 0.5 * math.sin(math.radians(angle)) / math.sin(math.radians(max(abs(angles[0]), 1))))
        boxes.append([left, y, wide])
    _clear(boxes, angles)
    corners = [(left, y - SIZE) for left, y, _ in boxes] + [(left + wide, y + SIZE / 3) for left, y, wide in boxes]
    left, top, right, bottom = around([*corners, (-6.0, -6.0), (6.0, foot)])
    canvas = Canvas(right - left + 2 * EDGE, bottom - top + 2 * EDGE)
    middle = EDGE - left, EDGE - top
    draw(canvas, middle, angles, chosen)
    for number, (x, y, _) in enumerate(boxes):
        canvas.words(
            (middle[0] + x, middle[1] + y), positions[number].name, SIZE, bold=number == chosen, kind="position"
        )
    return canvas


def _clear(boxes: list[list[float]], angles: list[float]) -> None:
    """Lift names that would lie on others, those nearest to the top last: left, base line and width of each."""
    done: list[list[float]] = []
    for number in sorted(range(len(boxes)), key=lambda each: -abs(angles[each])):
        box = boxes[number]
        while hit := [other for other in done if _touch(box, other)]:
            box[1] = min(other[1] for other in hit) - ROW
        done.append(box)


def _touch(one: list[float], other: list[float]) -> bool:
    beside = one[0] > other[0] + other[2] + 0.8 or other[0] > one[0] + one[2] + 0.8
    return not beside and abs(one[1] - other[1]) < ROW - 0.01


def _draw_lever(canvas: Canvas, middle: Point, angles: list[float], chosen: int) -> None:
    x, y = middle
    for number, angle in enumerate(angles):
        for weight, stroke in ((1.7, INK), (1.7 - 2 * FINE, PAPER)) if number != chosen else ():
            end = _out(angle, 6.0)
            canvas.line([middle, (x + end[0], y + end[1])], weight=weight, stroke=stroke)
    end = _out(angles[chosen], 6.0)
    canvas.line([middle, (x + end[0], y + end[1])], weight=1.7, kind="chosen")
    canvas.circle((x + end[0], y + end[1]), 1.3, fill=INK, weight=USUAL)
    canvas.box((x - 3.8, y), 7.6, 3.0, fill=LIGHT, weight=USUAL)
    canvas.circle(middle, 1.2, weight=USUAL)


def _draw_knob(canvas: Canvas, middle: Point, angles: list[float], chosen: int) -> None:
    x, y = middle
    canvas.circle(middle, 4.4, weight=STRONG)
    for angle in angles:
        (a, b), (c, d) = _out(angle, 5.2), _out(angle, 6.8)
        canvas.line([(x + a, y + b), (x + c, y + d)], weight=USUAL)
    (a, b), (c, d) = _out(angles[chosen], -2.8), _out(angles[chosen], 4.0)
    canvas.line([(x + a, y + b), (x + c, y + d)], weight=1.4, kind="chosen")


def _switch(positions: list[DrawnPosition], chosen: int) -> Canvas:
    """Look at the switch: the side that is pressed is black."""
    high = 5.2
    wide = max(width_of(each.name, SIZE, bold=number == chosen) for number, each in enumerate(positions))
    canvas = Canvas(2 * EDGE + 6.0 + 1.6 + wide, 2 * EDGE + high * len(positions))
    for number, each in enumerate(positions):
        top = EDGE + high * number
        fill, kind = (INK, "chosen") if number == chosen else (PAPER, "")
        canvas.box((EDGE, top), 6.0, high, fill=fill, weight=STRONG, kind=kind)
        base = top + high / 2 + 0.34 * SIZE
        canvas.words((EDGE + 7.6, base), each.name, SIZE, bold=number == chosen, kind="position")
    return canvas


def _beside(
    positions: list[DrawnPosition], chosen: int, draw: Callable[[Canvas, Point, DrawnPosition, float], None]
) -> Canvas:
    """Draw a picture for each position beside each other, the one to set in a frame."""
    wides = [max(width_of(each.name, SIZE, bold=True) + 2, FACE) for each in positions]
    high = 8.4
    canvas = Canvas(2 * EDGE + sum(wides) + 1.6 * (len(wides) - 1), 2 * EDGE + high + 3.6)
    x = EDGE
    for number, (each, wide) in enumerate(zip(positions, wides, strict=True)):
        if number == chosen:
            canvas.box((x, EDGE), wide, high + 3.6, weight=STRONG, kind="chosen", radius=0.8)
        middle = x + wide / 2
        draw(canvas, (middle, EDGE + high / 2), each, number / max(len(positions) - 1, 1))
        canvas.words(
            (middle, EDGE + high + 2.6), each.name, SIZE, bold=number == chosen, anchor="middle", kind="position"
        )
        x += wide + 1.6
    return canvas


def _tap(positions: list[DrawnPosition], chosen: int) -> Canvas:
    """Look at the tap from the side of its handle: along the pipe it is open, across it is closed."""
    return _beside(positions, chosen, _draw_tap)


def _draw_tap(canvas: Canvas, middle: Point, position: DrawnPosition, out: float) -> None:
    del out
    x, y = middle
    canvas.box((x - 3.8, y - 1.1), 7.6, 2.2, fill=LIGHT, weight=USUAL)
    canvas.circle(middle, 1.9, weight=USUAL)
    along = (1.0, 0.0) if position.along else (0.0, 1.0)
    canvas.line([(x - along[0], y - along[1]), (x + 3.8 * along[0], y + 3.8 * along[1])], weight=1.4)
    canvas.circle(middle, 0.5, weight=FINE)


def _pull(positions: list[DrawnPosition], chosen: int) -> Canvas:
    """Look at the knob from the side, out of its panel further in each position."""
    return _beside(positions, chosen, _draw_pull)


def _draw_pull(canvas: Canvas, middle: Point, position: DrawnPosition, out: float) -> None:
    del position
    x, y = middle
    stem = x - 1.0 + 3.0 * out
    canvas.box((x - 3.8, y - 3.6), 1.2, 7.2, fill=LIGHT, weight=USUAL)
    canvas.line([(x - 2.6, y), (stem, y)], weight=1.1)
    canvas.box((stem, y - 2.1), 1.6, 4.2, fill=INK, weight=USUAL, radius=0.7)


LOOKS: Mapping[str, Callable[[list[DrawnPosition], int], Canvas]] = {
    "lever": _lever,
    "rotary": _rotary,
    "switch": _switch,
    "tap": _tap,
    "pull": _pull,
}
"""What is known how to draw."""
