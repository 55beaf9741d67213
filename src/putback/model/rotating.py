"""What is said of a part that turns, as plain frozen records."""

from __future__ import annotations

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
