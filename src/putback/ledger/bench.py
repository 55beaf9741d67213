"""What lies on the bench: what is off itself, and the insides of an assembly that is off."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import AnyThing
from putback.model.states import GroupState, PartState, State, is_off, is_whole
from putback.model.verb import Way
from putback.variants import NONE, VariantSet


def with_assembly(book: Book, entry: Entry, key: str) -> VariantSet:
    """Return the variants in which a thing is, or was, in an assembly that is off the machine."""
    found = NONE
    for name, members in book.graph.assemblies.items():
        if key in members:
            found = book.graph.space.either(found, book.away(name, entry))
    return found


def on_bench(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which an entry is work on the bench, and none in the machine."""
    if entry.target is None or entry.target.name not in book.graph.machine.things:
        return NONE
    key, found = entry.target.name, with_assembly(book, entry, entry.target.name)
    thing = book.graph.machine.things[key]
    if entry.step.verb.way not in (Way.ON, Way.HELD):
        found = book.graph.space.either(found, book.where(key, entry, lambda state: _away(thing, state)))
    return found


def _away(thing: AnyThing, state: State) -> bool:
    """Tell whether a part or fastener is off; a fluid, a control and a setting never are."""
    return isinstance(state, PartState | GroupState) and is_off(thing, state) and not is_whole(state)
