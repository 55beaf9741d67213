"""What an author wrote where a translation is printed: words decide something in the author's language alone."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from putback.model.machine import AnyThing
from putback.model.said import source_of

_T = TypeVar("_T", bound=AnyThing)


def as_written(thing: _T) -> _T:
    """Return a thing with the name that its author gave it."""
    name = source_of(thing.name)
    return thing if name == thing.name else replace(thing, name=name, plural=None)
