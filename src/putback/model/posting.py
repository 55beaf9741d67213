"""What steps on parts and fasteners do to the accounts of these."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, TypeAlias

from putback.model.groups import condemn, put_in, slacken, take_out, tighten
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.reach import Aim
from putback.model.states import Chosen, GroupState, PartState, State, chosen, of
from putback.model.terms import Ref

_Change: TypeAlias = Callable[[State], State]


class Some(Protocol):
    """A step that is done to some pieces."""

    @property
    def count(self) -> int | None:
        """How many; None for all."""

    @property
    def at(self) -> tuple[Ref, ...]:
        """Which, by their positions; none for any."""


class Aimed(Some, Protocol):
    """A step that tightens some pieces."""

    def aim(self, thing: Fastener) -> Aim:
        """Return how tight it makes a fastener."""


def taken(action: Some, thing: AnyThing | None, by: int) -> _Change | None:
    """Something comes off, or out."""

    def off(state: State) -> State:
        part = of(PartState, state)
        return part._replace(on=False, off_by=by) if part.on else part

    match thing:
        case Fastener() as group:
            return lambda state: take_out(of(GroupState, state), action.count, by, chosen(group, action.at))
        case Part():
            return off
        case _:
            return None


def put(action: Some, thing: AnyThing | None, by: int) -> _Change | None:
    """Something goes on, or in."""

    def on(state: State) -> State:
        part = of(PartState, state)
        return part if part.on else part._replace(on=True, on_by=by, renew=False)

    match thing:
        case Fastener() as group:
            at, finished = chosen(group, action.at), not group.turned
            return lambda state: put_in(of(GroupState, state), action.count, by, finished=finished, at=at)
        case Part():
            return on
        case _:
            return None


def swapped(action: Some, thing: AnyThing | None, by: int) -> _Change | None:
    """Something comes off, and a new one goes on; of what is already off, the next one to go on is new."""
    match thing:
        case Fastener() as group:
            at, finished = chosen(group, action.at), not group.turned

            def swap(state: State) -> State:
                here = of(GroupState, state)
                if off_already(here, at):
                    return condemn(here, action.count, at)
                out = take_out(here, action.count, by, at)
                return put_in(out, action.count, by, finished=finished, at=at)

            return swap
        case Part():
            return lambda state: _renewed(of(PartState, state), by)
        case _:
            return None


def _renewed(part: PartState, by: int) -> PartState:
    return part._replace(on=True, off_by=by, on_by=by) if part.on else part._replace(renew=True)


def off_already(state: State, at: Chosen = ()) -> bool:
    """Tell whether all that a step would renew is off or out already: then a new one goes on later."""
    if isinstance(state, GroupState):
        return all(state.places[n] == "out" for n in at) if at and state.places else state.out == state.all
    return isinstance(state, PartState) and not state.on


def slackened(action: Some, thing: AnyThing | None, by: int) -> _Change | None:
    """Pieces are loosened, and stay in; what is only held is not turned."""
    if not isinstance(thing, Fastener) or thing.held_for:
        return None
    at = chosen(thing, action.at)
    return lambda state: slacken(of(GroupState, state), action.count, by, at)


def tightened(action: Aimed, thing: AnyThing | None, by: int) -> _Change | None:
    """Pieces are tightened, to their torque or to less; what is only held is not turned."""
    if not isinstance(thing, Fastener) or thing.held_for:
        return None
    at, aim = chosen(thing, action.at), action.aim(thing)
    return lambda state: tighten(of(GroupState, state), action.count, at, aim, by)
