"""What hangs on a mechanic's arms: parts that fall when their fasteners are out, and who or what bears them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, equipment_account, once
from putback.ledger.entries import Entry
from putback.ledger.hanging import bears
from putback.ledger.lifted import people_at
from putback.model.machine import Fastener, Part
from putback.model.said import source_of
from putback.model.states import EquipmentState, GroupState, PartState
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.lifting import Lift
from putback.model.verbs.telling import Caution, Note, Stop
from putback.variants import NONE, VariantSet


class Carried(NamedTuple):
    """A part that is on, with none of its fasteners in, while somebody does other work."""

    part: Part
    """The part."""
    entry: Entry
    """The first step of other work."""
    since: Entry | None
    """The entry since which it is so."""
    variants: VariantSet
    """The variants in which it is."""


class _Loosed(NamedTuple):
    """A part that falls when its fasteners are out."""

    part: Part
    fasteners: tuple[Fastener, ...]
    own: frozenset[str]
    """What is done about it itself: it, its fasteners, and what these secure as well."""


@once
def _falling(book: Book) -> Iterator[_Loosed]:
    things = book.graph.machine.things
    for part in things.values():
        if isinstance(part, Part) and part.hangs:
            held = tuple(
                each
                for each in things.values()
                if isinstance(each, Fastener) and part.key in {ref.name for ref in each.secures}
            )
            own = {part.key} | {each.key for each in held} | {ref.name for each in held for ref in each.secures}
            if held:
                yield _Loosed(part, held, frozenset(own))


def carried(book: Book) -> Iterator[Carried]:
    """Yield each part that somebody must hold while other work is done, once for each time that it hangs so."""
    for loosed in _falling(book):
        told: dict[int, VariantSet] = {}
        for entry in book.entries:
            if _is_other_work(book, entry, loosed):
                variants, since = _free(book, entry, loosed)
                fresh = book.graph.space.without(variants, told.get(since, NONE))
                if fresh != NONE:
                    told[since] = book.graph.space.either(told.get(since, NONE), fresh)
                    yield Carried(loosed.part, entry, book.by(since), fresh)


def _is_other_work(book: Book, entry: Entry, loosed: _Loosed) -> bool:
    if isinstance(entry.step.action, Caution | Note | Stop) or people_at(book, entry) > 1:
        return False
    if isinstance(entry.step.action, TakeAway) or (isinstance(entry.step.action, Place) and _is_support(book, entry)):
        return False
    touched = {ref.name for ref in entry.touched}
    wets = isinstance(entry.step.action, Apply | Clean)
    moves = entry.step.verb.carries or entry.step.verb.assembles or entry.step.verb.shifts or entry.step.verb.releases
    return wets or not moves or not touched or not touched <= loosed.own


def _free(book: Book, entry: Entry, loosed: _Loosed) -> tuple[VariantSet, int]:
    """Return the variants in which it is on, nothing holds it and nothing bears it, and the entry that made it so."""
    space, here, since, off_by = book.graph.space, NONE, -1, -1
    for variants, state in book.before(loosed.part.key, entry):
        if isinstance(state, PartState) and state.on:
            here, since, off_by = space.either(here, variants), max(since, state.on_by), state.off_by
    placed_after, out = since, NONE
    for fastener in loosed.fasteners if here != NONE else ():
        for variants, state in book.before(fastener.key, entry):
            if isinstance(state, GroupState) and (state.tight or state.loose):
                here = space.without(here, variants)
            elif isinstance(state, GroupState):
                since, out = max(since, state.off_by), space.either(out, variants)
    here = space.both(space.both(here, out), entry.variants)
    for name, equipment in book.library.equipment.items() if here != NONE else ():
        if bears(equipment):
            here = space.without(here, _borne(book, entry, name, loosed, (placed_after, off_by)))
    return here, since


def _borne(book: Book, entry: Entry, name: str, loosed: _Loosed, times: tuple[int, int]) -> VariantSet:
    """Return the variants in which a piece of equipment bears it: it was put there after the part went on.

    What stood ready before bears it when the part was lifted with it; what another part came down on stands aside.
    """
    space, found, (went_on, came_off) = book.graph.space, NONE, times
    lifts = [each.index for each in book.of(Lift) if _lifts(each, loosed.own, name) and each.index > came_off]
    for variants, state in book.before(equipment_account(name), entry):
        placed = book.by(state.on_by) if isinstance(state, EquipmentState) and state.there else None
        if placed is None or not _is_support(book, placed):
            continue
        aside = any(_came_down(each, loosed, placed) for each in book.entries[placed.index : entry.index])
        if (placed.index > went_on and not aside) or any(index < entry.index for index in lifts):
            found = space.either(found, variants)
    return found


def _lifts(entry: Entry, parts: frozenset[str], equipment: str) -> bool:
    """Tell whether a step lifts a part with some equipment, or another one that the same fasteners hold, under it."""
    action = entry.step.action
    with_ = action.with_ if isinstance(action, Lift) else None
    return with_ is not None and with_.name == equipment and entry.target is not None and entry.target.name in parts


def _came_down(entry: Entry, loosed: _Loosed, placed: Entry) -> bool:
    """Tell whether another part that these fasteners held came off onto a support, or beside it."""
    taken = entry.step.verb.carries and not entry.step.verb.assembles and not isinstance(entry.step.action, Lift)
    other = entry.target is not None and entry.target.name in loosed.own - {loosed.part.key}
    fastener = entry.target is not None and entry.target.name in {each.key for each in loosed.fasteners}
    return entry.index > placed.index and taken and other and not fastener


def _is_support(book: Book, entry: Entry) -> bool:
    """Tell whether a step places something that can bear a load, and not on the bench for later."""
    action = entry.step.action
    equipment = book.library.equipment.get(entry.target.name) if entry.target else None
    if not isinstance(action, Place) or equipment is None:
        return False
    return bears(equipment) and "bench" not in source_of(action.at or "").lower().split()
