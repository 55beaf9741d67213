"""The readings of one measurement: at how many places, how each is called, and which value is judged."""

from __future__ import annotations

from collections.abc import Mapping

from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener
from putback.model.verbs.asking import Measure


def readings_of(action: Measure, things: Mapping[str, AnyThing]) -> tuple[str, ...]:
    """Return what each reading is called, or its number; one that is called nothing when it is measured once.

    A group of fasteners is measured piece by piece.
    """
    if isinstance(action.readings, int):
        return tuple(map(str, range(1, action.readings + 1)))
    if action.readings:
        return action.readings
    group = things.get(action.things[0].name) if action.things else None
    if isinstance(group, Fastener) and group.count > 1:
        return tuple(name.replace("-", " ") for name in group.positions) or tuple(map(str, range(1, group.count + 1)))
    return ("",)


def each_apart(step: Step, things: Mapping[str, AnyThing]) -> bool:
    """Tell whether each of several readings is judged by itself, so that they can have several outcomes at once."""
    action = step.action
    several = isinstance(action, Measure) and (len(action.things) > 1 or len(readings_of(action, things)) > 1)
    return several and isinstance(action, Measure) and action.judge == "each"
