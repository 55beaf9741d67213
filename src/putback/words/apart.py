"""What is to be said of a thing on a machine that is apart, before any language says it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import StrEnum
from typing import NamedTuple

from putback.model.machine import Fastener, Line
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    SettingState,
    ends,
)
from putback.sheet.between import Away


class ApartKind(StrEnum):
    """A kind of state."""

    OFF = "off"
    """A part, or fasteners that go round something."""
    OUT = "out"
    """Fasteners that go into something."""
    LOOSE = "loose"
    """Fasteners that are in, and not tight."""
    OPEN = "open"
    """A line that is not connected."""
    DRAINED = "drained"
    """A fluid."""
    SET = "set"
    """A control, at a position."""
    IN_PLACE = "in place"
    """Equipment."""
    DISTURBED = "disturbed"
    """A setting that is to be adjusted or measured."""
    MARKED = "marked"
    """A part that is to be aligned."""


class SoApart(NamedTuple):
    """How a thing stands that is apart."""

    kind: ApartKind
    """In a word."""
    pieces: int = 0
    """Of a group: how many of it."""
    places: tuple[str, ...] = ()
    """Of a group: how each of its pieces stands, where they have places."""
    ends: tuple[str, ...] = ()
    """Of a line of which other ends are connected: the parts at those that are not."""
    position: str = ""
    """Of a control."""


def apart(away: Away, is_on: Callable[[Fastener], bool]) -> Iterator[SoApart]:
    """Yield how a thing stands; `is_on` tells whether a fastener goes round what holds it."""
    thing = away.thing
    match away.state:
        case PartState():
            yield SoApart(ApartKind.OFF)
        case GroupState(out=out, loose=loose, places=places) if thing is not None:
            if out:
                goes_in = isinstance(thing, Fastener) and not is_on(thing)
                yield SoApart(ApartKind.OUT if goes_in else ApartKind.OFF, out, places)
            if loose:
                yield SoApart(ApartKind.LOOSE, loose, places)
        case LineState(open=opened):
            some = isinstance(thing, Line) and opened < ends(thing)
            yield SoApart(ApartKind.OPEN, ends=tuple(sorted(opened)) if some else ())
        case FluidState():
            yield SoApart(ApartKind.DRAINED)
        case ControlState(position=position):
            yield SoApart(ApartKind.SET, position=position)
        case EquipmentState():
            yield SoApart(ApartKind.IN_PLACE)
        case SettingState():
            yield SoApart(ApartKind.DISTURBED)
        case MarkState():
            yield SoApart(ApartKind.MARKED)


def placed_as(kind: ApartKind) -> str:
    """Return how the places of a group are called that are so: fasteners that are off are out of their places."""
    return "loose" if kind is ApartKind.LOOSE else "out"
