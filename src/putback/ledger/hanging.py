"""What hangs at an entry: on a hoist, or on the last fasteners that are still in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.model.library import Equipment
from putback.model.machine import Fastener, Part
from putback.model.said import source_of
from putback.model.states import GroupState, is_there, is_whole
from putback.model.verbs.equipment import Place
from putback.model.verbs.lifting import Lift
from putback.units import si
from putback.variants import NONE, VariantSet

HEAVY = 5.0
"""kg: what hurts whom it falls on. Of less, nobody says in a manual how it hangs."""
_TAG = "heavy"

_HOISTS = frozenset({"chain", "crane", "gantry", "hoist", "sling", "strap", "tackle", "winch"})


class Hung(NamedTuple):
    """A part that falls when what it hangs on gives way."""

    part: Part
    """The part."""
    hoist: Equipment | None
    """What it hangs on; None for its last fasteners."""
    since: Entry
    """The entry since which it hangs."""
    variants: VariantSet
    """The variants in which it does."""


def hangs(book: Book, entry: Entry) -> Iterator[Hung]:
    """Yield what hangs at an entry: parts that were lifted and not set down, and those on their last fasteners."""
    lifted = list(_lifted(book, entry))
    yield from lifted
    for part, fasteners in heavy_parts(book):
        if all(each.part.key != part.key for each in lifted):
            yield from _on_last(book, entry, part, fasteners)


def is_hoist(equipment: Equipment) -> bool:
    """Tell whether something hangs from equipment of this name, and does not stand on it."""
    return not _HOISTS.isdisjoint(source_of(equipment.name).lower().replace("-", " ").split())


@once
def heavy_parts(book: Book) -> Iterator[tuple[Part, tuple[Fastener, ...]]]:
    """Yield the heavy parts that fasteners secure, each with these."""
    held: dict[str, list[Fastener]] = {}
    for thing in book.graph.machine.things.values():
        if isinstance(thing, Fastener):
            for ref in thing.secures:
                held.setdefault(ref.name, []).append(thing)
    for key, fasteners in held.items():
        part = book.graph.machine.things.get(key)
        if isinstance(part, Part) and _is_heavy(part):
            yield part, tuple(fasteners)


def _is_heavy(part: Part) -> bool:
    mass = si(part.mass)[1] if part.mass else None
    return (mass or 0) >= HEAVY or any(tag.name == _TAG for tag in part.tags)


def _lifted(book: Book, entry: Entry) -> Iterator[Hung]:
    """Yield what was lifted with a hoist that is still there, and has not been set down or put back since."""
    space, seen = book.graph.space, set[str]()
    for lift in reversed(book.of(Lift)):
        action, target = lift.step.action, lift.target
        if lift.index > entry.index or target is None or target.name in seen or not isinstance(action, Lift):
            continue
        seen.add(target.name)
        part = book.graph.machine.things.get(target.name)
        hoist = book.library.equipment.get(action.with_.name) if action.with_ else None
        if hoist is None or not isinstance(part, Part) or action.to_height is not None:
            continue
        here = space.both(lift.variants, _still_up(book, hoist, lift, entry))
        if here != NONE and is_hoist(hoist) and not _set_down(book, part, lift, entry):
            yield Hung(part, hoist, lift, here)


def _still_up(book: Book, hoist: Equipment, lift: Entry, entry: Entry) -> VariantSet:
    """Return the variants in which a hoist is in place; of one that no step places, nobody knows after the section."""
    if any(each.target is not None and each.target.name == hoist.key for each in book.of(Place)):
        return book.where(equipment_account(hoist.key), entry, is_there)
    return entry.variants if lift.section == entry.section else NONE


def _set_down(book: Book, part: Part, lift: Entry, entry: Entry) -> bool:
    """Tell whether a part was put back, or something was placed that it stands on, since it was lifted."""
    between = book.entries[lift.index + 1 : entry.index]
    back = any(
        each.target is not None and each.target.name == part.key and each.step.verb.assembles for each in between
    )
    return back or any(isinstance(each.step.action, Place) for each in between)


def _on_last(book: Book, entry: Entry, part: Part, fasteners: tuple[Fastener, ...]) -> Iterator[Hung]:
    """Yield a part that is on with none of its fasteners tight: on a hoist, or on those that are still in."""
    space, some_out, since = book.graph.space, NONE, -1
    here = book.where(part.key, entry, is_whole)
    for fastener in fasteners if here != NONE else ():
        for variants, state in book.before(fastener.key, entry):
            if isinstance(state, GroupState) and state.pressing:
                here = space.without(here, variants)
            elif isinstance(state, GroupState):
                since = max(since, state.off_by, state.on_by)
                some_out = space.either(some_out, variants) if state.out and state.loose else some_out
    by = book.by(since)
    if here == NONE or by is None:
        return
    for name, equipment in book.library.equipment.items():
        held = book.where(equipment_account(name), entry, is_there) if bears(equipment) else NONE
        if space.both(here, held) != NONE:
            if is_hoist(equipment):
                yield Hung(part, equipment, by, space.both(here, held))
            here = space.without(here, held)
    if space.both(here, some_out) != NONE:
        yield Hung(part, None, by, space.both(here, some_out))


def bears(equipment: Equipment) -> bool:
    """Tell whether equipment can bear a load: it has a rated load, or its name tells."""
    return equipment.rated_load is not None or is_hoist(equipment)
