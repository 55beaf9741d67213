"""What is unfinished at the end of a job or block."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, equipment_account, memory_account, once
from putback.ledger.disturbing import away_at, disturbers_of
from putback.ledger.entries import Entry
from putback.ledger.journey import End
from putback.model.job import Block, Job
from putback.model.machine import AnyThing, Control, Fastener
from putback.model.setting import Setting
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    SettingState,
    State,
)
from putback.model.terms import Ref
from putback.model.verbs.blocks import Do
from putback.source.finding import Also
from putback.source.span import Span
from putback.variants import NONE, VariantSet


class Unfinished(NamedTuple):
    """An account that does not close as it should."""

    key: str
    """The name of the thing or equipment."""
    thing: AnyThing | None
    """The thing; None for a piece of equipment."""
    state: State
    """What it is left as."""
    variants: VariantSet
    """The variants in which it is left so."""
    entry: Entry | None
    """The entry that caused it; None when the sequence already found it so."""
    span: Span
    """The place of that entry's name."""
    ways: tuple[Also, ...]
    """Places that explain it: the `do` steps that led there, or what a block took off."""
    among: VariantSet
    """The variants and ways that come to the end at which it is left so."""
    block: str | None = None
    """The block that leaves it, as the block says itself: what is missing is in the job that does the block."""


@once
def unfinished(book: Book) -> Iterator[Unfinished]:
    """Yield what a job leaves off, open, out, loose, moved or in place, one for each entry that caused it and each end.

    What it lists under `ends-with` is left out.
    """
    for key, thing in book.graph.machine.things.items():
        if key not in book.leaves:
            yield from _of_account(book, key, key, thing)
    for name in book.library.equipment:
        if name not in book.leaves:
            yield from _of_account(book, equipment_account(name), name, None)


def is_closed(book: Book, name: str) -> bool:
    """Tell whether a thing or equipment ends as it should in every variant; False for a name without an account."""
    account = name if name in book.history else equipment_account(name)
    thing = book.graph.machine.things.get(name)
    holdings = book.closing(account)
    astray = any(isinstance(state, MarkState) and state.astray for _, state in book.closing(memory_account(name)))
    return bool(holdings) and not astray and all(_closed(thing, state) for _, state in holdings)


def is_whole_in(book: Book, name: str, entry: Entry | None) -> bool:
    """Tell whether a thing or equipment is before an entry, or at the end, as on a whole machine, in every variant."""
    if entry is None:
        return is_closed(book, name)
    account = name if name in book.history else equipment_account(name)
    thing = book.graph.machine.things.get(name)
    return account in book.history and all(_closed(thing, state) for _, state in book.held_before(account, entry))


def _of_account(book: Book, account: str, key: str, thing: AnyThing | None) -> Iterator[Unfinished]:
    if len(book.history[account][0]) == 1 and key not in book.found:
        return
    for end in book.ends:
        yield from _at_end(book, end, account, key, thing)


def _at_end(book: Book, end: End, account: str, key: str, thing: AnyThing | None) -> Iterator[Unfinished]:
    space = book.graph.space
    # What is still off, apart or loose is told itself, and not what it disturbs.
    away = away_at(book, thing, end) if isinstance(thing, Setting) else NONE
    merged: dict[tuple[int, object], tuple[State, VariantSet]] = {}
    for held, state in book.closing(account, end):
        variants = space.without(held, away)
        if variants != NONE and not _closed(thing, state):
            variants = space.without(variants, _set_by_hand(book, end, thing, state))
        if variants != NONE and not _closed(thing, state):
            same = (_cause(state), _how(state))
            first, before = merged.get(same, (state, NONE))
            merged[same] = (first, space.either(before, variants))
    for (number, _), (state, variants) in merged.items():
        entry = book.by(number)
        span = entry.target.span if entry and entry.target else _found_so(book, key)
        done = _left_by(book, key, entry)
        if done is None:
            ways = entry.ways if entry else _left_before(book, account)
            yield Unfinished(key, thing, state, variants, entry, span, ways, end.variants)
        else:
            also = (Also(span, "it is left so here, as the block says"),)
            yield Unfinished(key, thing, state, variants, entry, done.span, also, end.variants, done.name)


def _set_by_hand(book: Book, end: End, thing: AnyThing | None, state: State) -> VariantSet:
    """Return the variants in which an adjuster stands where its setting was adjusted to: nothing tightens it then.

    The nut of a brake rod has no torque; it was loosened, and the free travel was set with it since.
    """
    found = NONE
    if not isinstance(thing, Fastener) or not thing.no_torque or not isinstance(state, GroupState) or state.out:
        return found
    for key, setting in book.graph.machine.things.items():
        if isinstance(setting, Setting) and any(ref.name == thing.key for ref, _ in setting.adjusted_by):
            for held, known in book.closing(key, end):
                if isinstance(known, SettingState) and known.known and known.on_by > state.on_by:
                    found = book.graph.space.either(found, held)
    return found


def _left_before(book: Book, account: str) -> tuple[Also, ...]:
    """Return where an earlier job of the chain left what a job finds so."""
    earlier = book.earlier
    while earlier is not None:
        for _, state in earlier.closing(account):
            entry = earlier.by(_cause(state))
            if entry is not None and entry.target is not None:
                return (*entry.ways, Also(entry.target.span, "it is left so here, in the job before"))
        earlier = earlier.earlier
    return ()


def _left_by(book: Book, key: str, entry: Entry | None) -> Ref | None:
    """Return the name, in the sequence's own `do` step, of the block that leaves a thing and says so."""
    if entry is None or not entry.via or not isinstance(entry.via[0].action, Do):
        return None
    thing = book.graph.machine.things.get(key)
    disturbers = disturbers_of(book.graph, thing) if isinstance(thing, Setting) else ()
    names = {key, *(disturber.ref.name for disturber in disturbers)}
    for ref in entry.via[0].things:
        block = book.library.blocks.get(ref.name)
        if block is not None and any(left.name in names for left in block.ends_with):
            return ref
    return None


def closes(thing: AnyThing | None, state: State) -> bool:
    """Tell whether a state is that of a whole machine, and an adjustable part is where it was."""
    return _closed(thing, state) and not (isinstance(state, MarkState) and state.astray)


def _closed(thing: AnyThing | None, state: State) -> bool:
    match state:
        case PartState():
            return state.on
        case GroupState():
            return state.out == 0 and state.loose == 0
        case LineState():
            return not state.open
        case FluidState():
            return state.full
        case ControlState():
            return isinstance(thing, Control) and (thing.any_at_end or state.position == thing.normal.name)
        case EquipmentState():
            return not state.there
        case SettingState():
            return state.known
        case _:
            return True


def _cause(state: State) -> int:
    match state:
        case GroupState():
            return state.on_by if state.loose and not state.out else state.off_by
        case ControlState() | EquipmentState():
            return state.on_by
        case _:
            return state.off_by


def _how(state: State) -> object:
    """Return what a finding says of a state: two that differ in nothing of it are told as one."""
    match state:
        case GroupState():
            return state.tight, state.loose, state.taken, state.reached
        case LineState():
            return state.open
        case ControlState():
            return state.position
        case _:
            return None


def _found_so(book: Book, key: str) -> Span:
    match book.sequence:
        case Block(begins_with=begins):
            return next((ref.span for ref in begins if ref.name == key), book.sequence.span)
        case Job(after=Ref(span=span)) if key in book.found:
            return span
        case _:
            return book.sequence.span
