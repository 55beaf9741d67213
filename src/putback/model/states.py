"""What an account can hold, and how one entry changes it.

States are plain values; every change returns a new one. `off_by` and `on_by` are numbers of entries (-1: none), so that
a finding can point at the step that caused a state.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias, TypeVar

from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.reach import Reach
from putback.model.setting import Setting
from putback.model.terms import Ref

NEVER = -1
"""The number of no entry."""


class PartState(NamedTuple):
    """A part."""

    on: bool = True
    off_by: int = NEVER
    on_by: int = NEVER
    renew: bool = False
    """It is off, and the next one to go on is new."""


class Reached(NamedTuple):
    """Pieces of a group that are tight in the same way."""

    level: Reach
    """How tight."""
    count: int = 1  # type: ignore[assignment]  # a number, and not the method of tuples
    """How many."""
    piece: int = -1
    """The number of the one piece, from 0, when the pieces have names."""


class GroupState(NamedTuple):
    """Fasteners of one role."""

    tight: int
    loose: int = 0
    """Hand-tight or loosened."""
    out: int = 0
    taken: int = 0
    """The most that were out at one time since all were in."""
    off_by: int = NEVER
    """The last entry that took some out."""
    on_by: int = NEVER
    """The last entry that put some in, or loosened them."""
    places: tuple[str, ...] = ()
    """For pieces with names, in their order: `tight`, `loose` or `out`; empty for pieces that are all alike."""
    reached: tuple[Reached, ...] = ()
    """Pieces that are neither loose nor just done, the looser first: a stage was reached, or more than is due."""
    to_by: int = NEVER
    """The last entry that tightened some to less than they are due, while there are such."""
    renew: tuple[int, ...] = ()
    """Pieces that are out, and in whose place the next to go in is new: their numbers, or -1 where all are alike."""

    @property
    def all(self) -> int:
        """How many there are."""
        return self.tight + self.loose + self.out

    @property
    def staged(self) -> tuple[Reached, ...]:
        """Those that were tightened to less than they are due."""
        return tuple(some for some in self.reached if not some.level.done)

    @property
    def pressing(self) -> int:
        """How many press on what they hold, be it with less than they are due."""
        return self.tight + sum(some.count for some in self.staged)


class LineState(NamedTuple):
    """A line; its ends are named by the parts that it joins."""

    open: frozenset[str] = frozenset()
    off_by: int = NEVER
    on_by: int = NEVER


class FluidState(NamedTuple):
    """A fluid."""

    full: bool = True
    off_by: int = NEVER
    """The entry that let it out: the `drain` step, or else the one that opened the drain."""
    on_by: int = NEVER
    opened_by: int = NEVER
    """The entry that opened the drain."""


class ControlState(NamedTuple):
    """A control."""

    position: str
    off_by: int = NEVER
    """The entry that moved it from its normal position."""
    on_by: int = NEVER
    """The last entry that moved it."""


class EquipmentState(NamedTuple):
    """A piece of equipment."""

    there: bool = False
    off_by: int = NEVER
    """The entry that cleared it."""
    on_by: int = NEVER
    """The entry that placed it."""
    holes: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """The fasteners, or parts, in whose holes it sits, each with the positions."""


class MarkState(NamedTuple):
    """What is known of the position of an adjustable part."""

    marked: bool = False
    astray: bool = False
    """It has been off, and is not aligned yet."""
    off_by: int = NEVER
    """The entry that took it off."""
    on_by: int = NEVER
    """The entry that marked it."""


class SettingState(NamedTuple):
    """What is known of a setting."""

    known: bool = True
    """It is as it was, or was adjusted or measured since it was disturbed."""
    off_by: int = NEVER
    """The entry that disturbed it first since it was known."""
    on_by: int = NEVER
    """The last entry that adjusted or measured it."""


class ProofState(NamedTuple):
    """Whether a test followed the last assembly.

    Which assembly that was is not kept: every option meets on this account, and each would split it.
    """

    proved: bool = True
    ran: bool = False
    """It was run since, and nobody has said yet what must be seen."""
    off_by: int = NEVER
    on_by: int = NEVER


Chosen: TypeAlias = tuple[int, ...]
"""Numbers of named pieces, from 0, as the fastener lists its positions; empty for any."""

State: TypeAlias = (
    PartState
    | GroupState
    | LineState
    | FluidState
    | ControlState
    | EquipmentState
    | MarkState
    | SettingState
    | ProofState
)
"""What an account holds."""


_Kind = TypeVar("_Kind", bound=State)


def of(kind: type[_Kind], state: State) -> _Kind:
    """Return a state that can only be of one kind: that of its account."""
    assert isinstance(state, kind)
    return state


def bare(state: State) -> State:
    """Return a state without who made it so: two machines are the same when all of their bare states are."""
    match state:
        case FluidState():
            return FluidState(full=state.full)
        case GroupState():
            return state._replace(off_by=NEVER, on_by=NEVER, to_by=NEVER)
        case _:
            return state._replace(off_by=NEVER, on_by=NEVER)


def opening(thing: AnyThing, *, undone: bool = False) -> State:
    """Return how an account opens: in place, tight, connected, full, normal, set; or the opposite when `undone`."""
    match thing:
        case Fastener():  # a part that is screwed on as well
            places = ("out" if undone else "tight",) * thing.count if thing.positions else ()
            return (
                GroupState(0, 0, thing.count, thing.count, places=places)
                if undone
                else GroupState(thing.count, places=places)
            )
        case Part():
            return PartState(on=not undone)
        case Line():
            return LineState(ends(thing) if undone else frozenset())
        case Fluid():
            return FluidState(full=not undone)
        case Control():
            others = [position.name for position in thing.positions if position.name != thing.normal.name]
            return ControlState(others[0] if undone and others else thing.normal.name)
        case Setting():
            return SettingState(known=not undone)


def ends(line: Line) -> frozenset[str]:
    """Return the ends of a line."""
    return frozenset(ref.name for ref in line.joins) or frozenset({line.key})


def is_off(thing: AnyThing, state: State) -> bool:
    """Tell whether a thing is out of the way of what it holds, covers or joins."""
    match state:
        case PartState():
            return not state.on
        case GroupState():
            return state.pressing == 0 if _frees_loose(thing) else state.out == state.all
        case LineState():
            return isinstance(thing, Line) and state.open >= ends(thing)
        case _:
            return True


def _frees_loose(thing: AnyThing) -> bool:
    return isinstance(thing, Fastener) and thing.releases_when_loose


def is_there(state: State) -> bool:
    """Tell whether it is a piece of equipment that is in place."""
    return isinstance(state, EquipmentState) and state.there


def is_whole(state: State) -> bool:
    """Tell whether nothing of it is off, out or open (hand-tight counts as whole)."""
    match state:
        case PartState():
            return state.on
        case GroupState():
            return state.out == 0
        case LineState():
            return not state.open
        case FluidState():
            return state.full
        case _:
            return True


def is_open(thing: AnyThing, state: State) -> bool:
    """Tell whether a fluid runs out here."""
    if isinstance(thing, Control) and isinstance(state, ControlState):
        return state.position != thing.normal.name
    if isinstance(state, GroupState) and _frees_loose(thing):
        return state.pressing < state.all
    return not is_whole(state)


def is_shut(thing: AnyThing, state: State) -> bool:
    """Tell whether this is closed and tight, so that a fluid stays in."""
    if isinstance(state, GroupState):
        return state.out == 0 and state.loose == 0
    return not is_open(thing, state)


def chosen(group: Fastener, at: tuple[Ref, ...]) -> Chosen:
    """Return the numbers of the pieces that a step names; unknown names are told by `unknown-name`."""
    return tuple(group.positions.index(ref.name) for ref in at if ref.name in group.positions)
