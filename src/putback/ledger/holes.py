"""Equipment that sits in the hole of a fastener or part: a guide stud, a test plug, a long screw."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.model.library import Equipment
from putback.model.states import EquipmentState
from putback.model.verbs.equipment import Place
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
    def count(self) -> int:
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
                at = dict(state.holes).get(key) if isinstance(state, EquipmentState) and state.there else None
                if at is not None and isinstance(state, EquipmentState):
                    yield Sitter(book.library.equipment[name], at, state.on_by, variants)
