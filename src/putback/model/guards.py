"""Guards: what covers turning parts, and must be in its place before anything runs."""

from __future__ import annotations

from putback.model.machine import AnyThing, Control, Part
from putback.model.said import source_of

_AGAINST_DIRT = frozenset({
    "bash", "belly", "brush", "bug", "debris", "dust", "frost", "fuse", "insect", "mud", "oil", "paint", "radiator",
    "rock", "salt", "sand", "sill", "skid", "splash", "stone", "sump", "trash", "wind",
})  # fmt: skip
"""A guard with such a word in its name keeps dirt or stones off the machine, and not people off what turns."""


def is_guard(thing: AnyThing) -> bool:
    """Tell whether a thing is a guard: as the machine file says, or as its name tells."""
    if not isinstance(thing, Part | Control):
        return False
    *words, last = source_of(thing.name).lower().replace("-", " ").split() or [""]
    return thing.guard or (last in ("guard", "guards") and _AGAINST_DIRT.isdisjoint(words))
