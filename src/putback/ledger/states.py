"""What an account can hold, and how one entry changes it.

States are plain values; every change returns a new one. `off_by` and `on_by` are numbers of entries (-1: none), so that
a finding can point at the step that caused a state.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part

NEVER = -1
"""The number of no entry."""


class Piece(NamedTuple):
    """A part."""

    on: bool = True
    off_by: int = NEVER
    on_by: int = NEVER


class Group(NamedTuple):
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

    @property
    def all(self) -> int:
        """How many there are."""
        return self.tight + self.loose + self.out


class Joint(NamedTuple):
    """A line; its ends are named by the parts that it joins."""

    open: frozenset[str] = frozenset()
    off_by: int = NEVER
    on_by: int = NEVER


class Level(NamedTuple):
    """A fluid."""

    full: bool = True
    off_by: int = NEVER
    """The entry that let it out: the `drain` step, or else the one that opened the drain."""
    on_by: int = NEVER
    opened_by: int = NEVER
    """The entry that opened the drain."""


class Setting(NamedTuple):
    """A control."""

    position: str
    off_by: int = NEVER
    """The entry that moved it from rest."""
    on_by: int = NEVER
    """The last entry that moved it."""


class Visit(NamedTuple):
    """An aid."""

    there: bool = False
    off_by: int = NEVER
    """The entry that cleared it."""
    on_by: int = NEVER
    """The entry that placed it."""


class Memory(NamedTuple):
    """What is known of the position of an adjustable part."""

    marked: bool = False
    astray: bool = False
    """It has been off, and is not aligned yet."""
    off_by: int = NEVER
    """The entry that took it off."""
    on_by: int = NEVER
    """The entry that marked it."""


class Proof(NamedTuple):
    """Whether a test followed the last assembly.

    Which assembly that was is not kept: every option meets on this account, and each would split it.
    """

    proved: bool = True
    off_by: int = NEVER
    on_by: int = NEVER


State: TypeAlias = Piece | Group | Joint | Level | Setting | Visit | Memory | Proof
"""What an account holds."""


def bare(state: State) -> State:
    """Return a state without who made it so: two machines are the same when all of their bare states are."""
    match state:
        case Level():
            return Level(full=state.full)
        case _:
            return state._replace(off_by=NEVER, on_by=NEVER)


def opening(thing: AnyThing, *, undone: bool = False) -> State:
    """Return how an account opens: in place, tight, connected, full, at rest; or the opposite when `undone`."""
    match thing:
        case Part():
            return Piece(on=not undone)
        case Fastener():
            return Group(0, 0, thing.count, thing.count) if undone else Group(thing.count)
        case Line():
            return Joint(ends(thing) if undone else frozenset())
        case Fluid():
            return Level(full=not undone)
        case Control():
            others = [position.name for position in thing.positions if position.name != thing.rest.name]
            return Setting(others[0] if undone and others else thing.rest.name)


def ends(line: Line) -> frozenset[str]:
    """Return the ends of a line."""
    return frozenset(ref.name for ref in line.joins) or frozenset({line.key})


def is_off(thing: AnyThing, state: State) -> bool:
    """Tell whether a thing is out of the way of what it holds, covers or joins."""
    match state:
        case Piece():
            return not state.on
        case Group():
            return state.tight == 0 if _frees_loose(thing) else state.out == state.all
        case Joint():
            return isinstance(thing, Line) and state.open >= ends(thing)
        case _:
            return True


def _frees_loose(thing: AnyThing) -> bool:
    return isinstance(thing, Fastener) and thing.frees_when_loose


def is_whole(state: State) -> bool:
    """Tell whether nothing of it is off, out or open (hand-tight counts as whole)."""
    match state:
        case Piece():
            return state.on
        case Group():
            return state.out == 0
        case Joint():
            return not state.open
        case Level():
            return state.full
        case _:
            return True


def is_open(thing: AnyThing, state: State) -> bool:
    """Tell whether a fluid runs out here."""
    if isinstance(thing, Control) and isinstance(state, Setting):
        return state.position != thing.rest.name
    return not is_whole(state)


def is_shut(thing: AnyThing, state: State) -> bool:
    """Tell whether this is closed and tight, so that a fluid stays in."""
    if isinstance(state, Group):
        return state.out == 0 and state.loose == 0
    return not is_open(thing, state)


def take_out(state: Group, count: int | None, by: int) -> Group:
    """Take fasteners out, loose ones first; all that are in when no count is given."""
    number = min(state.tight + state.loose if count is None else count, state.tight + state.loose)
    from_loose = min(number, state.loose)
    out = state.out + number
    return Group(
        state.tight - (number - from_loose),
        state.loose - from_loose,
        out,
        max(out, state.taken if state.out else 0),
        by if number else state.off_by,
        state.on_by,
    )


def put_in(state: Group, count: int | None, by: int, *, finished: bool) -> Group:
    """Put fasteners in, all that are out when no count is given; hand-tight unless `finished` by that."""
    number = min(state.out if count is None else count, state.out)
    tight, loose = (number, 0) if finished else (0, number)
    return state._replace(tight=state.tight + tight, loose=state.loose + loose, out=state.out - number, on_by=by)


def slacken(state: Group, count: int | None, by: int) -> Group:
    """Loosen tight ones."""
    number = min(state.tight if count is None else count, state.tight)
    return state._replace(
        tight=state.tight - number,
        loose=state.loose + number,
        off_by=by if number and not state.out else state.off_by,
        on_by=by,
    )


def tighten(state: Group, count: int | None) -> Group:
    """Bring loose ones to their torque."""
    number = min(state.loose if count is None else count, state.loose)
    return state._replace(tight=state.tight + number, loose=state.loose - number)
