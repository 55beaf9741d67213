"""Posting every entry of a job or block to the accounts that it changes."""

from __future__ import annotations

from collections.abc import Callable

from putback.ledger import states
from putback.ledger.book import PROOF, Book, Holdings, aid_account, memory_account
from putback.ledger.entries import Entry
from putback.ledger.passes import Traveller
from putback.ledger.program import likely, write_program
from putback.ledger.states import (
    AidState,
    ControlState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    ProofState,
    State,
)
from putback.model import job as j
from putback.model.job import Block, Sequence, Verb
from putback.model.library import Library
from putback.model.machine import Control, Fastener, Fluid, Line, Part
from putback.model.terms import Need, Ref
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

ASSEMBLING = frozenset({Verb.INSTALL, Verb.REPLACE, Verb.TIGHTEN, Verb.CONNECT, Verb.FILL})
"""Verbs that put the machine together: after them it must be tested."""

PROVING = frozenset({Verb.RUN, Verb.CHECK, Verb.MEASURE})
"""Verbs that test it."""

MOST_CAUSES = 16
"""States of one account, above which those that differ only in their cause are gathered."""

_Change = Callable[[State], State]


def open_book(sequence: Sequence, graph: Graph, library: Library) -> Book:
    """Walk a job or block over a machine and return its book.

    Never fails: an entry that cannot happen (a thing that is not there) leaves its account as it was. Whether all
    was right is for the checks to say.
    """
    program = write_program(sequence, graph, library.blocks)
    book = Book(sequence, graph, library, program)
    undone = {ref.name for ref in sequence.opens} if isinstance(sequence, Block) else set()
    walker = _Walker(book)
    for key, thing in graph.machine.things.items():
        walker.open(key, states.opening(thing, undone=key in undone))
        if isinstance(thing, Part | Line) and thing.adjustable:
            walker.open(memory_account(key), MarkState(marked=key in undone, astray=key in undone))
    for name in library.aids:
        walker.open(aid_account(name), AidState(there=name in undone))
    walker.open(PROOF, ProofState())
    journey = Traveller(graph.space, program, walker).go()
    book.entries, book.ends, book.passes = journey.entries, journey.ends, journey.passes
    book.asked = journey.asked
    book.undecided = [order.step for order in journey.undecided]
    return book


class _Walker:
    def __init__(self, book: Book) -> None:
        self.book = book
        self.space = book.graph.space
        self.things = book.graph.machine.things
        self.held: dict[str, Holdings] = {}
        self.log: list[tuple[str, Holdings]] = []
        self.drained: dict[str, list[str]] = {}
        for key, thing in self.things.items():
            if isinstance(thing, Fluid):
                for ref in thing.drains:
                    self.drained.setdefault(ref.name, []).append(key)

    def open(self, account: str, state: State) -> None:
        self.held[account] = ((self.space.built, state),)
        self.book.history[account] = ([-1], [self.held[account]])

    def now(self) -> dict[str, Holdings]:
        """Return what every account holds."""
        return dict(self.held)

    def put(self, account: str, holdings: Holdings, after: float) -> None:
        """Let an account hold something else from an entry on, or, with half a number, from behind one."""
        self.log.append((account, self.held[account]))
        self.held[account] = holdings
        numbers, history = self.book.history[account]
        if numbers[-1] == after:
            history[-1] = holdings
        else:
            numbers.append(after)
            history.append(holdings)

    def change(self, account: str, worlds: VariantSet, by: int, change: _Change) -> None:
        """Change an account within some variants, and leave it as it is in the others."""
        old = self.held[account]
        new: Holdings
        if len(old) == 1 and worlds == old[0][0]:
            new = ((worlds, change(old[0][1])),)
        else:
            parts: dict[State, VariantSet] = {}
            for held, state in old:
                here = self.space.both(held, worlds)
                if here != NONE:
                    after = change(state)
                    parts[after] = self.space.either(parts.get(after, NONE), here)
                    held = self.space.without(held, here)
                if held != NONE:
                    parts[state] = self.space.either(parts.get(state, NONE), held)
            if len(parts) > MOST_CAUSES:
                parts = self.gathered(parts)
            new = tuple((held, state) for state, held in parts.items())
        self.put(account, new, by)

    def gathered(self, parts: dict[State, VariantSet]) -> dict[State, VariantSet]:
        """Make one of what differs only in who made it so, but for the first few: each of them is told."""
        found: dict[State, VariantSet] = {}
        alike: dict[State, list[State]] = {}
        for state, held in parts.items():
            same = alike.setdefault(states.bare(state), [])
            if len(same) < MOST_CAUSES // 2:
                same.append(state)
                found[state] = held
            else:
                found[same[-1]] = self.space.either(found[same[-1]], held)
        return found

    def post(self, entry: Entry) -> None:
        self.prove(entry)
        for need in self.book.graph.machine.verb_makes.get(entry.step.verb.value, ()):
            self.make(entry, need)
        name = entry.target.name if entry.target else ""
        if isinstance(entry.step.action, j.Place | j.Clear):
            if name in self.book.library.aids:
                self.aid(entry, name)
            return
        change = self.effect(entry, name)
        if change is not None:
            self.change(name, entry.worlds, entry.index, change)
            self.remember(entry, name)
            self.spill(entry, name)
        elif isinstance(entry.step.action, j.Mark | j.Align | j.Measure | j.Inspect):
            self.remember(entry, name)

    def make(self, entry: Entry, need: Need) -> None:
        """A verb leaves a control in a position: running makes an engine hot."""
        control, position = self.things.get(need.control.name), need.position.name
        if isinstance(control, Control):
            known = control
            worlds = self.space.both(entry.worlds, self.book.graph.present(control.key))
            self.change(
                control.key, worlds, entry.index, lambda state: _set(_setting(state), position, known, entry.index)
            )

    def effect(self, entry: Entry, name: str) -> _Change | None:
        """Return what an entry does to the account of the thing that it names; None when nothing."""
        thing, action, by = self.things.get(name), entry.step.action, entry.index
        match action, thing:
            case (j.Remove(), Part()):
                return lambda state: _piece(state)._replace(on=False, off_by=by) if _piece(state).on else state
            case (j.Install(), Part()):
                return lambda state: state if _piece(state).on else _piece(state)._replace(on=True, on_by=by)
            case (j.Replace(), Part()):
                return lambda state: _piece(state)._replace(on=True, off_by=by, on_by=by)
            case (j.Remove(count=count, at=places), Fastener() as group):
                return lambda state: states.take_out(_group(state), count, by, chosen(group, places))
            case (j.Install(count=count, at=places), Fastener() as group):
                return lambda state: states.put_in(
                    _group(state), count, by, finished=not group.turned, at=chosen(group, places)
                )
            case (j.Replace(count=count, at=places), Fastener() as group):
                return lambda state: states.put_in(
                    states.take_out(_group(state), count, by, chosen(group, places)),
                    count,
                    by,
                    finished=not group.turned,
                    at=chosen(group, places),
                )
            case (j.Loosen(count=count, at=places), Fastener() as group):
                return lambda state: states.slacken(_group(state), count, by, chosen(group, places))
            case (j.Tighten(count=count, at=places), Fastener() as group):
                return lambda state: states.tighten(_group(state), count, chosen(group, places))
            case (j.Disconnect(at=at), Line() as line):
                off = frozenset({likely(at, states.ends(line)).name}) if at else states.ends(line)
                return lambda state: LineState(_joint(state).open | off, by, _joint(state).on_by)
            case (j.Connect(at=at), Line() as line):
                on = frozenset({likely(at, states.ends(line)).name}) if at else states.ends(line)
                return lambda state: LineState(_joint(state).open - on, _joint(state).off_by, by)
            case (j.Drain(), Fluid()):
                return lambda state: _level(state)._replace(full=False, off_by=by)
            case (j.Fill(), Fluid()):
                return lambda state: FluidState(full=True, on_by=by)
            case (j.Set(to=to), Control() as control):
                positions = [ref.name for ref in control.positions]
                position = likely(to, positions).name
                if position in positions:
                    return lambda state: _set(_setting(state), position, control, by)
                return None
            case _:
                return None

    def aid(self, entry: Entry, name: str) -> None:
        there = isinstance(entry.step.action, j.Place)

        def change(state: State) -> State:
            old = state if isinstance(state, AidState) else AidState()
            return AidState(there, old.off_by, entry.index) if there else AidState(there, entry.index, old.on_by)

        self.change(aid_account(name), entry.worlds, entry.index, change)

    def remember(self, entry: Entry, name: str) -> None:
        """Keep what is known of the position of an adjustable part."""
        account = memory_account(name)
        if account not in self.book.history:
            return
        by, action, thing = entry.index, entry.step.action, self.things.get(name)
        if isinstance(action, j.Measure) and isinstance(thing, Part) and thing.wear:
            # How worn it is tells nothing of where it stands.
            return

        def change(state: State) -> State:
            old = state if isinstance(state, MarkState) else MarkState()
            match action:
                case j.Mark() | j.Measure():
                    return old if old.astray else old._replace(marked=True, on_by=by)
                case j.Align():
                    return MarkState()
                case j.Remove() | j.Replace() | j.Disconnect():
                    return old if old.astray else old._replace(astray=True, off_by=by)
                case _:
                    return old

        self.change(account, entry.worlds, by, change)

    def spill(self, entry: Entry, name: str) -> None:
        """A fluid is out once one of its drains is opened; one that is replaced in one go is open meanwhile."""
        action = entry.step.action
        if not isinstance(action, j.Remove | j.Replace | j.Disconnect | j.Set):
            return
        for fluid in self.drained.get(name, []):
            for held, state in self.held[name]:
                here = self.space.both(held, entry.worlds)
                opened = isinstance(action, j.Replace) or states.is_open(self.things[name], state)
                if here != NONE and opened:
                    self.change(fluid, here, entry.index, lambda level: _spilt(level, entry.index))

    def prove(self, entry: Entry) -> None:
        if entry.step.verb not in ASSEMBLING and entry.step.verb not in PROVING:
            return
        state = ProofState(proved=entry.step.verb in PROVING)
        self.change(PROOF, entry.worlds, entry.index, lambda _: state)


def chosen(group: Fastener, at: tuple[Ref, ...]) -> states.Chosen:
    """Return the numbers of the pieces that a step names; unknown names are told by `unknown-name`."""
    return tuple(group.positions.index(ref.name) for ref in at if ref.name in group.positions)


def _spilt(state: State, by: int) -> State:
    return FluidState(full=False, off_by=by, opened_by=by) if _level(state).full else state


def _level(state: State) -> FluidState:
    assert isinstance(state, FluidState)
    return state


def _set(state: ControlState, position: str, control: Control, by: int) -> ControlState:
    at_rest = state.position == control.rest.name
    return ControlState(position, by if at_rest and position != control.rest.name else state.off_by, by)


def _piece(state: State) -> PartState:
    assert isinstance(state, PartState)
    return state


def _group(state: State) -> GroupState:
    assert isinstance(state, GroupState)
    return state


def _joint(state: State) -> LineState:
    assert isinstance(state, LineState)
    return state


def _setting(state: State) -> ControlState:
    assert isinstance(state, ControlState)
    return state
