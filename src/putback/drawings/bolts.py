"""Bolts at true size: drawings to lay a bolt on, with a ruler, and outlines of single pieces.

On paper 1 mm is 1 mm. Pieces lie below each other with the points from which they are measured on one line, which is
the 0 of the ruler: under the head, or at the end of a piece whose head counts. What is longer than the page is wide is
broken, and is said to be.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from putback.drawings.bolt_shapes import BoltShape, NutShape, RingShape, Shape, across, draw_end, draw_side
from putback.drawings.canvas import FINE, LIGHT, Canvas, number, width_of, wrapped
from putback.joints.heads import THIN, HeadForm, head_of, nut_of
from putback.joints.threads import ThreadSystem
from putback.model.fastened import HOLLOW, kind_of
from putback.model.forms import across as mm
from putback.model.machine import Fastener, Part
from putback.model.piece_sizes import PieceSize, piece_sizes
from putback.model.screwed import AlikeParts
from putback.words import Language


class Column(NamedTuple):
    """Where a drawing stands."""

    width: float
    """How wide it may be, mm: what is wider would be drawn smaller."""
    ends: bool
    """Whether there is room for how pieces look from the end."""
    type: float = 3.6
    """Size of type, mm."""
    ruled: float = 3.0
    """Size of the figures of the ruler, mm."""

    @property
    def line(self) -> float:
        """How high a line of words is, mm."""
        return self.type + 0.8

    @property
    def ruler(self) -> float:
        """How high the ruler is, mm."""
        return self.ruled + 4.0

    @property
    def unit(self) -> float:
        """What the unit takes before the ruler, mm."""
        return 2.5 + 1.5 * self.ruled


BOOK, SHEET = Column(144.0, ends=True), Column(72.0, ends=False)
"""The steps of a book, and those of a job sheet in two columns."""
LARGE = Column(144.0, ends=True, type=5.7, ruled=5.7)
"""The steps of a book in large print: 16 point."""
_MARGIN, _GAP = 1.0, 3.0
_STROKE = 0.35
_LEAST_ROOM = 20.0
"""So much of the length of a piece must be seen, mm."""
HIGHEST = 200.0
"""Greatest height of pieces in one drawing, mm: with what is said of it, it has room on a page."""


@dataclass(frozen=True, slots=True)
class SizedRow:
    """A piece in a drawing."""

    shape: Shape
    """What it looks like."""
    name: str
    """What it is."""
    facts: str
    """Its size in words."""


@dataclass(frozen=True, slots=True)
class Outline:
    """The outline of one piece, lying flat, at true size and without words."""

    svg: str
    """The text of a standalone SVG of its own size."""
    width: float
    """mm."""
    height: float
    """mm."""
    place: str
    """Its positions, where pieces of other positions are of another size."""
    alt: str
    """What it is, in words."""


def shape_of(size: PieceSize) -> Shape | None:
    """Return what a piece looks like; None when no size is known, and of what is called by its name only."""
    thing = size.thing
    if isinstance(thing, Part) and thing.size is not None and thing.size.outside is not None:
        inside, thickness = thing.size.inside, thing.size.thickness
        outside = mm(thing.size.outside)
        hole = min(mm(inside), 0.95 * outside) if inside else 0.0
        return RingShape(outside, hole, mm(thickness) if thickness else None)
    if not isinstance(thing, Fastener) or isinstance(thing, AlikeParts) or thing.screw is None:
        return None
    thread, kind = thing.screw, kind_of(thing)
    if thread.system is ThreadSystem.PIPE:
        return None
    if thing.is_nut or kind.endswith("nut"):
        flange = thing.head is HeadForm.HEX_FLANGE or kind == "flange nut"
        return NutShape(thread.diameter, thread.pitch, nut_of(thread, thing.drive, thin=kind in THIN, flange=flange))
    length = size.millimetres
    if length is None or isinstance(thing, Part) or kind in HOLLOW:
        return None
    form = thing.head or _form(kind)
    head = head_of(thread, thing.drive, form=form, screw=kind.endswith("screw"))
    threaded = PieceSize(thing, thing.thread_length).millimetres
    return BoltShape(
        thread.diameter, thread.pitch, length, head, threaded if threaded is not None and threaded < length else None
    )


def _form(kind: str) -> HeadForm | None:
    """Return the form of a head that goes with a kind."""
    if kind in ("stud", "set screw", "grub screw", "adjuster", "adjusting screw", "threaded rod"):
        return HeadForm.NONE
    return {"flange bolt": HeadForm.HEX_FLANGE, "cap screw": None}.get(kind)


def that_fit(shapes: Sequence[Shape], column: Column = BOOK) -> list[bool]:
    """Tell which pieces can be drawn in one drawing: what has no room beside those before it is left out."""
    kept: list[Shape] = []
    found = []
    for shape in shapes:
        together = [*kept, shape]
        room, ends = room_beyond(together, column), has_ends(together, column)
        rings = [each for each in together if isinstance(each, RingShape)]
        least = max([_LEAST_ROOM, *(each.beyond or (0.0 if ends else each.outside) for each in rings)])
        high = sum(across(each) + column.line + 1 + _GAP for each in together)
        found.append(room >= least and high <= HIGHEST)
        kept += [shape] if found[-1] else []
    return found


def room_beyond(shapes: Sequence[Shape], column: Column = BOOK) -> float:
    """Return how long pieces can be drawn beside each other, from the point at which they are measured, mm."""
    return column.width - _zero(shapes, column) - 3 * _MARGIN


def is_broken(shape: Shape, shapes: Sequence[Shape], column: Column = BOOK) -> bool:
    """Tell whether a piece is too long to be drawn at true length beside others."""
    return shape.beyond > room_beyond(shapes, column)


def is_in_full(shape: Shape) -> bool:
    """Tell whether the length of a piece is that of all of it, and not from under a head."""
    return isinstance(shape, BoltShape) and shape.head.form in (HeadForm.NONE, HeadForm.COUNTERSUNK)


def true_size_drawing(rows: Sequence[SizedRow], label: str, description: str, column: Column = BOOK) -> str:
    """Return pieces at true size below each other, with a ruler, as the text of a standalone SVG."""
    shapes = [row.shape for row in rows]
    zero, room, ends = _zero(shapes, column), room_beyond(shapes, column), has_ends(shapes, column)
    whole = [shape.beyond for shape in shapes if shape.beyond <= room]
    ruled = min(10 * math.ceil(max(whole, default=0.0) / 10), 10 * math.floor(room / 10)) if whole else 0
    reach = max([ruled, *(min(shape.beyond or (0 if ends else across(shape)), room) for shape in shapes)])
    size = column.type
    words = max(width_of(row.name, size, bold=True) + 2 + width_of(row.facts, size) for row in rows)
    width = min(column.width, max(zero + reach + 3 * _MARGIN, words + 2 * _MARGIN, 40.0))
    headings = [_heading(row, width, size) for row in rows]
    heights = [
        len(lines) * column.line + 1 + across(row.shape) + _GAP for row, lines in zip(rows, headings, strict=True)
    ]
    canvas = Canvas(width, _MARGIN + sum(heights) + (column.ruler if ruled else 0) + _MARGIN)
    foot = canvas.height - _MARGIN - column.ruler
    level = _MARGIN
    for lines, height in zip(headings, heights, strict=True):
        _guides(canvas, zero, ruled, level + len(lines) * column.line, level + height)
        level += height
    level = _MARGIN
    for row, lines, height in zip(rows, headings, heights, strict=True):
        for k, (name, facts) in enumerate(lines):
            base = level + k * column.line + 0.8 * size
            canvas.words((_MARGIN, base), name, size, bold=True)
            canvas.words((_MARGIN + (width_of(name, size, bold=True) + 2 if name else 0), base), facts, size)
        axis = level + len(lines) * column.line + 1 + across(row.shape) / 2
        if ends:
            draw_end(canvas, row.shape, (_MARGIN + max(map(across, shapes)) / 2, axis))
        elif not row.shape.beyond:
            draw_end(canvas, row.shape, (zero + across(row.shape) / 2, axis))
        draw_side(canvas, row.shape, (zero, axis), room)
        level += height
    if ruled:
        _ruler(canvas, zero, ruled, foot, column.ruled)
    return canvas.svg(label, description)


def has_ends(shapes: Sequence[Shape], column: Column) -> bool:
    """Tell whether there is room for how pieces look from the end: with thick ones, their length comes first."""
    wide = max(map(across, shapes), default=0.0) + _GAP
    before = max((shape.before for shape in shapes), default=0.0)
    return column.ends and column.width - 4 * _MARGIN - wide - before >= 2 * _LEAST_ROOM


def _zero(shapes: Sequence[Shape], column: Column) -> float:
    """Return where pieces are measured from, mm from the left."""
    ends = max(map(across, shapes)) + _GAP if has_ends(shapes, column) else 0.0
    return _MARGIN + max(ends, column.unit) + max(shape.before for shape in shapes)


def _heading(row: SizedRow, width: float, size: float) -> list[tuple[str, str]]:
    """Return what stands above a piece, in lines: its name and its size."""
    room = width - 2 * _MARGIN
    beside = width_of(row.name, size, bold=True) + 2
    if beside + width_of(row.facts, size) <= room:
        return [(row.name, row.facts)]
    names = wrapped(row.name, room, size, bold=True)
    return [*((name, "") for name in names), *(("", facts) for facts in wrapped(row.facts, room, size))]


def _guides(canvas: Canvas, zero: float, ruled: int, top: float, bottom: float) -> None:
    """Draw the lines of the ruler through the room of a piece."""
    for k in range(0, ruled + 1, 10):
        weight = FINE if k == 0 else 0.15
        canvas.line([(zero + k, top), (zero + k, bottom)], stroke=LIGHT, weight=weight, kind="guide")


def _ruler(canvas: Canvas, zero: float, ruled: int, top: float, size: float) -> None:
    canvas.line([(zero, top), (zero + ruled, top)], weight=FINE, kind="ruler")
    for k in range(ruled + 1):
        long = 3.0 if k % 10 == 0 else 2.2 if k % 5 == 0 else 1.3
        canvas.line([(zero + k, top), (zero + k, top + long)], weight=0.15 if k % 10 else FINE, kind="tick")
        if k % 10 == 0:
            canvas.words((zero + k, top + 3.0 + size), str(k), size, anchor="middle")
    # The unit stands before the ruler: after it there may be no room.
    canvas.words((zero - 2.5, top + 3.0 + size), "mm", size, anchor="end")


def outlines(thing: Fastener | Part, words: Language) -> tuple[Outline, ...]:
    """Return the outline of each different piece of a thing, by position; none when no size is known."""
    found = []
    for size in piece_sizes(thing):
        shape = shape_of(size)
        if shape is None:
            continue
        name, facts = words.true_size(((size,),), (False,), (False,)).rows[0]
        alt = f"{name}: {facts}" if facts else name
        high = across(shape) + _STROKE
        lies = isinstance(shape, BoltShape) or (isinstance(shape, RingShape) and shape.beyond > shape.outside)
        wide = shape.before + shape.beyond + _STROKE if lies else high
        canvas = Canvas(*(math.ceil(100 * each - 1e-6) / 100 for each in (wide, high)))
        if lies:
            draw_side(canvas, shape, (shape.before + _STROKE / 2, canvas.height / 2))
        else:
            draw_end(canvas, shape, (canvas.width / 2, canvas.height / 2))
        place = ", ".join(size.positions)
        found.append(
            Outline(canvas.svg(alt, alt), float(number(canvas.width)), float(number(canvas.height)), place, alt)
        )
    return tuple(found)
