"""What is said in the records of a guide, each text with where it belongs: names that lines do not change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any, NamedTuple

from putback.joints.friction import Film
from putback.model.job import Step
from putback.model.library import LibraryEntry, SafetyMessage
from putback.model.machine import Fastener
from putback.model.said import Limit, Said
from putback.model.terms import Ref, When
from putback.model.thing import Thing
from putback.source.span import Span
from putback.units import Quantity, QuantityError, parse_any

LEFT_OUT = frozenset({
    "date", "drive", "drives", "front", "grade", "grip", "head", "hole", "insert", "judge",
    "key", "kind", "kit", "language", "licence", "looks", "material", "name_span", "number", "path", "seen_from",
    "thread", "top", "units", "verb", "viewpoint", "waive", "web",
})  # fmt: skip
"""Fields that are no words, are words that Putback itself knows, or tell what a thing is: see `named`."""
_STILL = {("Fluid", "grade"), ("Machine", "kind"), ("Cover", "licence")}
"""What is words all the same, by the record."""
_FILMS = frozenset({"clean and dry", *(film.value.lower() for film in Film)})
"""States of threads that Putback itself has words for."""
_AGAIN = {("Later", "title")}
"""What was said before, at the same place."""
_CALLED = {("Section", "title"): "section"}
"""Fields that go by another name."""


class SaidAt(NamedTuple):
    """A text, and where it belongs."""

    place: tuple[str, ...]
    """Names, the widest first."""
    text: str
    """What is said."""
    span: Span
    """Where it stands."""
    within: object
    """The record that it is said in."""


def said_at(record: Any, place: tuple[str, ...]) -> Iterator[SaidAt]:
    """Yield all that is said in a record, and in the records in it, as far as it is words."""
    match record:
        case Mapping():
            for key, value in record.items():
                yield from said_at(value, (*place, str(key)))
        case Quantity() | Ref() | When() | Span():
            return
        case Step():
            yield from _fields(record, (*place, _named(record)))
        case _ if type(record).__module__.startswith("putback.model.") and _is_record(record):
            yield from _fields(record, place)


def _is_record(value: object) -> bool:
    return hasattr(value, "_fields") or is_dataclass(value)


def _fields(record: Any, place: tuple[str, ...]) -> Iterator[SaidAt]:
    if isinstance(record, Thing | LibraryEntry):
        yield from _called(record, place)
    of: Any = type(record)
    kind = of.__name__
    for name in _names(of):
        if (name in LEFT_OUT and (kind, name) not in _STILL) or (kind, name) in _AGAIN:
            continue
        called = _CALLED.get((kind, name), name.strip("_").replace("_", "-"))
        inner = place if name in _PASSED_OVER else (*place, called)
        yield from _value(getattr(record, name), inner, record)


_PASSED_OVER = frozenset({"action", "sections", "steps", "otherwise", "outcomes", "figure", "cost"})
"""Fields that say nothing of where a text belongs."""


def _value(value: Any, place: tuple[str, ...], within: object) -> Iterator[SaidAt]:
    match value:
        case Said():
            if not is_figure(value) and not (place[-1] == "condition-text" and value.lower() in _FILMS):
                yield SaidAt(place, str(value), value.span, within)
        case Limit(text=text, quantity=None, unread=False):
            yield SaidAt(place, str(text), text.span, within)
        case Limit() | None | str():
            return
        case (str() as key, Said() as text) if not isinstance(key, Said):
            yield SaidAt((*place, key), str(text), text.span, within)
        case (When() as when, Said() as text):
            clause = when.cases[0][0]
            yield SaidAt((*place, clause.option.name, clause.choices[0].name), str(text), text.span, within)
        case tuple() if not hasattr(value, "_fields"):
            for item in value:
                yield from _value(item, place, within)
        case _:
            yield from said_at(value, place)


def _called(record: Thing | LibraryEntry, place: tuple[str, ...]) -> Iterator[SaidAt]:
    """Yield what an entry is called where that is made from its key."""
    if not isinstance(record.name, Said) and not isinstance(record, SafetyMessage):
        yield SaidAt((*place, "name"), record.name, record.span, record)


def is_several(thing: Thing) -> bool:
    """Tell whether a sentence may speak of more than one of a thing."""
    if thing.plural or thing.each:
        return True
    return isinstance(thing, Fastener) and bool(thing.count != 1 or thing.counts or thing.uncounted)


def is_figure(text: str) -> bool:
    """Tell whether a text is a quantity or a number, which nobody translates."""
    if not any(letter.isalpha() for letter in text):
        return True
    try:
        parse_any(text)
    except QuantityError:
        return False
    return True


def _named(step: Step) -> str:
    """Return what a step is known by: its name, or its verb and what that is done to."""
    if step.name is not None:
        return step.name.name
    names = [ref.name for ref in step.things if " " not in ref.name]
    return "-".join([step.verb.name, *names[:3]])


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(kind._fields) if hasattr(kind, "_fields") else tuple(field.name for field in fields(kind))
