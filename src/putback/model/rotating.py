"""What is said of a part that turns, as plain frozen records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from putback.model.terms import Need, Ref


@dataclass(frozen=True, kw_only=True)
class Rotating:
    """What turns with a part, and which way. It has no slots, as `Part` has none."""

    __slots__ = ()

    turns_with: tuple[Ref, ...] = ()
    """What turns when it is turned, and turns it."""
    rotation: str | None = None
    """The way its shaft is turned, while it goes on and by a step of its own: clockwise or anticlockwise."""
    rotations: tuple[tuple[Need, Ref], ...] = ()
    """The ways that hang on the position of a control; in all other positions it turns freely, and alone."""
    seen_from: str | None = None
    """From where these ways are seen."""


def seen_from(key: str, things: Mapping[str, object]) -> str | None:
    """Return from where the way of a part is seen: as it says, or the next one that it turns with."""
    seen: set[str] = set()
    while key not in seen:
        seen.add(key)
        part = things.get(key)
        if not isinstance(part, Rotating):
            return None
        if part.seen_from or part.rotation or part.rotations or not part.turns_with:
            return part.seen_from
        key = part.turns_with[0].name
    return None
