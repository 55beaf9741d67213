"""What keeps a thing from moving: lock nuts, lock screws, locking bolts that are tight."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import AnyThing, Fastener
from putback.model.states import GroupState, chosen
from putback.model.terms import Ref
from putback.model.verbs.pieces import OfPieces
from putback.variants import VariantSet


class Lock(NamedTuple):
    """A group of fasteners that keeps a thing from moving."""

    fastener: Fastener
    """The lock nuts."""
    state: GroupState
    """How they stand."""
    at: tuple[Ref, ...]
    """Which of them, by their positions; none for any."""
    number: int
    """How many of them must be loose."""
    variants: VariantSet
    """The variants in which it is so."""


def locks_on(book: Book, entry: Entry, key: str) -> Iterator[Lock]:
    """Yield what keeps a thing from moving just before an entry: of what the entry moves, all that must be loose and is not."""
    thing = book.graph.machine.things.get(key)
    for fastener in book.graph.locked_by.get(key, ()):
        at, count = _wanted(fastener, thing, entry)
        for variants, state in book.before(fastener.key, entry):
            if isinstance(state, GroupState) and _keeps(fastener, state, at, count):
                yield Lock(fastener, state, at, count, variants)


def _wanted(lock: Fastener, thing: AnyThing | None, entry: Entry) -> tuple[tuple[Ref, ...], int]:
    """Return which lock nuts must be loose before an entry, and how many: those of the pieces that it moves, or all."""
    action = entry.step.action
    if not isinstance(action, OfPieces) or not isinstance(thing, Fastener) or thing.count != lock.count:
        return (), lock.count
    if action.at and all(ref.name in lock.positions for ref in action.at):
        return action.at, len(action.at)
    return (), min(action.count or lock.count, lock.count)


def _keeps(lock: Fastener, state: GroupState, at: tuple[Ref, ...], count: int) -> bool:
    if at and state.places:
        staged = {some.piece for some in state.staged}
        return any(state.places[number] == "tight" or number in staged for number in chosen(lock, at))
    return lock.count - state.pressing < count
