"""Equipment that sits in the hole of a fastener or part: a guide stud, a test plug, a long screw."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.joints import JointError
from putback.joints.threads import Thread, read_thread
from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.model.library import Equipment
from putback.model.machine import AnyThing, Fastener
from putback.model.states import EquipmentState, GroupState, PartState, State
from putback.model.verbs.equipment import Place
from putback.model.verbs.pieces import Install, Replace
from putback.variants import VariantSet


class Sitter(NamedTuple):
    """A piece of equipment in a hole."""

    equipment: Equipment
    """What sits there."""
    at: tuple[str, ...]
    """The positions of the holes; none for any one of them."""
    since: int
    """The number of the entry that placed it."""
    variants: VariantSet
    """The variants in which it sits there."""

    @property
    def takes(self) -> int:
        """How many holes it takes."""
        return max(1, len(self.at))


@once
def holes_taken(book: Book) -> Iterator[tuple[str, str]]:
    """Yield each hole that a step of a job places equipment in, by the thing it belongs to, and the equipment."""
    found = {
        (hole.ref.name, entry.target.name): None
        for entry in book.of(Place)
        if isinstance(entry.step.action, Place) and entry.target is not None
        for hole in entry.step.action.in_
        if entry.target.name in book.library.equipment
    }
    yield from found


def sitting_in(book: Book, entry: Entry, key: str) -> Iterator[Sitter]:
    """Yield what sits in the holes of a fastener or part just before an entry."""
    for hole, name in holes_taken(book):
        if hole == key:
            for variants, state in book.before(equipment_account(name), entry):
                if isinstance(state, EquipmentState) and (at := dict(state.holes).get(key)) is not None:
                    yield Sitter(book.library.equipment[name], at, state.on_by, variants)


def fits(thing: AnyThing, state: State, action: Install | Replace, sitters: list[Sitter]) -> bool:
    """Tell whether as many holes are free as pieces go in, and those that they are meant for."""
    if not isinstance(state, GroupState) or not isinstance(thing, Fastener):
        return not isinstance(state, PartState) or state.on
    taken = {at for sitter in sitters for at in sitter.at}
    wanted = {ref.name for ref in action.at}
    if wanted and state.places:
        return taken.isdisjoint(wanted) and state.out - len(wanted) >= sum(not sitter.at for sitter in sitters)
    return (action.count or state.out) <= state.out - sum(sitter.takes for sitter in sitters)


def is_in(state: State, thing: AnyThing, positions: tuple[str, ...]) -> bool:
    """Tell whether the piece is in, or all pieces are, in whose hole something is placed."""
    if isinstance(state, GroupState):
        if positions and state.places and isinstance(thing, Fastener):
            return any(state.places[thing.positions.index(at)] != "out" for at in positions if at in thing.positions)
        return state.out == 0
    return isinstance(state, PartState) and state.on


def differ(equipment: Equipment, thing: Fastener) -> bool:
    """Tell whether two threads are known and differ."""
    own, other = _thread(equipment.thread), thing.screw
    return own is not None and other is not None and (own.diameter, own.pitch) != (other.diameter, other.pitch)


def _thread(text: str | None) -> Thread | None:
    try:
        return read_thread(text) if text else None
    except JointError:
        return None
