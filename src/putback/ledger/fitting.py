"""Whether a block is done, or reversed, where it fits: whether all that it begins with is so.

A block is proved by itself, from what it says under `begins-with`. Done where that is not so, nearly every step of it
goes wrong; so the two are compared where a job does it. The reverse of a block begins with what the block leaves.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.ledger.book import Book, Holdings, equipment_account, once
from putback.ledger.doing import Doing, runs
from putback.ledger.entries import Entry
from putback.model.called import position_word
from putback.model.job import Block, Step
from putback.model.machine import AnyThing, Control, Line
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    PartState,
    SettingState,
    State,
    ends,
)
from putback.model.verb import Action
from putback.model.verbs.blocks import Do
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.model.verbs.telling import Caution, Note
from putback.variants import NONE, VariantSet


class Unfit(NamedTuple):
    """A thing or equipment that is not as a block needs it."""

    name: str
    """Its name."""
    away: bool
    """Whether the block needs it otherwise than on a whole machine."""
    state: State
    """How it is."""
    since: int
    """The number of the entry that made it so; -1 for none."""

    def wanted(self, book: Book) -> str:
        """Return how the block needs it, in a word: that of a control's position, else as faults of order have it."""
        thing = book.graph.machine.things.get(self.name)
        if isinstance(thing, Control):
            return position_word(thing, away=self.away)
        return ("placed" if self.away else "off") if thing is None else ("off" if self.away else "on")


class Misfit(NamedTuple):
    """A block that is done where it does not fit."""

    doing: Doing
    """The block, as it is done there."""
    unfit: tuple[Unfit, ...]
    """What is not so, in the order of the block."""
    variants: VariantSet
    """The variants and ways in which one of these is not so."""

    def maker(self, book: Book) -> str | None:
        """Return the block that would bring all of it about; of several the one that leaves least behind."""
        names, blocks = {unfit.name for unfit in self.unfit}, book.library.blocks
        makers = [key for key, block in blocks.items() if names <= _moved_by(block)]
        return min(makers, key=lambda key: len(blocks[key].ends_with), default=None)

    def done_before(self, book: Book) -> set[str]:
        """Return the blocks that made it as it is not wanted."""
        entries = [book.by(unfit.since) for unfit in self.unfit]
        return {name for entry in entries if entry for step in entry.via for name in _names(step)}


@once
def misfits(book: Book) -> Iterator[Misfit]:
    """Yield the blocks of a job that are done where something that they begin with is not so, the outer ones first."""
    things, space = book.graph.machine.things, book.graph.space
    for run in runs(book):
        if run.backwards and not _moved_by(run.block):
            continue  # There is nothing to reverse: that is told.
        found: dict[str, Unfit] = {}
        where = NONE
        for name, away, variants in _wanted(book, run):
            for held, state in held_before(book, name, run.entries[0]):
                here = space.both(held, variants)
                if here != NONE and not _fits(things.get(name), state, away=away):
                    found.setdefault(name, Unfit(name, away, state, since_of(state, away=away)))
                    where = space.either(where, here)
        unfit = tuple(_mattering(book, run, list(found.values())))
        if unfit:
            yield Misfit(run, unfit, where)


@once
def for_nothing(book: Book) -> Iterator[Doing]:
    """Yield blocks that make safe, done and reversed at once: nothing is done that they were there for."""
    things = book.graph.machine.things
    found = list(runs(book))
    for number, run in enumerate(found):
        last = run.entries[-1]
        back = next((other for other in found[number + 1 :] if other.entries[0].index > last.index), None)
        if back is None or run.backwards or not back.backwards or back.ref.name != run.ref.name or last.again:
            continue
        moved = [things.get(name) for name in _moved_by(run.block)]
        controls = any(isinstance(thing, Control) for thing in moved)
        if not controls or not all(thing is None or isinstance(thing, Control | Line) for thing in moved):
            continue
        between = book.entries[last.index + 1 : back.entries[0].index]
        if run.chain[:-1] == back.chain[:-1] and all(isinstance(each.step.action, Caution | Note) for each in between):
            yield run


def _wanted(book: Book, run: Doing) -> Iterator[tuple[str, bool, VariantSet]]:
    """Yield what a block begins with: names, whether they are away, and the variants in which that matters."""
    begins = [ref.name for ref in run.block.begins_with]
    leaves = [ref.name for ref in run.block.ends_with]
    things = book.graph.machine.things
    everywhere = _either(book, run.entries)
    if not run.backwards:
        yield from ((name, True, everywhere) for name in begins)
        taken = [name for name in leaves if name not in begins]
    else:
        yield from ((name, True, everywhere) for name in leaves if name in begins)
        for name in leaves:
            if name not in begins:
                is_control = isinstance(things.get(name), Control)
                yield name, True, everywhere if is_control else _either(book, _done_to(run, name, _PUT))
        taken = [name for name in begins if name not in leaves]
    for name in taken:
        is_control = isinstance(things.get(name), Control)
        yield name, False, everywhere if is_control else _either(book, _done_to(run, name, _TAKEN))


_PUT = (Install, Connect, TakeAway)
_TAKEN = (Remove, Replace, Disconnect, Place)


def _done_to(run: Doing, name: str, verbs: tuple[type[Action], ...]) -> Iterator[Entry]:
    """Yield the entries of a block that do one of some things to a thing."""
    for entry in run.entries:
        if entry.target is not None and entry.target.name == name and isinstance(entry.step.action, verbs):
            yield entry


def _either(book: Book, entries: Iterable[Entry]) -> VariantSet:
    found = NONE
    for variants in {entry.variants for entry in entries}:
        found = book.graph.space.either(found, variants)
    return found


def held_before(book: Book, name: str, entry: Entry) -> Holdings:
    """Return what a thing or a piece of equipment is before an entry, also in variants that are not the entry's."""
    account = name if name in book.history else equipment_account(name)
    if account not in book.history:
        return ()
    present, both = book.graph.present(account), book.graph.space.both
    return tuple((both(held, present), state) for held, state in book.held_before(account, entry))


def _fits(thing: AnyThing | None, state: State, *, away: bool) -> bool:
    """Tell whether something is as it is needed: away from how it is on a whole machine, or not quite away."""
    match state:
        case PartState():
            return state.on is not away
        case GroupState():
            return bool(state.out or state.loose) if away else bool(state.tight or state.loose)
        case LineState():
            return bool(state.open) if away else not (isinstance(thing, Line) and state.open >= ends(thing))
        case FluidState():
            return not (state.full and away)
        case ControlState():
            return not isinstance(thing, Control) or (state.position != thing.normal.name) is away
        case EquipmentState():
            return state.there is away
        case SettingState():
            return not (state.known and away)
        case _:
            return True


def since_of(state: State, *, away: bool) -> int:
    """Return the number of the entry that made something as it is not wanted."""
    if isinstance(state, ControlState):
        return state.on_by
    if isinstance(state, EquipmentState):
        return state.off_by if away else state.on_by
    if isinstance(state, PartState | GroupState | LineState):
        return state.on_by if away else state.off_by
    return -1


def _mattering(book: Book, run: Doing, found: list[Unfit]) -> Iterator[Unfit]:
    """Yield what makes a fault: to set a control to where it is does no harm, as long as other work was done."""
    moved = _moved_by(run.block)
    idle = [unfit for unfit in found if isinstance(unfit.state, ControlState) and unfit.name in moved]
    solid = [unfit for unfit in found if unfit not in idle]
    for_nothing = len(idle) == len(moved) and all(_for_nothing(book, run, unfit) for unfit in idle)
    yield from solid or (idle if for_nothing else ())


def _for_nothing(book: Book, run: Doing, unfit: Unfit) -> bool:
    """Tell whether a control was never moved, so that there is nothing to reverse, or was moved by the same block."""
    if run.backwards:
        return unfit.since < 0
    entry = book.by(unfit.since)
    again = run.entries[0].again
    return entry is not None and not again and any(run.block.key in _names(step) for step in entry.via)


def _names(step: Step) -> set[str]:
    return {ref.name for ref in step.things} if isinstance(step.action, Do) else set()


def _moved_by(block: Block) -> set[str]:
    """Return what a block leaves otherwise than it finds it."""
    return {ref.name for ref in block.ends_with} - {ref.name for ref in block.begins_with}
