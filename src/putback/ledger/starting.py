"""Whether a machine can start at an entry, and whether somebody has hands in it then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.ledger.bench import on_bench
from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.heat import running_at
from putback.ledger.isolation import account_of, all_met
from putback.ledger.running import running_needs
from putback.model.good import limit_of
from putback.model.machine import Control, Fastener
from putback.model.said import source_of
from putback.model.states import State
from putback.model.terms import Need
from putback.model.verbs.acting import Act
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.equipment import Place, TakeAway
from putback.units import Kind
from putback.variants import NONE, VariantSet


class Ready(NamedTuple):
    """A way in which a machine can start at an entry."""

    way: tuple[Need, ...]
    """What is so: all of it together."""
    since: int
    """The number of the entry that made the last of it so; -1 when the job begins with it."""
    variants: VariantSet
    """The variants in which it is so."""


_STARTS = frozenset({"key", "ignition", "lanyard", "kill", "killswitch", "starter", "engine"})
"""Words in the names of what starts a machine, or keeps it from starting."""


@once
def ways_to_start(book: Book) -> Iterator[tuple[Need, ...]]:
    """Yield the ways in which the machine can start, as its file says.

    Where it says nothing, a key or an ignition switch that a run needs otherwise than it normally is starts it.
    """
    machine = book.graph.machine
    yield from machine.can_start
    implied = list[Need]()
    for need in machine.verb_needs.get(RUN.name, ()) if not machine.can_start else ():
        control = machine.things.get(need.control.name)
        if isinstance(control, Control) and not _STARTS.isdisjoint(
            f"{control.key} {source_of(control.name)}".replace("-", " ").split()
        ):
            implied += [need] if control.normal.name != need.position.name and not control.any_at_end else []
    if implied:
        yield tuple(implied)


def ready_at(book: Book, entry: Entry, variants: VariantSet) -> Iterator[Ready]:
    """Yield the ways in which the machine can start at an entry, in some variants."""
    for way in ways_to_start(book):
        here = all_met(book, way, entry, variants)
        for since, part in sorted(_since(book, way, entry, here).items()):
            yield Ready(way, since, part)


def _since(book: Book, way: Iterable[Need], entry: Entry, variants: VariantSet) -> dict[int, VariantSet]:
    """Return since when all of a way is so, each with its part of some variants."""
    space, found = book.graph.space, {-1: variants} if variants != NONE else {}
    for need in way:
        known, later = account_of(book, need), dict[int, VariantSet]()
        for held, state in book.before(known[0], entry) if known else ():
            for since, part in found.items():
                here, last = space.both(held, part), max(since, _changed(state))
                if here != NONE:
                    later[last] = space.either(later.get(last, NONE), here)
        found = later or found
    return found


def _changed(state: State) -> int:
    return max(int(getattr(state, "off_by", -1)), int(getattr(state, "on_by", -1)))


def hands_in(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which somebody has hands in the machine at an entry.

    Who sets a control, looks from a step away, or measures what a meter shows has not. Nor has who works at what takes
    the start away, such as the lead of the spark plug, or takes off what is in front of that. While the machine runs,
    it is adjusted and measured, and what may stay in a run is brought and taken away.
    """
    space, action = book.graph.space, entry.step.action
    if isinstance(action, Place | TakeAway):
        equipment = book.library.equipment.get(entry.target.name) if entry.target else None
        if equipment is None or equipment.key in _ends_it(book) or not _SIGNS.isdisjoint(equipment.name.split()):
            return NONE
        return space.without(entry.variants, running_at(book, entry)) if equipment.may_stay else entry.variants
    if isinstance(action, Inspect | Verify):
        return _at_fastener(book, entry)
    if not entry.step.verb.reaches or (isinstance(action, Measure) and _by_meter(book, entry)):
        return NONE
    names = [ref.name for ref in entry.touched if ref.name in book.graph.machine.things]
    if not names or not _ends_it(book).isdisjoint(names):
        return NONE
    found = space.without(entry.variants, on_bench(book, entry))
    if isinstance(action, Apply):
        found = NONE
        for name in names:
            found = space.either(
                found, space.without(space.both(entry.variants, book.graph.present(name)), book.away(name, entry))
            )
    if found != NONE and isinstance(action, Act | Adjust | Measure):
        found = space.without(found, running_at(book, entry))
    return found


def stands_beside(book: Book, entry: Entry, ready: Ready) -> bool:
    """Tell whether an entry brings or takes what stands beside a machine that is as it always is: chocks, a stand.

    Where the job made it ready for a run, or has run it since, nobody goes near for that either.
    """
    equipment = book.library.equipment.get(entry.target.name) if entry.target else None
    if not isinstance(entry.step.action, Place | TakeAway) or equipment is None or not equipment.may_stay:
        return False
    last = entry.index if ready.since < 0 else len(book.entries)
    return not any(ready.since < run.index < last for run in book.of(Run))


def _at_fastener(book: Book, entry: Entry) -> VariantSet:
    """Return the variants in which a pin, a bolt or a clamp is looked at, which is near, while nothing runs."""
    words = entry.target.name.lower().removeprefix("the ") if entry.target else ""
    for key, name in _fasteners(book) if running_needs(book) else ():
        if key == words or f"{words} ".startswith(f"{name} ") or f" of the {name} " in f"{words} ":
            found = book.graph.space.without(entry.variants, running_at(book, entry))
            return book.graph.space.without(found, book.away(key, entry))
    return NONE


@once
def _fasteners(book: Book) -> Iterator[tuple[str, str]]:
    """Yield the fasteners that do not take the start away, by their key and by what their author calls them."""
    for key, thing in book.graph.machine.things.items():
        if isinstance(thing, Fastener) and key not in _ends_it(book):
            yield key, source_of(thing.name)


_SIGNS = frozenset({"tag", "sign", "label", "lock", "padlock"})
"""What is put on a switch says that nobody may start it."""


def _by_meter(book: Book, entry: Entry) -> bool:
    """Tell whether something is measured that wants no hands in it: a voltage, and not a gap or a tension."""
    limit = limit_of(entry.step.action, book.graph.machine.things)
    return limit is None or limit.quantity is None or limit.quantity.kind not in (Kind.LENGTH, Kind.FORCE)


def _ends_it(book: Book) -> frozenset[str]:
    """Return what takes the start away, and what comes off before that."""
    return _ending(book)[0]


@once
def _ending(book: Book) -> Iterator[frozenset[str]]:
    waiting, seen = [need.control.name for way in ways_to_start(book) for need in way], set[str]()
    while waiting:
        name = waiting.pop()
        if name not in seen:
            seen.add(name)
            waiting += [edge.outer for edge in book.graph.outside(name)]
    yield frozenset(seen)


def runs_before(book: Book, entry: Entry) -> int:
    """Return the number of the last run before an entry; -1 for none."""
    return max((run.index for run in book.of(Run) if run.index < entry.index), default=-1)
