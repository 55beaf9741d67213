"""What all things of a machine have."""

from __future__ import annotations

from dataclasses import dataclass

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
    clean_before: tuple[Ref, ...] = ()
    """What goes on only after this was cleaned: the gasket, of a face that it sits on."""
    needs: tuple[Need, ...] = ()
    """Control positions before it is touched."""
