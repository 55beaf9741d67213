"""Whether what a thing, a verb or a hazard wants first is so: a control set, equipment in place, a thing off."""

from __future__ import annotations

from collections.abc import Iterable

from putback.ledger.book import Book, equipment_account
from putback.ledger.entries import Entry
from putback.model.machine import Control
from putback.model.states import ControlState, EquipmentState, State, is_off
from putback.model.terms import Need
from putback.variants import NONE, VariantSet

OFF = "off"
"""What a part, fastener or line must be; a piece of equipment must be in place, whatever the word for it."""


def met(book: Book, need: Need, entry: Entry) -> VariantSet:
    """Return the variants of an entry in which a need is met before it; none for a name that stands for nothing."""
    name, position = need.control.name, need.position.name
    thing = book.graph.machine.things.get(name)
    if isinstance(thing, Control):
        return book.where(name, entry, lambda state: isinstance(state, ControlState) and state.position == position)
    if thing is not None:
        known = thing

        def off(state: State) -> bool:
            return is_off(known, state)

        return book.where(name, entry, off) if position == OFF else NONE
    if name in book.library.equipment:
        return book.where(
            equipment_account(name), entry, lambda state: isinstance(state, EquipmentState) and state.there
        )
    return NONE


def all_met(book: Book, needs: Iterable[Need], entry: Entry, variants: VariantSet) -> VariantSet:
    """Return the part of some variants in which every one of several needs is met."""
    for need in needs:
        variants = book.graph.space.both(variants, met(book, need, entry))
    return variants
