"""What an account can hold, and how one entry changes it.

States are plain values; every change returns a new one. `off_by` and `on_by` are numbers of entries (-1: none), so that
a finding can point at the step that caused a state.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias, TypeVar

from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.terms import Ref

NEVER = -1
"""The number of no entry."""


class PartState(NamedTuple):
    """A part."""

    on: bool = True
    off_by: int = NEVER
    on_by: int = NEVER


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

    @property
    def all(self) -> int:
        """How many there are."""
        return self.tight + self.loose + self.out


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
    """The entry that moved it from normal."""
    on_by: int = NEVER
    """The last entry that moved it."""


class EquipmentState(NamedTuple):
    """A piece of equipment."""

    there: bool = False
    off_by: int = NEVER
    """The entry that cleared it."""
    on_by: int = NEVER
    """The entry that placed it."""


class MarkState(NamedTuple):
    """What is known of the position of an adjustable part."""

    marked: bool = False
    astray: bool = False
    """It has been off, and is not aligned yet."""
    off_by: int = NEVER
    """The entry that took it off."""
    on_by: int = NEVER
    """The entry that marked it."""


class ProofState(NamedTuple):
    """Whether a test followed the last assembly.

    Which assembly that was is not kept: every option meets on this account, and each would split it.
    """

    proved: bool = True
    off_by: int = NEVER
    on_by: int = NEVER


Chosen: TypeAlias = tuple[int, ...]
"""Numbers of named pieces, from 0, as the fastener lists its positions; empty for any."""

State: TypeAlias = (
    PartState | GroupState | LineState | FluidState | ControlState | EquipmentState | MarkState | ProofState
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
        case _:
            return state._replace(off_by=NEVER, on_by=NEVER)


def opening(thing: AnyThing, *, undone: bool = False) -> State:
    """Return how an account opens: in place, tight, connected, full, normal; or the opposite when `undone`."""
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


def ends(line: Line) -> frozenset[str]:
    """Return the ends of a line."""
    return frozenset(ref.name for ref in line.joins) or frozenset({line.key})


def is_off(thing: AnyThing, state: State) -> bool:
    """Tell whether a thing is out of the way of what it holds, covers or joins."""
    match state:
        case PartState():
            return not state.on
        case GroupState():
            return state.tight == 0 if _frees_loose(thing) else state.out == state.all
        case LineState():
            return isinstance(thing, Line) and state.open >= ends(thing)
        case _:
            return True


def _frees_loose(thing: AnyThing) -> bool:
    return isinstance(thing, Fastener) and thing.releases_when_loose


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
    return not is_whole(state)


def is_shut(thing: AnyThing, state: State) -> bool:
    """Tell whether this is closed and tight, so that a fluid stays in."""
    if isinstance(state, GroupState):
        return state.out == 0 and state.loose == 0
    return not is_open(thing, state)


def chosen(group: Fastener, at: tuple[Ref, ...]) -> Chosen:
    """Return the numbers of the pieces that a step names; unknown names are told by `unknown-name`."""
    return tuple(group.positions.index(ref.name) for ref in at if ref.name in group.positions)


def take_out(state: GroupState, count: int | None, by: int, at: Chosen = ()) -> GroupState:
    """Take fasteners out, loose ones first; all that are in when no count is given, those at the places in `at`."""
    inside = state.tight + state.loose
    number = min(inside if count is None else count, inside)
    from_loose = min(number, state.loose)
    if state.places:
        moved = _moved(state, number, at, ("loose", "tight"), "out")
        number = moved.out - state.out
    else:
        moved = state._replace(
            tight=state.tight - (number - from_loose), loose=state.loose - from_loose, out=state.out + number
        )
    return moved._replace(taken=max(moved.out, state.taken if state.out else 0), off_by=by if number else state.off_by)


def put_in(state: GroupState, count: int | None, by: int, *, finished: bool, at: Chosen = ()) -> GroupState:
    """Put fasteners in, all that are out when no count is given; hand-tight unless `finished` by that."""
    number = min(state.out if count is None else count, state.out)
    if not number:
        return state
    if state.places:
        return _moved(state, number, at, ("out",), "tight" if finished else "loose")._replace(on_by=by)
    tight, loose = (number, 0) if finished else (0, number)
    return state._replace(tight=state.tight + tight, loose=state.loose + loose, out=state.out - number, on_by=by)


def slacken(state: GroupState, count: int | None, by: int, at: Chosen = ()) -> GroupState:
    """Loosen tight ones."""
    number = min(state.tight if count is None else count, state.tight)
    if state.places:
        moved = _moved(state, number, at, ("tight",), "loose")
    else:
        moved = state._replace(tight=state.tight - number, loose=state.loose + number)
    return moved._replace(off_by=by if number and not state.out else state.off_by, on_by=by)


def tighten(state: GroupState, count: int | None, at: Chosen = ()) -> GroupState:
    """Bring loose ones to their torque."""
    number = min(state.loose if count is None else count, state.loose)
    if state.places:
        return _moved(state, number, at, ("loose",), "tight")
    return state._replace(tight=state.tight + number, loose=state.loose - number)


def _moved(state: GroupState, number: int, at: Chosen, before: tuple[str, ...], after: str) -> GroupState:
    """Bring named pieces from one of the states in `before` to another: those in `at`, or the first that are so."""
    places = list(state.places)
    wanted = at or [index for kind in before for index, place in enumerate(places) if place == kind][:number]
    for index in wanted:
        if places[index] in before:
            places[index] = after
    tight, loose, out = (places.count(kind) for kind in ("tight", "loose", "out"))
    return state._replace(tight=tight, loose=loose, out=out, places=tuple(places))
