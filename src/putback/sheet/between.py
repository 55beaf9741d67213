"""How the machine stands before a job that goes on from another, and after one that another goes on from."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from putback.ledger.book import Book, Holdings
from putback.ledger.closing import closes
from putback.ledger.handover import accounts_of, at_the_end
from putback.model.machine import AnyThing
from putback.model.states import State
from putback.sheet.limits import Limits
from putback.sheet.wanted import LaidOut
from putback.variants import NONE, VariantSet


class Away(NamedTuple):
    """A thing or a piece of equipment that is not as on a whole machine."""

    called: str
    """What it is called."""
    thing: AnyThing | None
    """The thing; None for equipment."""
    state: State
    """How it stands."""


def begins(book: Book, limits: Limits) -> Iterator[LaidOut[Away]]:
    """Yield what a job or block finds off, open, out, moved, disturbed or in place."""
    return _rows(book, book.found, limits, lambda account, _: book.history[account][1][0])


def ends(book: Book, limits: Limits) -> Iterator[LaidOut[Away]]:
    """Yield what it leaves so, as it says."""
    return _rows(book, book.leaves, limits, lambda account, thing: at_the_end(book, account, thing))


def _rows(
    book: Book, names: frozenset[str], limits: Limits, holds: Callable[[str, AnyThing | None], Holdings]
) -> Iterator[LaidOut[Away]]:
    space, things = book.graph.space, book.graph.machine.things
    for name in (*things, *book.library.equipment):
        thing = things.get(name)
        called = thing.name if thing else book.library.equipment[name].name
        for account in accounts_of(name, thing) if name in names else ():
            found: dict[State, VariantSet] = {}
            for variants, state in holds(account, thing):
                here = space.both(variants, book.graph.present(account))
                if here != NONE and not closes(thing, state):
                    found[state] = space.either(found.get(state, NONE), here)
            for state, variants in found.items():
                yield LaidOut(Away(called, thing, state), limits.condition(variants))
            if found:
                # Of a part that is off, nobody need be told that it is not aligned either.
                break
