"""What was done to a thing, or to what it sits on, since it came off: oiled, greased, cleaned, ready to go on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.joints.friction import Film
from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.newness import condemned
from putback.model.called import speaks_of
from putback.model.machine import AnyThing, Machine
from putback.model.states import GroupState, LineState, PartState, is_off
from putback.model.terms import Ref
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.lines import Connect
from putback.model.verbs.pieces import Install, Replace
from putback.variants import NONE, VariantSet

HARDENS = frozenset({Film.THREAD_LOCKER, Film.SEALANT})
"""What cures in a thread, and crumbles when it is undone."""


def wants_cleaning(machine: Machine) -> frozenset[str]:
    """Return what goes on only after something was cleaned, as the machine file says."""
    return frozenset(ref.name for thing in machine.things.values() for ref in thing.clean_before)


class Fitting(NamedTuple):
    """A thing goes on."""

    entry: Entry
    """The step."""
    ref: Ref
    """The thing."""
    thing: AnyThing
    """The same."""


def fittings(book: Book) -> Iterator[Fitting]:
    """Yield each thing that goes on, with the step."""
    for entry in book.of(Install, Replace, Connect):
        thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
        if entry.target is not None and thing is not None:
            yield Fitting(entry, entry.target, thing)


def applied(book: Book) -> dict[tuple[str, str], list[Entry]]:
    """Return the steps that put a consumable on a thing, by the names of both: thing, consumable."""
    found: dict[tuple[str, str], list[Entry]] = {}
    for entry in book.of(Apply):
        for consumable in entry.step.things:
            for ref in entry.touched:
                found.setdefault((ref.name, consumable.name), []).append(entry)
    return found


def cleaned(book: Book, thing: AnyThing) -> list[Entry]:
    """Return the steps that clean a thing: by its name, or by words that have its name in them."""
    things = book.graph.machine.things
    return [entry for entry in book.of(Clean) if entry.target and speaks_of(entry.target.name, thing, things)]


def bare(book: Book, fitting: Fitting, ready: Iterable[Entry]) -> tuple[VariantSet, int]:
    """Return the variants in which nothing of `ready` was done since a thing came off, and what took it off."""
    space, found, off_by = book.graph.space, NONE, -1
    at_once, later = isinstance(fitting.entry.step.action, Replace), condemned(book, fitting.entry)
    for variants, state in book.before(fitting.thing.key, fitting.entry):
        if not isinstance(state, GroupState | PartState | LineState):
            continue
        variants = space.without(variants, later)  # that one goes on by another step
        if not at_once and not (state.out if isinstance(state, GroupState) else is_off(fitting.thing, state)):
            continue  # nothing goes on: told by `not-there`
        for other in ready:
            # One that is replaced in one go comes off only now: what goes on the new one went on before.
            if other.index < fitting.entry.index and (other.index > state.off_by or at_once):
                variants = space.without(variants, other.variants)
        if variants != NONE:
            found, off_by = space.either(found, variants), state.off_by
    return found, off_by
