"""What goes in new: at once, or later, when what was taken off is condemned on the bench."""

from __future__ import annotations

from collections.abc import Collection
from typing import TypeAlias

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.journey import End
from putback.model.machine import AnyThing, Fastener
from putback.model.posting import off_already
from putback.model.states import GroupState, PartState, State, chosen
from putback.model.verbs.pieces import Install, Replace
from putback.variants import NONE, VariantSet

Renewals: TypeAlias = list[tuple[Entry, VariantSet]]
"""The steps that put something new in, the last first, each with the ways on which they do."""


def condemned(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which a `replace` is of what is already off: the next one to go on is new."""
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


def renewals(book: Book, end: End, names: Collection[str]) -> dict[str, Renewals]:
    """Return what of some things is renewed on the way to an end."""
    found: dict[str, Renewals] = {}
    for entry, ways in book.before_end(end):
        if entry.target and entry.target.name in names and isinstance(entry.step.action, Install | Replace):
            here = book.graph.space.both(ways, comes_new(book, entry))
            if here != NONE:
                found.setdefault(entry.target.name, []).append((entry, here))
    return found


def by_pieces(book: Book, thing: AnyThing, renewed: Renewals) -> dict[int, tuple[VariantSet, Entry]]:
    """Return how many pieces of a thing are renewed in all, each number with its ways and the last step that does."""
    space, sums = book.graph.space, {0: (book.graph.present(thing.key), renewed[0][0])}
    for entry, ways in renewed:
        more, after = _pieces(entry, thing), dict[int, tuple[VariantSet, Entry]]()
        for before, (held, last) in sums.items():
            for total, here in ((before + more, space.both(held, ways)), (before, space.without(held, ways))):
                known, at = after.get(total, (NONE, last if before else entry))
                after[total] = space.either(known, here), at
        sums = after
    return {pieces: known for pieces, known in sums.items() if pieces and known[0] != NONE}


def _pieces(entry: Entry, thing: AnyThing) -> int:
    action = entry.step.action
    if not isinstance(thing, Fastener) or not isinstance(action, Install | Replace):
        return 1
    return action.count or len(chosen(thing, action.at)) or thing.count
