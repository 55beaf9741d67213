"""The elements of a drawing, and which of them may be drawn earlier than they are: those that cover nothing between."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field

from putback.drawings.shortpaths import reach

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, mm."""

_EVERYWHERE: Box = (-math.inf, -math.inf, math.inf, math.inf)
_MARGIN = 0.15
"""What stands closer together than this, mm, may share a pixel."""
_LETTER = 1.2
"""No letter is wider than this, in parts of the size of type."""
_FAR = 60
"""So many runs back it is looked for one that a piece can join: more makes large drawings slow, and no smaller."""


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """One element, with all that is said of its looks."""

    tag: str
    """Its name."""
    shape: dict[str, str]
    """Where it is and how large."""
    look: dict[str, str]
    """Its looks, where they are not those that the style sheet gives it anyway."""
    words: str = ""
    """What is written."""
    halo: bool = False
    """Whether paper is round its letters."""
    inside: tuple[DrawnPiece, ...] = field(default=())
    """What is in it, when it is a group."""

    @property
    def is_line(self) -> bool:
        """Whether it is a line or figure of which only the outline is drawn."""
        return self.tag == "path" and "fill" not in self.look and self.shape.keys() == {"d"}

    @property
    def box(self) -> Box:
        """What it may cover, at most."""
        if "transform" in self.shape or self.tag == "g":
            return _EVERYWHERE
        left, top, right, bottom = self._words_box() if self.tag == "text" else self._shape_box()
        far = float(self.look.get("stroke-width", 0.25)) / 2 + _MARGIN
        return left - far, top - far, right + far, bottom + far

    def _number(self, name: str) -> float:
        return float(self.shape.get(name, 0))

    def _shape_box(self) -> Box:
        if self.tag == "path":
            return reach(self.shape["d"])
        if self.tag == "rect":
            x, y = self._number("x"), self._number("y")
            return x, y, x + self._number("width"), y + self._number("height")
        x, y, across, down = (self._number(name) for name in ("cx", "cy", "rx", "ry"))
        return x - across, y - down, x + across, y + down

    def _words_box(self) -> Box:
        x, y, size = self._number("x"), self._number("y"), float(self.look.get("font-size", 3))
        wide = self._number("textLength") or _LETTER * size * len(self.words)
        before = {"start": 0.0, "end": 1.0}.get(self.look.get("text-anchor", ""), 0.5) * wide
        return x - before - 0.3 * size, y - 1.2 * size, x - before + wide + 0.3 * size, y + 0.5 * size


def gathered(pieces: Iterable[DrawnPiece], kind: Callable[[DrawnPiece], Hashable]) -> list[list[DrawnPiece]]:
    """Return pieces in runs of one kind; one joins an earlier run where it covers nothing that was drawn since."""
    runs: list[tuple[Hashable, list[DrawnPiece], list[Box]]] = []
    for piece in pieces:
        of, box = kind(piece), piece.box
        for key, run, boxes in reversed(runs[-_FAR:]):
            if key == of:
                run.append(piece)
                boxes.append(box)
                break
            if _covers(box, boxes):
                runs.append((of, [piece], [box]))
                break
        else:
            runs.append((of, [piece], [box]))
    return [run for _, run, _ in runs]


def _covers(box: Box, others: Sequence[Box]) -> bool:
    left, top, right, bottom = box
    return any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in others)
