"""Tightening orders, and the loosening orders of parts that may warp."""

from __future__ import annotations

from collections.abc import Iterator

from putback.drawings.tightening import tightening_drawing
from putback.model.build_fastener import MOST_DRAWN
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the orders of the things that a step tightens, or loosens when a part may warp."""
    action, loosening = line.step.action, isinstance(line.step.action, Loosen | Remove)
    if not isinstance(action, Tighten | Loosen | Remove) or action.count is not None or action.at:
        return
    if loosening and not page.words.gently(line.step.things):
        return
    for ref in line.step.things:
        thing = page.words.things.get(ref.name)
        drawn = order_drawing(thing, page.words, loosening=loosening) if isinstance(thing, Fastener) else None
        if drawn is not None:
            yield Placed(f"{ref.name} {loosening}", drawn, page.words.drawn_before)


def order_drawing(thing: Fastener, words: Language, *, loosening: bool = False) -> own.drawing | None:
    """Return the drawing of the order in which a group is tightened, or loosened; None when no places are known."""
    if not is_drawn(thing) or thing.places is None:
        return None
    drawn = words.drawn(thing, loosening=loosening)
    front = (thing.front, drawn.front) if thing.front else None
    svg = tightening_drawing(
        thing.places, thing.sequence, label=drawn.label, words=drawn.description, loosening=loosening, front=front
    )
    return own.drawing("", paragraph(drawn.caption), svg=svg, alt=drawn.alt)


def is_drawn(thing: Fastener) -> bool:
    """Tell whether the order of a group is drawn."""
    return thing.places is not None and bool(thing.sequence) and thing.count <= MOST_DRAWN
