"""What keeps a thing from moving: lock nuts, lock screws, locking bolts that are tight."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import AnyThing, Fastener
from putback.model.setting import Setting
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
    """Yield what keeps a thing from moving just before an entry that moves it: all that must be loose and is not."""
    for fastener, at, count in _locks(book, entry, key):
        for variants, state in book.before(fastener.key, entry):
            if isinstance(state, GroupState) and _keeps(fastener, state, at, count):
                yield Lock(fastener, state, at, count, variants)


def _locks(book: Book, entry: Entry, key: str) -> Iterator[tuple[Fastener, tuple[Ref, ...], int]]:
    """Yield what locks a thing, or what a setting is adjusted by: which pieces must be loose, and how many."""
    things = book.graph.machine.things
    thing = things.get(key)
    for lock in book.graph.locked_by.get(key, ()):
        yield (lock, *_wanted(lock, thing, entry))
    told: set[str] = set()
    for adjuster in thing.adjusted_by if isinstance(thing, Setting) else ():
        own = things.get(adjuster.ref.name)
        itself = [own] if isinstance(own, Fastener) and own.locks else []
        for lock in (*itself, *book.graph.locked_by.get(adjuster.ref.name, ())):
            if lock.key not in told:
                told.add(lock.key)
                at = adjuster.at if all(ref.name in lock.positions for ref in adjuster.at) else ()
                yield lock, at, len(at) or lock.count


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
