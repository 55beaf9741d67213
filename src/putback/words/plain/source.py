"""What an author wrote where a translation is printed: words decide something in the author's language alone."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from putback.model.machine import AnyThing

_T = TypeVar("_T", bound=AnyThing)


def source_of(text: str) -> str:
    """Return what the author wrote of a text of a translated guide; the text itself when it is not translated."""
    return str(getattr(text, "source", text))


def as_written(thing: _T) -> _T:
    """Return a thing with the name that its author gave it."""
    name = source_of(thing.name)
    return thing if name == thing.name else replace(thing, name=name, plural=None)
