"""The outlines of pieces that lie flat on paper, at true size: of fasteners, and of round parts."""

from __future__ import annotations

from putback.drawings.bolts import Outline, outlines
from putback.drawings.canvas import USUAL, Canvas
from putback.model.forms import across
from putback.model.machine import Fastener, Line, Part
from putback.words import Language

MOST = 50.0
"""A part that is wider, mm, takes more of the sheet than it is worth: it has words alone."""


def outlined(thing: Part | Fastener | Line, words: Language) -> tuple[Outline, ...]:
    """Return the outline of each different piece of a thing; none when no size is known."""
    if isinstance(thing, Line):
        return ()
    if isinstance(thing, Fastener):
        return outlines(thing, words)
    wide = diameter_of(thing)
    return (_ring(thing, wide, words),) if 0 < wide <= MOST else ()


def diameter_of(thing: Part) -> float:
    """Return the outside diameter of a part, mm; 0 when it is not known."""
    return across(thing.size.outside) if thing.size and thing.size.outside else 0.0


def _ring(thing: Part, wide: float, words: Language) -> Outline:
    hole = across(thing.size.inside) if thing.size and thing.size.inside else 0.0
    side = round(wide + USUAL, 2)
    canvas, title = Canvas(side, side), words.title_of(thing)
    canvas.circle((side / 2, side / 2), wide / 2, kind="outside")
    if 0 < hole < wide:
        canvas.circle((side / 2, side / 2), hole / 2, kind="inside")
    return Outline(canvas.svg(title, title), side, side, "", title)
