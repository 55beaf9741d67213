"""Parts drawn apart along their axis: from the outside in, each with its number and its name beside it.

The numbers are the turns in which parts come off; a black one is of a part that is fitted new. A drop marks what is
greased. What stays on the machine is pale. A long stack is drawn in several drawings.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from putback.drawings.canvas import FINE, INK, LIGHT, PAPER, Canvas, point, wrapped
from putback.drawings.shapes import LOOKS, sketch_of
from putback.drawings.sketch import Body, Sketch
from putback.model.forms import PartShape

WIDTH = 82.0
"""Of a drawing, mm: two stand beside each other on paper, and one is no wider than a narrow screen."""
TALLEST = 88.0
"""Greatest height of one drawing, mm, where its parts allow; what is longer is drawn in several."""
NAME, REMARK = 3.3, 2.9
"""Sizes of type, mm: 9.4 pt and 8.2 pt."""
BALLOON = 2.7
"""Radius of the circle round a number, mm."""
LARGEST = ((8, 14.0), (10, 12.5), (99, 11.0))
"""Up to so many parts in a drawing, the radius of the largest is this, mm."""
SPREAD = 4.0
"""The most by which the largest part is drawn larger than the smallest, of those whose size is known."""
GREATEST_SCALE = 1.6
"""The most that a part is drawn larger than it is."""
_EDGE, _GAP = 1.5, 1.6
_AXIS = 4.5 + LARGEST[0][1]
_NUMBERS = _AXIS + LARGEST[0][1] + 3.0 + BALLOON
_WORDS = _NUMBERS + BALLOON + 1.6
_APART, _PAIRED = 6.8, 5.8
"""How far from the axis two pieces of one fastener stand, and their greatest radius, mm."""
_CORNERED = frozenset({
    PartShape.BLOCK, PartShape.BOLT, PartShape.BOWL, PartShape.COVER, PartShape.HOUSING, PartShape.NUT, PartShape.SCREW,
})  # fmt: skip
"""Shapes that are not as wide at half their height."""


@dataclass(frozen=True, slots=True)
class StackPiece:
    """A part or a fastener of a stack."""

    number: int | None
    """Its turn in taking off; None for what stays."""
    shape: PartShape
    """What it looks like."""
    name: str
    """What it is called, with how many there are."""
    remarks: str = ""
    """What else there is to know: that it is new, its grease, its size, its variants."""
    told: str = ""
    """Its number and all of that, for who cannot see the drawing."""
    fitted_new: bool = False
    """Whether a new one goes on."""
    greased: bool = False
    """Whether something is put on it before it goes on."""
    outside: float | None = None
    """Its outside diameter, mm."""
    inside: float | None = None
    """The diameter of its hole, mm."""
    thickness: float | None = None
    """Its thickness or length along the axis, mm."""
    pair: bool = False
    """Whether there are several, beside the axis."""


class StackDrawing(NamedTuple):
    """A drawing of a stack, or of a part of it."""

    svg: str
    """The text of a standalone SVG."""
    alt: str
    """What it shows, in words."""


@dataclass(frozen=True, slots=True)
class _Row:
    """A piece with its words, as it takes room; all in mm."""

    piece: StackPiece
    sketch: Sketch
    name: list[str]
    remarks: list[str]
    reach: float
    """How far it reaches from its axis."""
    upper: float
    """How far it reaches above its height 0, as a negative number."""
    drawn: float
    """How high it is."""
    said: float
    """How high its words are."""

    @property
    def high(self) -> float:
        """How high the row is."""
        return max(self.drawn, self.said, 2 * BALLOON)


def stack_drawings(pieces: Sequence[StackPiece], *, label: str, lead: str) -> list[StackDrawing]:
    """Return a stack in one drawing or several; `lead` stands before what is said of its pieces."""
    return list(_drawings(tuple(pieces), label, lead))


@lru_cache(maxsize=64)  # several jobs take the same stack apart
def _drawings(pieces: tuple[StackPiece, ...], label: str, lead: str) -> tuple[StackDrawing, ...]:
    parts, shares = 1, _shares(pieces, 1)
    while max(map(_height, shares)) > TALLEST and parts < len(pieces):
        parts = max(parts + 1, math.ceil(sum(map(_height, shares)) / TALLEST))
        shares = _shares(pieces, parts)
    return tuple(_drawing(share, label, lead) for share in shares)


def _shares(pieces: Sequence[StackPiece], parts: int) -> list[list[_Row]]:
    """Return rows in a number of drawings, about as long as each other."""
    each = len(pieces) / parts
    rows = _rows(pieces, next((radius for most, radius in LARGEST if each <= most), LARGEST[-1][1]))
    whole = sum(row.high + _GAP for row in rows)
    shares: list[list[_Row]] = [[] for _ in range(parts)]
    done = 0.0
    for row in rows:
        middle = done + (row.high + _GAP) / 2
        shares[min(parts - 1, int(parts * middle / whole))].append(row)
        done += row.high + _GAP
    return [share for share in shares if share]


def _height(rows: Sequence[_Row]) -> float:
    return 2 * _EDGE + sum(row.high for row in rows) + _GAP * (len(rows) - 1)


def _rows(pieces: Sequence[StackPiece], largest: float) -> list[_Row]:
    scale = _Scale(pieces, largest)
    return [_row(piece, sketch_of(_body(piece, largest, scale))) for piece in pieces]


def _row(piece: StackPiece, sketch: Sketch) -> _Row:
    room = WIDTH - _EDGE - _WORDS
    name, remarks = wrapped(piece.name, room, NAME, bold=True), wrapped(piece.remarks, room, REMARK)
    left, upper, right, lower = sketch.box()
    said = len(name) * NAME * 1.12 + len(remarks) * REMARK * 1.14
    return _Row(piece, sketch, name, remarks, max(-left, right), upper, lower - upper, said)


class _Scale:
    """How large parts of known size are drawn: in proportion, but none is lost beside one that is much larger."""

    def __init__(self, pieces: Sequence[StackPiece], largest: float) -> None:
        known = {piece: piece.outside for piece in pieces if piece.outside}
        self.greatest = max(known.values(), default=1.0)
        most = max((LOOKS[piece.shape].radius for piece in known), default=1.0)
        self.radius = min(largest * most, self.greatest * GREATEST_SCALE / 2)
        spread = self.greatest / min(known.values(), default=1.0)
        self.bent = 1.0 if spread <= SPREAD else math.log(SPREAD) / math.log(spread)

    def __call__(self, across: float) -> float:
        """Return the radius on paper for a diameter, mm."""
        return float(self.radius * (across / self.greatest) ** self.bent)


def _body(piece: StackPiece, largest: float, scale: _Scale) -> Body:
    """Return how large a piece is drawn: to scale where its size is known, and never too small to be seen."""
    look = LOOKS[piece.shape]
    radius = scale(piece.outside) if piece.outside else look.radius * largest
    radius = min(max(radius, min(2.4, look.radius * largest)), _PAIRED if piece.pair else largest)
    hole = radius * look.hole
    if piece.inside and piece.outside and look.hole:
        hole = min(max(piece.inside / piece.outside, 0.12), 0.92) * radius
    high = look.high * largest
    if piece.thickness:
        high = piece.thickness * (2 * radius / piece.outside if piece.outside else 1.0)
    return Body(piece.shape, radius, hole, min(max(high, look.least), 0.6 * largest))


def _drawing(rows: Sequence[_Row], label: str, lead: str) -> StackDrawing:
    canvas = Canvas(WIDTH, _height(rows))
    canvas.line(
        [(_AXIS, _EDGE / 2), (_AXIS, canvas.height - _EDGE / 2)], weight=FINE, stroke=INK, dash="4 1 0.8 1", kind="axis"
    )
    down = _EDGE
    for row in rows:
        _draw_row(canvas, row, down)
        down += row.high + _GAP
    alt = f"{lead} {'; '.join(row.piece.told for row in rows)}."
    return StackDrawing(canvas.svg(label, alt), alt)


def _draw_row(canvas: Canvas, row: _Row, top: float) -> None:
    middle = top + row.high / 2
    piece, pale = row.piece, row.piece.number is None
    aside = _APART if piece.pair else 0.0
    edge = _AXIS + aside + row.reach
    # Under a part that is not as wide at half its height, the line goes on to where it begins.
    start = (edge + 0.6 if piece.shape not in _CORNERED else _AXIS + aside + row.reach / 2, middle)
    if piece.number is not None:
        canvas.line([start, (_NUMBERS - BALLOON, middle)], weight=FINE, kind="leader")
    else:
        canvas.line([start, (_WORDS - 1, middle)], weight=FINE, stroke=LIGHT, kind="leader")
    for place in (_AXIS - aside, _AXIS + aside) if piece.pair else (_AXIS,):
        row.sketch.put_on(canvas, (place, middle - row.drawn / 2 - row.upper), pale=pale)
    if piece.number is not None:
        ground, ink = (INK, PAPER) if piece.fitted_new else (PAPER, INK)
        canvas.circle((_NUMBERS, middle), BALLOON, fill=ground, kind="balloon")
        size = NAME if piece.number < 100 else 2.4
        canvas.words((_NUMBERS, middle + 0.335 * size), str(piece.number), size, bold=True, anchor="middle", fill=ink)
    if piece.greased:
        _drop(canvas, max(_AXIS - aside - row.reach - 2.2, _DROP), middle)
    _say(canvas, row, middle - row.said / 2)


def _say(canvas: Canvas, row: _Row, top: float) -> None:
    down = top
    for line in row.name:
        canvas.words((_WORDS, down + 0.84 * NAME), line, NAME, bold=row.piece.number is not None, kind="name")
        down += NAME * 1.12
    for line in row.remarks:
        canvas.words((_WORDS, down + 0.84 * REMARK), line, REMARK, kind="remark")
        down += REMARK * 1.14


_DROP = 1.4
"""Half of the width of a drop with some paper beside it, mm: beside the widest parts, it stands on their edge."""


def _drop(canvas: Canvas, x: float, y: float) -> None:
    """Draw a drop: something is put on before it goes on."""
    top, low, bottom = (x, y - 1.7), y + 0.5, (x, y + 1.6)
    sides = [
        f"C{point((x + 0.3, y - 0.9))} {point((x + 1.2, low - 0.6))} {point((x + 1.2, low))}",
        f"C{point((x + 1.2, y + 1.2))} {point((x + 0.6, bottom[1]))} {point(bottom)}",
        f"C{point((x - 0.6, bottom[1]))} {point((x - 1.2, y + 1.2))} {point((x - 1.2, low))}",
        f"C{point((x - 1.2, low - 0.6))} {point((x - 0.3, y - 0.9))} {point(top)}",
    ]
    canvas.path(f"M{point(top)}{''.join(sides)}Z", fill=INK, weight=0, kind="drop")
