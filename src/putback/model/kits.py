"""Sets in which parts are bought."""

from __future__ import annotations

from putback.model.details import Kit
from putback.model.machine import Fastener, Line, Machine, Part


def kit_of(machine: Machine, thing: Part | Fastener | Line) -> Kit | None:
    """Return the kit in which a thing is bought; one that the file does not describe has its name alone."""
    if thing.kit is None:
        return None
    return machine.kits.get(thing.kit) or Kit(thing.kit.replace("-", " "))
