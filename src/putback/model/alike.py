"""What is there several times: the places of a machine, and the rounds in which steps are done for each of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from putback.source.span import Span

if TYPE_CHECKING:
    from putback.model.job import Step


@dataclass(frozen=True, slots=True)
class Places:
    """Alike spots of a machine: its cylinders, its corners, its knives."""

    key: str
    """What one of them is called in the file: `cylinder`."""
    span: Span
    """Where that stands."""
    names: tuple[str, ...]
    """Their names, in order: 1, 2, 3, or front-left, front-right."""


class Round(NamedTuple):
    """One place for which steps are done that are done for each."""

    each: Span
    """The place, in the file, of what is done for each."""
    places: str
    """Which places they are: `cylinder`."""
    place: str
    """The one of them."""
    lead: Step | None
    """The `each` step above it: all its steps are done for one place before the next."""
