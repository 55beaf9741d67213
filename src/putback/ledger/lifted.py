"""Which takings-off and puttings-on of a part have a step for its lifting, and which have none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.ledger.handling import way_of
from putback.ledger.hazards import Risk
from putback.ledger.load import Burden, burden
from putback.lifting.equation import recommended
from putback.model.job import Job, Later
from putback.model.states import EquipmentState
from putback.model.verbs.lifting import LIFT, Lift
from putback.units import si
from putback.variants import NONE, VariantSet


class Handled(NamedTuple):
    """A step that takes off or puts on a part that the job lifts by a step of its own somewhere."""

    entry: Entry
    """The step."""
    lifted: VariantSet
    """The variants in which a `lift` step goes with it: before it or after it, and not before or after another."""
    lift: Entry
    """The first step that lifts the part."""


@once
def handled(book: Book) -> Iterator[Handled]:
    """Yield each step that has a part in hand, of parts that are lifted by a step in the same job."""
    lifts: dict[str, Entry] = {}
    for entry in book.of(Lift):
        if entry.target:
            lifts.setdefault(entry.target.name, entry)
    for key, first in lifts.items():
        along = [
            entry for entry in book.entries if entry.target and entry.target.name == key and entry.step.verb.carries
        ]
        before, used = NONE, set[int]()
        for place, entry in enumerate(along):
            if isinstance(entry.step.action, Lift):
                before = before if entry.index in used else book.graph.space.either(before, entry.variants)
                continue
            lifted, before = book.graph.space.both(before, entry.variants), NONE
            others = (other for other in along[place + 1 :] if not isinstance(other.step.action, Lift))
            next_one = next(others, None)
            for after in along[place + 1 :] if lifted != entry.variants else ():
                if after is next_one or (next_one is not None and _far(after, entry) > _far(after, next_one)):
                    break
                here = book.graph.space.both(after.variants, book.graph.space.without(entry.variants, lifted))
                if here != NONE:
                    used.add(after.index)
                    lifted = book.graph.space.either(lifted, here)
            yield Handled(entry, lifted, first)


def lifted_at(book: Book, entry: Entry) -> Iterator[Risk]:
    """Yield the hazards of lifting at a step that has a heavy part in hand, although no `lift` step says so.

    A safety message that warns of the load is true there: that the step is missing is told by itself.
    """
    key = entry.target.name if entry.target and entry.step.verb.carries else ""
    hazards = [each for each in book.library.hazards.values() if LIFT.name in each.verbs and not each.tags]
    if not key or not hazards or entry.step.verb is LIFT:
        return
    load = burden(book, entry, key)
    if load is None or not load.most:
        return
    heavy = load.over(recommended(way_of(None, load.most)).rwl)
    for hazard in hazards if heavy != NONE else ():
        yield Risk(hazard, entry, heavy, key)


def _far(lift: Entry, entry: Entry) -> tuple[bool, int]:
    """Return how far a lift is from a step: in another section, and how many entries away."""
    return lift.section != entry.section, abs(lift.index - entry.index)


def people_at(book: Book, entry: Entry) -> int:
    """Return how many people lift: as the step says, or as many as the job is for."""
    stated = entry.step.action.people if isinstance(entry.step.action, Lift) else None
    return stated or (book.sequence.people if isinstance(book.sequence, Job | Later) else 1)


def unborne(book: Book, entry: Entry, load: Burden, variants: VariantSet, by_name: str | None) -> VariantSet:
    """Leave out the variants in which a piece of equipment that is in place, or that the step names, bears the load."""
    space = book.graph.space
    for key, equipment in book.library.equipment.items():
        rated_load = si(equipment.rated_load)[0] if equipment.rated_load and variants != NONE else None
        if rated_load is None:
            continue
        placed = book.where(equipment_account(key), entry, lambda at: isinstance(at, EquipmentState) and at.there)
        there = variants if key == by_name else space.both(variants, placed)
        variants = space.without(variants, space.without(there, load.over(rated_load))) if there != NONE else variants
    return variants
