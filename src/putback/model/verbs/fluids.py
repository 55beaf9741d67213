"""Letting fluids out and filling them in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Fluid
from putback.model.reading import Reader
from putback.model.states import FluidState, of
from putback.model.terms import Ref
from putback.model.verb import Action, Change, Verb, Way, WayForth
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Drain(NamedTuple):
    """Let a fluid run out."""

    things: tuple[Ref, ...]
    volume: Quantity | None = None


class Fill(NamedTuple):
    """Fill a fluid in."""

    things: tuple[Ref, ...]
    volume: Quantity | None = None


def _emptied(_action: Drain, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Fluid):
        return None
    return lambda state: of(FluidState, state)._replace(full=False, off_by=by)


def _filled(_action: Fill, thing: AnyThing | None, by: int) -> Change | None:
    return (lambda _: FluidState(full=True, on_by=by)) if isinstance(thing, Fluid) else None


def _fill_again(action: Drain, forth: WayForth) -> Iterator[Action]:
    for ref in reversed(action.things):
        if forth.runs_out_here(ref):
            yield Fill((ref,), action.volume)


def _drain_again(action: Fill, _forth: WayForth) -> Iterator[Action]:
    yield Drain(action.things[::-1], action.volume)


def _read_drain(reader: Reader, value: Node, node: Mapping) -> Drain:
    return Drain(reader.refs(value), reader.quantity(node.get("volume"), Kind.VOLUME))


def _read_fill(reader: Reader, value: Node, node: Mapping) -> Fill:
    return Fill(reader.refs(value), reader.quantity(node.get("volume"), Kind.VOLUME))


DRAIN = Verb(
    name="drain",
    arguments=Drain,
    read=_read_drain,
    takes=("fluid",),
    better={"fastener": "remove"},
    other_words=("discharge", "empty", "let-out"),
    loose_words=("drain-off", "run-off"),
    way=Way.REACH,
    opens=True,
    lets_out=True,
    reaches=True,
    effect=_emptied,
    back=_fill_again,
    way_back="Fill it; where the block opens its drain, once that is shut again.",
)

FILL = Verb(
    name="fill",
    arguments=Fill,
    read=_read_fill,
    takes=("fluid",),
    other_words=("add", "charge", "pour", "refill", "top-up"),
    loose_words=("fill-up", "top", "top-off", "topup"),
    way=Way.REACH,
    wets=True,
    reaches=True,
    assembles=True,
    effect=_filled,
    back=_drain_again,
    way_back="Drain it.",
)
