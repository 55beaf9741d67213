"""How a thing, a verb or a hazard can need another: the words for each kind of thing, and what they mean."""

from __future__ import annotations

from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    State,
    is_off,
    is_whole,
)

OFF = "off"
ON = "on"
LOOSE = "loose"
TIGHT = "tight"
CONNECTED = "connected"
FULL = "full"
EMPTY = "empty"
PLACED = "placed"
AWAY = "away"

OF_EQUIPMENT = (PLACED, AWAY)
"""How a piece of equipment can be needed."""

KINDS = ("part", "fastener", "line", "fluid", "control", "equipment")
"""What can be needed."""


def words_for(thing: AnyThing) -> tuple[str, ...]:
    """Return the words for how a thing of the machine can be needed."""
    match thing:
        case Control():
            return tuple(position.name for position in thing.positions)
        case Fastener():
            return (ON, OFF, LOOSE, TIGHT)
        case Part():
            return (ON, OFF)
        case Line():
            return (CONNECTED, OFF)
        case Fluid():
            return (FULL, EMPTY)
        case _:
            return ()


def means_whole(thing: AnyThing | None, word: str) -> bool:
    """Tell whether a thing, or equipment (None), is needed as it is on a whole machine, by the word for it."""
    return word == thing.normal.name if isinstance(thing, Control) else word in (AWAY, ON, TIGHT, FULL, CONNECTED)


def is_so(thing: AnyThing | None, state: State, word: str) -> bool:
    """Tell whether a thing, or equipment (None), is as it is needed; what has no such word is never so."""
    match state:
        case EquipmentState():
            return word in OF_EQUIPMENT and state.there is (word == PLACED)
        case ControlState():
            return state.position == word
        case FluidState():
            return word in (FULL, EMPTY) and state.full is (word == FULL)
        case GroupState() if word in (LOOSE, TIGHT):
            return state.pressing == 0 if word == LOOSE else state.tight == state.all
        case _ if thing is None:
            return False
        case LineState() if word == OFF:
            return bool(state.open)  # a cable that is off at one end carries nothing
        case _ if word == OFF:
            return is_off(thing, state)
        case _:
            return word == (CONNECTED if isinstance(thing, Line) else ON) and is_whole(state)
