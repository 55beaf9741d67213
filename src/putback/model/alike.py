"""Alike places of a machine: its cylinders, its corners, its knives."""

from __future__ import annotations

from dataclasses import dataclass

from putback.source.span import Span


@dataclass(frozen=True, slots=True)
class AlikePlaces:
    """Alike places: what is there once for each of them is described once."""

    key: str
    """What one of them is called in the file: `cylinder`."""
    span: Span
    """Where that stands."""
    names: tuple[str, ...]
    """Their names, in order: 1, 2, 3, or front-left, front-right."""
