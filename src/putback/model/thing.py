"""What all things of a machine have."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.said import Limit, Said
from putback.model.terms import Need, Ref, When
from putback.source.span import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What all things of a machine have."""

    key: str
    """Its name in the file."""
    span: Span
    """The place of that name."""
    name: str
    """What people call it, singular."""
    plural: str | None = None
    """Its plural, when it is irregular."""
    when: When | None = None
    """The variants that have it; None for all."""
    instead_of: tuple[Ref, ...] = ()
    """What stands in its place in other variants: no variant has both."""
    note: str | None = None
    """A remark for the machine's page."""
    tags: tuple[Ref, ...] = ()
    """What it brings about: hazards look for these."""
    guard: bool = False
    """Of a part or control: nothing may run without it, or unless it is in its normal position."""
    clean_before: tuple[Ref, ...] = ()
    """What goes on only after this was cleaned: the gasket, of a face that it sits on."""
    needs: tuple[Need, ...] = ()
    """Control positions before it is touched."""
    each: Ref | None = None
    """It is there once for each of these places: cylinder, corner."""
    of: str | None = None
    """Of one that stands for one place, or for some variants: the key of the thing that it is one of."""
    place: str | None = None
    """Of one that stands for one place: its name."""
    inspect_when_off: tuple[Said, ...] = ()
    """What must be looked for whenever it is off: of parts, fasteners and lines."""
    check_when_back: Limit | None = None
    """How it must be, whenever it went back or was filled: of parts, fasteners, lines and fluids."""
    check_before_run: Limit | None = None
    """How it must be before the machine runs: the level of the oil."""
    check_in_run: Limit | None = None
    """How it must be while the machine runs: of parts, fasteners, lines, fluids and settings."""
