"""The way in: what comes off before a thing, in boxes, the first on top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from putback.drawings.canvas import STRONG, USUAL, Canvas, Point, wrapped
from putback.drawings.layers import Layers, layered, reduced, spread

WIDEST = 104.0
"""Width that boxes are made to fit, mm: on a telephone the type is then as large as that of the page."""
BOXES = (25.0, 66.0)
"""Least and greatest width of a box, mm."""
SIZE = 3.1
"""Size of type, mm."""
LINE = 3.8
"""From one line of type to the next, mm."""
INSET = 1.4
HANG = 2.4
"""By how much the second line of what takes several begins further to the right, mm."""
GAP = 4.0
"""Between boxes beside each other, mm."""
BEND = 2.0
"""Room of a line that passes between boxes, mm."""
FALL = 6.5
"""From a layer to the next, mm."""
MARGIN = 0.8


class OffRow(NamedTuple):
    """One line of a box: what comes off."""

    words: str
    """What it is, and in which variants."""
    bold: bool = False
    """Whether it is a part; what holds it stands above it."""


class WayBox(NamedTuple):
    """What comes off together, from the top down."""

    rows: tuple[OffRow, ...]
    """What comes off, the first on top."""
    after: tuple[int, ...] = ()
    """Numbers of the boxes that come off before it."""


def way_in_drawing(boxes: Sequence[WayBox], *, label: str, words: str) -> str:
    """Return the way in as the text of a standalone SVG; the last box is what is reached.

    `label` is the title, and `words` say what is to be seen. Raises ValueError for no boxes.
    """
    if not boxes:
        raise ValueError("there is no box to draw")
    edges = reduced((outer, number) for number, box in enumerate(boxes) for outer in box.after)
    layers = layered(len(boxes), edges)
    wide = {box: width if box < len(boxes) else BEND for row, width in _widths(layers, len(boxes)) for box in row}
    texts = [list(_lines(box, wide[number] - 2 * INSET)) for number, box in enumerate(boxes)]
    high = [len(lines) * LINE + 2 * INSET for lines in texts]
    x = spread(layers.rows, layers.links, wide, GAP)
    left = min(x[box] - wide[box] / 2 for box in x) - MARGIN
    right = max(x[box] + wide[box] / 2 for box in x) + MARGIN
    tops = [MARGIN]
    for row in layers.rows:
        tops.append(tops[-1] + max((high[box] for box in row if box < len(boxes)), default=0.0) + FALL)
    canvas = Canvas(right - left, tops[-1] - FALL + MARGIN)
    places = {box: (x[box] - left, tops[level]) for level, row in enumerate(layers.rows) for box in row}
    _joined(canvas, layers, places, tops, high)
    for number, lines in enumerate(texts):
        _box(canvas, places[number], (wide[number], high[number]), lines, reached=number == len(boxes) - 1)
    return canvas.svg(label, words)


def _widths(layers: Layers, count: int) -> Iterator[tuple[list[int], float]]:
    """Yield each layer with the width of its boxes: as wide as there is room."""
    for row in layers.rows:
        boxes = sum(box < count for box in row)
        room = WIDEST - 2 * MARGIN - GAP * (len(row) - 1) - BEND * (len(row) - boxes)
        yield row, min(max(room / max(boxes, 1), BOXES[0]), BOXES[1])


class _Typed(NamedTuple):
    """A line of type in a box."""

    words: str
    bold: bool
    further: bool
    """Whether the line above it goes on in it."""


def _lines(box: WayBox, width: float) -> Iterator[_Typed]:
    for row in box.rows:
        lines = wrapped(row.words, width, SIZE, bold=row.bold)
        if len(lines) > 1:
            lines = wrapped(row.words, width - HANG, SIZE, bold=row.bold)
        for number, line in enumerate(lines):
            yield _Typed(line, row.bold, number > 0)


def _box(canvas: Canvas, place: Point, size: Point, lines: Sequence[_Typed], *, reached: bool) -> None:
    """Draw a box with its lines; the frame of what is reached is strong."""
    middle, top = place
    wide, high = size
    canvas.box((middle - wide / 2, top), wide, high, weight=STRONG if reached else USUAL, radius=1, kind="box")
    for number, line in enumerate(lines):
        base = top + INSET + LINE * number + 0.76 * LINE
        left = middle - wide / 2 + INSET + HANG * line.further
        canvas.words((left, base), line.words, SIZE, bold=line.bold, kind="row")


def _joined(
    canvas: Canvas, layers: Layers, places: dict[int, Point], tops: Sequence[float], high: Sequence[float]
) -> None:
    """Draw the lines: straight down out of a box, then to the next, with an arrow where one ends at a box."""
    level = {box: number for number, row in enumerate(layers.rows) for box in row}
    ends = _ends(layers, places)
    for pair, path in layers.paths.items():
        points: list[Point] = []
        for one, other in pairwise(path):
            below = tops[level[other]]
            start, end = ends[one, other]
            foot = below - FALL
            points += [
                (start, tops[level[one]] + (high[one] if one < len(high) else 0)),
                (start, foot),
                (end, below - 2.4),
            ]
            if other >= len(high):
                points.append((end, below))
        canvas.line(points, weight=USUAL, kind="line")
        tip = ends[path[-2], path[-1]][1], tops[level[pair[1]]]
        arrow = [tip, (tip[0] - 1.1, tip[1] - 2.4), (tip[0] + 1.1, tip[1] - 2.4)]
        canvas.polygon(arrow, fill="#000", weight=0, kind="arrow")


def _ends(layers: Layers, places: dict[int, Point]) -> dict[tuple[int, int], Point]:
    """Return where each line leaves a box, and arrives at the next, mm from the left.

    Several stand beside each other, in the order of their other ends.
    """
    room = 5.0
    leaving: dict[int, list[int]] = {}
    arriving: dict[int, list[int]] = {}
    for upper, lower in layers.links:
        leaving.setdefault(upper, []).append(lower)
        arriving.setdefault(lower, []).append(upper)

    def along(box: int, other: int, others: list[int]) -> float:
        ordered = sorted(others, key=lambda each: (places[each][0], each))
        step = min(room, 18.0 / len(ordered))
        return places[box][0] + step * (ordered.index(other) - (len(ordered) - 1) / 2)

    return {
        (upper, lower): (along(upper, lower, leaving[upper]), along(lower, upper, arriving[lower]))
        for upper, lower in layers.links
    }
