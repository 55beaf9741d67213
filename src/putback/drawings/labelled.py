"""What stands beside the bolts of a drawing: each in a free place close by, outside of the ring rather than inside."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from putback.drawings.canvas import FINE, PAPER, Canvas, Point, width_of

TYPE = 3.6
"""Size of type, mm."""
HIGH = 4.6
"""Height of one line with its box, mm."""
_PAD = 0.8
_APART = 0.6
"""Least distance from a bolt and from one another, mm."""
_DIRECTIONS = 16


@dataclass(frozen=True, slots=True)
class Tag:
    """Words in a box beside a bolt."""

    left: float
    """mm from the left of the drawing."""
    top: float
    """mm from its top."""
    lines: tuple[str, ...]
    """What stands there."""

    @property
    def width(self) -> float:
        """How wide it is, mm."""
        return max(width_of(line, TYPE, bold=True) for line in self.lines) + 2 * _PAD

    @property
    def height(self) -> float:
        """How high it is, mm."""
        return HIGH + (len(self.lines) - 1) * (TYPE + 0.4)

    @property
    def corners(self) -> tuple[Point, Point]:
        """The top left and the bottom right."""
        return (self.left, self.top), (self.left + self.width, self.top + self.height)

    @property
    def four(self) -> tuple[Point, ...]:
        """All four corners."""
        (left, top), (right, bottom) = self.corners
        return (left, top), (right, top), (right, bottom), (left, bottom)

    def moved(self, right: float, down: float) -> Tag:
        """Return the same elsewhere."""
        return replace(self, left=self.left + right, top=self.top + down)

    def draw(self, canvas: Canvas, *, boxed: bool) -> None:
        """Draw it; names need no box."""
        corner = (self.left, self.top)
        canvas.box(corner, self.width, self.height, weight=FINE if boxed else 0, fill=PAPER, kind="tag")
        for row, line in enumerate(self.lines):
            base = self.top + HIGH / 2 + 0.335 * TYPE + row * (TYPE + 0.4)
            canvas.words((self.left + self.width / 2, base), line, TYPE, anchor="middle", bold=not boxed or row > 0)


def placed_tags(
    bolts: Sequence[Point], lines: Sequence[tuple[str, ...]], radius: float, middle: Point
) -> list[Tag] | None:
    """Return where the words of each bolt stand; None where some find no free place."""
    found: list[Tag] = []
    for bolt, words in zip(bolts, lines, strict=True):
        if not words:
            continue
        tag = next((tag for tag in _around(bolt, words, radius, middle) if _is_free(tag, bolts, radius, found)), None)
        if tag is None:
            return None
        found.append(tag)
    return found


def _around(bolt: Point, lines: tuple[str, ...], radius: float, middle: Point) -> Iterator[Tag]:
    """Yield the places round a bolt, the one away from the middle first."""
    size = Tag(0, 0, lines)
    out = math.atan2(bolt[1] - middle[1], bolt[0] - middle[0]) if math.dist(bolt, middle) > radius / 2 else math.pi / 2
    turns = [2 * math.pi * k / _DIRECTIONS * sign for k in range(_DIRECTIONS // 2 + 1) for sign in (1, -1)]
    for turn in turns:
        ux, uy = math.cos(out + turn), math.sin(out + turn)
        # As far out as it takes the box to clear the bolt in this direction.
        reach = radius + _APART + abs(ux) * size.width / 2 + abs(uy) * size.height / 2
        yield replace(size, left=bolt[0] + ux * reach - size.width / 2, top=bolt[1] + uy * reach - size.height / 2)


def _is_free(tag: Tag, bolts: Sequence[Point], radius: float, others: Iterable[Tag]) -> bool:
    (left, top), (right, bottom) = tag.corners
    for x, y in bolts:
        if math.hypot(max(left - x, 0, x - right), max(top - y, 0, y - bottom)) < radius + _APART - 0.05:
            return False
    for other in others:
        (start, high), (end, low) = other.corners
        if left < end + _APART and start < right + _APART and top < low + _APART and high < bottom + _APART:
            return False
    return True
