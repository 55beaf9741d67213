"""How a thing stands, of all that an account holds: what a mechanic sees of it."""

from __future__ import annotations

from typing import assert_never

from putback.ledger.closing import closes
from putback.model.machine import AnyThing, Fastener, Line
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    ProofState,
    SettingState,
    State,
    ends,
)
from putback.sheet.tracked.record import How, Stands

WHOLE = Stands(How.IN, closed=True)
"""As on a whole machine."""


def stands(thing: AnyThing | None, state: State) -> Stands:
    """Return how a thing stands that holds a state; None for equipment."""
    closed = closes(thing, state)
    match state:
        case PartState(on=on):
            return WHOLE if on else Stands(How.OFF, closed, 1, 1)
        case GroupState():
            return _group(thing, state, closed=closed)
        case LineState(open=opened):
            of = len(ends(thing)) if isinstance(thing, Line) else len(opened)
            return Stands(How.OPEN, closed, len(opened), of) if opened else WHOLE
        case FluidState(full=full):
            return WHOLE if full else Stands(How.EMPTY, closed, 1, 1)
        case ControlState(position=position):
            return Stands(How.AT, closed, int(not closed), 1, at=position)
        case SettingState(known=known):
            return WHOLE if known else Stands(How.DISTURBED, closed, 1, 1)
        case EquipmentState(there=there):
            return Stands(How.THERE, closed, 1, 1) if there else Stands(How.AWAY, closed)
        case MarkState(astray=astray):
            return Stands(How.ASTRAY, closed, 1, 1) if astray else WHOLE
        case ProofState():
            return WHOLE
        case _:
            assert_never(state)


def _group(thing: AnyThing | None, state: GroupState, *, closed: bool) -> Stands:
    if state.out:
        names = thing.positions if isinstance(thing, Fastener) else ()
        places = tuple(name for name, how in zip(names, state.places, strict=False) if how == "out")
        return Stands(How.OUT, closed, state.out, state.all, state.loose, places=places)
    if state.loose:
        return Stands(How.LOOSE, closed, state.loose, state.all)
    some = sum(each.count for each in state.staged)
    return Stands(How.PART, closed, some, state.all) if some else WHOLE
