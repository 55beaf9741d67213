"""Scales beside the lines that readings are written on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from putback.drawings.scales import Scale, is_scale, scale_drawing
from putback.model.good import limit_of
from putback.model.machine import Part
from putback.model.said import Limit
from putback.model.terms import Ref
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Measure
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.units import Kind, Quantity, QuantityError
from putback.words import Language

_BOTH_SIDES = frozenset({Kind.TEMPERATURE, Kind.CRANK_ANGLE})
"""Kinds that have readings below nought."""


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the scale of the reading that a step takes, once for each limit of a thing."""
    action, things = line.step.action, page.words.things
    if not isinstance(action, Measure | Adjust) or (isinstance(action, Measure) and action.judge == "difference"):
        return
    limit = limit_of(action, things)
    if limit is None or limit.quantity is None:
        return
    first = things.get(action.things[0].name) if action.things else None
    wear = first.wear if isinstance(first, Part) and isinstance(action, Measure) else None
    worn = wear is not None and limit is wear.limit
    drawn = _scale(action.things, limit, wear.new if wear and worn else None, page.words, wears=worn)
    if drawn is not None:
        names = " ".join(ref.name for ref in action.things)
        yield Placed(f"scale {names} {limit.text}", drawn)


def _scale(
    things: Sequence[Ref], limit: Limit, new: Limit | None, words: Language, *, wears: bool
) -> own.drawing | None:
    """Return the scale of a limit; None for one without a range."""
    assert limit.quantity is not None
    shown = words.printed_first(limit.quantity)
    unit = words.unit_of(limit.quantity)
    scale = Scale(shown.low, shown.high, _new(new, shown, words), unit, shown.kind not in _BOTH_SIDES)
    if not is_scale(scale):
        return None
    said = words.scaled(things, limit, new if scale.new else None, wears=wears)
    return own.drawing("", svg=scale_drawing(scale, said), alt=said.alt, beside="blank")


def _new(new: Limit | None, shown: Quantity, words: Language) -> tuple[Decimal, Decimal] | None:
    """Return what a new part measures, in the unit of the scale; None when that cannot be shown on it."""
    if new is None or new.quantity is None:
        return None
    first = words.printed_first(new.quantity)
    try:
        exact = first if first.unit == shown.unit else first.to(shown.unit)
    except QuantityError:
        return None
    return None if exact.low is None or exact.high is None else (exact.low, exact.high)
