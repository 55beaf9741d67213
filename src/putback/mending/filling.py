"""Whether what a fluid is filled through stands open."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.mending.sites import at_line
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.states import ControlState, FluidState, GroupState, PartState, State, is_open
from putback.model.verbs.blocks import Reverse
from putback.model.verbs.pieces import Remove
from putback.variants import NONE, VariantSet

_SHUT = frozenset({"closed", "shut", "off"})
"""Positions of a tap through which nothing goes."""


class ShutFiller(NamedTuple):
    """What a fluid is filled through, all of it shut."""

    thing: AnyThing
    """The first of them."""
    state: State
    """Its state."""
    variants: VariantSet
    """The variants in which nothing of them is open."""


def shut_fillers(book: Book, entry: Entry, fluid: Fluid) -> list[ShutFiller]:
    """Return what is shut where a fluid that is out is filled; nothing of one that is only topped up.

    A fluid with no filler that is known goes in anyhow, and so does one whose filler sits on a part that is off. What a
    `reverse` fills in again is left to who does it: its block could not say how.
    """
    if any(isinstance(step.action, Reverse) for step in entry.via):
        return []
    space, things = book.graph.space, book.graph.machine.things
    out = book.where(fluid.key, entry, lambda state: isinstance(state, FluidState) and not state.full)
    left, found, drains = out, list[ShutFiller](), {ref.name for ref in fluid.drains}
    fillers = [things[ref.name] for ref in fluid.fills if ref.name in things]
    for filler in fillers if out != NONE else ():
        left = space.without(
            left, book.where(filler.key, entry, partial(_lets_in, filler, drains=filler.key in drains))
        )
        seat = filler.to if isinstance(filler, Fastener) else None
        if seat is not None:
            left = space.without(left, book.where(seat.name, entry, _is_off))
    for filler in fillers:
        for variants, state in book.before(filler.key, entry) if left != NONE else ():
            here = space.both(variants, left)
            if here != NONE:
                found.append(ShutFiller(filler, state, here))
                left = space.without(left, here)
    return found


def _lets_in(filler: AnyThing, state: State, *, drains: bool) -> bool:
    if isinstance(filler, Control) and isinstance(state, ControlState) and not drains:
        return state.position not in _SHUT
    return is_open(filler, state)


def _is_off(state: State) -> bool:
    return (isinstance(state, PartState) and not state.on) or (isinstance(state, GroupState) and state.out == state.all)


def to_open(book: Book, entry: Entry, drain: AnyThing) -> str | None:
    """Return how a drain is opened, and shut after it; one that is only loosened stays in, but for a cock."""
    later = [one for one in book.entries[entry.index :] if one.target and one.target.name == drain.key]
    if isinstance(drain, Fastener) and drain.releases_when_loose:
        return f"add 'loosen: {drain.key}' before it"
    if isinstance(drain, Fastener | Part):
        cock = "; something that is only turned, such as a cock, belongs under 'controls'"
        if out := next((one for one in later if isinstance(one.step.action, Remove)), None):
            return None if out.via or len(out.step.things) > 1 else f"move {at_line(out.step)} before it{cock}"
        back = "" if later else f", and 'install: {drain.key}' and 'tighten: {drain.key}' after it"
        return f"add 'remove: {drain.key}' before it{back}{cock}"
    return f"add 'disconnect: {drain.key}' before it" if isinstance(drain, Line) and later else None
