"""What an author said in words, with its place; and limits, which are quantities or words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from itertools import repeat
from operator import attrgetter
from typing import Any

from putback.joints.stages import Stage
from putback.model.terms import Ref
from putback.source.span import Span
from putback.units import Quantity


class Said(str):
    """Words of an author, on one line. They are a plain text to whoever prints them, and know where they stand."""

    __slots__ = ("_span", "_written")
    _span: Span
    _written: str

    def __new__(cls, words: str, span: Span, written: str | None = None) -> Said:
        """Make one of `words` that stand at `span`; `written` are its characters in the file, if they are others."""
        said = super().__new__(cls, words)
        said._span = span
        said._written = words if written is None else written
        return said

    @property
    def span(self) -> Span:
        """Where they stand, quotes included."""
        return self._span

    @property
    def written(self) -> str:
        """The characters in the file: with quotes, escapes and line ends."""
        return self._written

    def __reduce__(self) -> tuple[type[Said], tuple[str, Span, str]]:
        return Said, (str(self), self._span, self._written)

    def __copy__(self) -> Said:
        return self

    def __deepcopy__(self, memo: object) -> Said:
        return self


@dataclass(frozen=True, slots=True)
class Limit:
    """Within what something is good."""

    text: Said
    """As it is written."""
    quantity: Quantity | None = None
    """The same as a quantity; None for words."""

    @property
    def span(self) -> Span:
        """Where it stands."""
        return self.text.span


class _Way(Enum):
    """How what an author said is found in a value of some type."""

    NOWHERE = "nothing is said in it"
    ITSELF = "it is what was said"
    TEXT = "its text is"
    NAME = "words stand in the place of its name"
    FIELDS = "in the fields of a record"
    ITEMS = "in the items of a tuple"
    VALUES = "in the values of a mapping"


def said_in(record: object, *, but: type | tuple[type, ...] = ()) -> list[tuple[str, Said]]:
    """Return all that is said in a record, and in the records in it, each with the name of the field it stands in.

    The text of a quantity or a limit goes by the field that has the quantity or the limit. Records of a type in `but`
    are left out when they lie in another. So a field that somebody adds is never forgotten.
    """
    found: list[tuple[str, Said]] = []
    kind: Any = type(record)
    names, values = _fields(kind)
    _look(zip(names, values(record), strict=True), but, found)
    return found


def _look(pairs: Iterable[tuple[str, Any]], but: type | tuple[type, ...], found: list[tuple[str, Said]]) -> None:
    for name, value in pairs:
        if not value:
            continue
        kind: Any = type(value)
        way = _WAYS.get(kind) or _way(kind)
        if way is _Way.NOWHERE:
            continue
        if way is _Way.ITEMS:
            _look(zip(repeat(name), value), but, found)
        elif way is _Way.ITSELF:
            found.append((name, value))
        elif way is _Way.TEXT:
            if type(value.text) is Said:
                found.append((name, value.text))
        elif way is _Way.NAME:
            if type(value.name) is Said:
                found.append((name, value.name))
        elif way is _Way.VALUES:
            _look(zip(repeat(name), value.values()), but, found)
        elif not (but and isinstance(value, but)):
            inner, get = _fields(kind)
            _look(zip(inner, get(value), strict=True), but, found)


_WAYS: dict[type, _Way] = {
    Said: _Way.ITSELF,
    Limit: _Way.TEXT,
    Quantity: _Way.TEXT,
    Ref: _Way.NAME,
    Stage: _Way.FIELDS,
    tuple: _Way.ITEMS,
}


def _way(kind: type) -> _Way:
    """Work out how to look into a type, once: the records of the model have fields, and all others say nothing."""
    if issubclass(kind, Mapping):
        way = _Way.VALUES
    elif kind.__module__.startswith("putback.model.") and (is_dataclass(kind) or hasattr(kind, "_fields")):
        way = _Way.FIELDS
    else:
        way = _Way.NOWHERE
    return _WAYS.setdefault(kind, way)


_EMPTY = {f"{kind}{rest}" for kind in ("Span", "int", "bool", "Verb", "When") for rest in ("", " | None")}
"""Types, as they are written, of fields in which nothing is said: they are passed over, for speed."""


@cache
def _fields(kind: Any) -> tuple[tuple[str, ...], Callable[[object], tuple[object, ...]]]:
    """Return the fields of a record in which something may be said, and what gets their values."""
    written: dict[str, str] = {}
    for each in reversed(kind.__mro__):
        written |= vars(each).get("__annotations__", {})
    every = kind._fields if hasattr(kind, "_fields") else [field.name for field in fields(kind)]
    names = tuple(name for name in every if written[name] not in _EMPTY)
    if len(names) > 1:
        return names, attrgetter(*names)
    return names, lambda record: tuple(getattr(record, name) for name in names)
