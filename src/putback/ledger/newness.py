"""What goes in new: at once, or later, when what was taken off is condemned on the bench."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import Fastener
from putback.model.posting import off_already
from putback.model.states import GroupState, PartState, State, chosen
from putback.model.verbs.pieces import Install, Replace
from putback.variants import NONE, VariantSet


def condemned(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which a `replace` is of what is off already: the next one to go on is new."""
    action, name = entry.step.action, entry.target.name if entry.target else ""
    if not isinstance(action, Replace):
        return NONE
    thing = book.graph.machine.things.get(name)
    at = chosen(thing, action.at) if isinstance(thing, Fastener) else ()
    return book.where(name, entry, lambda state: off_already(state, at))


def comes_new(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which an entry puts something new in: as it says, or since the old one was condemned."""
    action, name = entry.step.action, entry.target.name if entry.target else ""
    if isinstance(action, Replace):
        return book.graph.space.without(entry.variants, condemned(book, entry))
    if not isinstance(action, Install):
        return NONE
    return entry.variants if action.new else book.where(name, entry, is_condemned)


def is_condemned(state: State) -> bool:
    """Tell whether what is off comes back new."""
    return isinstance(state, PartState | GroupState) and bool(state.renew)
