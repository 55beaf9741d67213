"""Which step is the same in another edition of a guide: one that says the same, of things that are the same.

What is taken is what the author wrote, and not how it is printed: a record that was made on a page in one language fits
the page in another.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from putback.model.machine import AnyThing
from putback.model.said import Said, source_of
from putback.model.terms import Ref
from putback.sheet import SheetStep
from putback.source.span import Span
from putback.units import Quantity

_LENGTH = 10
"""Hexadecimal digits of a key: two of a thousand steps are alike by chance once in two million guides."""

_ASIDE = frozenset({"waive", "name", "otherwise", "outcomes", "steps", "rounds", "key", "figure"})
"""Fields of a step that are no part of what is done at it."""

_NAMED = frozenset({"name", "plural", "figure"})
"""Fields of a thing that only say how it is called, or show it."""


def keys_of(lines: Sequence[tuple[SheetStep, str]], things: Mapping[str, AnyThing]) -> list[str]:
    """Return a key for each step of a page; with each stands what it hangs on.

    Of several that are alike, a key says which it is, and of how many.
    """
    made = [digest(*_content(line, things), above) for line, above in lines]
    total = {key: made.count(key) for key in set(made)}
    seen: dict[str, int] = {}
    found = []
    for key in made:
        seen[key] = seen.get(key, 0) + 1
        found.append(key if total[key] == 1 else f"{key}.{seen[key]}-{total[key]}")
    return found


_IN_WORDS = frozenset(
    {
        "guide",
        "title",
        "language",
        "decimal",
        "name",
        "words",
        "tell",
        "good",
        "text",
        "boxes",
        "at",
        "places",
        "unit",
        "shown",
    }
)
"""Members of the data that are in the language of the page, and the name of the folder, which anybody may change."""


def without_words(data: Any) -> Any:
    """Return the data of a page without all that another language says otherwise."""
    match data:
        case dict():
            return {name: without_words(value) for name, value in data.items() if name not in _IN_WORDS}
        case list():
            return [without_words(each) for each in data]
        case _:
            return data


def digest(*words: str, length: int = _LENGTH) -> str:
    """Return the first digits of a digest of some words."""
    return hashlib.sha256("\x1f".join(words).encode()).hexdigest()[:length]


def _content(line: SheetStep, things: Mapping[str, AnyThing]) -> Iterator[str]:
    step = line.step
    yield step.verb.name
    yield from plain(step.action)
    for each in fields(step):
        if each.name not in _ASIDE and each.name not in ("action", "verb"):
            yield from plain(getattr(step, each.name))
    yield from plain(line.when)
    yield ";".join(f"{grid.places}={','.join(grid.names)}" for grid in line.grids)
    for ref in step.things:
        if ref.name in things:
            yield from plain(things[ref.name], aside=_NAMED)


def plain(value: Any, aside: frozenset[str] = frozenset()) -> Iterator[str]:
    """Yield what an author wrote in a record, without where it stands."""
    match value:
        case None | Span():
            yield ""
        case Said():
            yield source_of(value)
        case Ref():
            yield value.name
        case Quantity():
            yield source_of(value.text)
        case Mapping():
            for key in value:
                yield str(key)
                yield from plain(value[key])
        case frozenset() | set():
            yield from sorted(map(str, value))
        case tuple() | list():
            yield f"({len(value)}"
            for each in value:
                yield from plain(each)
        case _ if is_dataclass(value):
            for each in fields(value):
                if each.name not in aside and each.name != "span" and not each.name.endswith("_span"):
                    yield each.name
                    yield from plain(getattr(value, each.name))
        case _:
            yield str(value)
