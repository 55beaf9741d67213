"""What an author said in words, with its place; and limits, which are quantities or words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any, TypeAlias

from putback.joints.stages import Stage
from putback.model.terms import Ref
from putback.source.span import Span
from putback.units import Quantity


class Said(str):
    """Words of an author, on one line. They are a plain text to whoever prints them, and know where they stand."""

    __slots__ = ("_source", "_span", "_written")
    _span: Span
    _written: str
    _source: str | None

    def __new__(cls, words: str, span: Span, written: str | None = None, source: str | None = None) -> Said:
        """Make one of `words` that stand at `span`; `written` are its characters in the file, if they are others.

        Of a translation, `source` is what the author wrote.
        """
        said = super().__new__(cls, words)
        said._span = span
        said._written = words if written is None else written
        said._source = source
        return said

    @property
    def span(self) -> Span:
        """Where they stand, quotes included."""
        return self._span

    @property
    def written(self) -> str:
        """The characters in the file: with quotes, escapes and line ends."""
        return self._written

    @property
    def source(self) -> str:
        """What the author wrote: these words, or those of which they are a translation."""
        return str(self) if self._source is None else self._source

    def __reduce__(self) -> tuple[type[Said], tuple[str, Span, str, str | None]]:
        return Said, (str(self), self._span, self._written, self._source)

    def __copy__(self) -> Said:
        return self

    def __deepcopy__(self, memo: object) -> Said:
        return self


def source_of(words: str) -> str:
    """Return what the author wrote of words that may be a translation: whatever is judged by words is judged by these.

    A machine is the same in every language: what a name tells of a thing must not change with it.
    """
    return words.source if isinstance(words, Said) else words


def place_of(words: str, otherwise: Span) -> Span:
    """Return where words stand, when an author said them; else another place."""
    return words.span if isinstance(words, Said) else otherwise


@dataclass(frozen=True, slots=True)
class Limit:
    """Within what something is good."""

    text: Said
    """As it is written."""
    quantity: Quantity | None = None
    """The same as a quantity; None for words."""
    unread: bool = False
    """Whether it was meant as a quantity, and was found to be none."""

    @property
    def span(self) -> Span:
        """Where it stands."""
        return self.text.span


_Types: TypeAlias = "type | tuple[type, ...]"
_Found: TypeAlias = "list[tuple[str, Said]]"
_Finder: TypeAlias = "Callable[[str, Any, _Types, _Found], None]"


def said_in(record: object, *, but: _Types = ()) -> _Found:
    """Return all that is said in a record, and in the records in it, each with the name of the field it stands in.

    The text of a quantity or a limit goes by the field that has the quantity or the limit. Records of a type in `but`
    are left out when they lie in another. So a field that somebody adds is never forgotten.
    """
    found: _Found = []
    _within(record, but, found)
    return found


def _within(record: Any, but: _Types, found: _Found) -> None:
    kind: Any = type(record)
    names, values = _fields(kind)
    for name, value in zip(names, values(record), strict=True):
        if value:
            kind = type(value)
            if finder := _finder(kind):
                finder(name, value, but, found)


def _in_fields(name: str, record: Any, but: _Types, found: _Found) -> None:
    if not (but and isinstance(record, but)):
        _within(record, but, found)


def _in_items(name: str, items: Iterable[Any], but: _Types, found: _Found) -> None:
    for value in items:
        kind: Any = type(value)
        if finder := _finder(kind):
            finder(name, value, but, found)


def _in_values(name: str, values: Mapping[str, Any], but: _Types, found: _Found) -> None:
    _in_items(name, values.values(), but, found)


def _as_it_is(name: str, said: Said, but: _Types, found: _Found) -> None:
    found.append((name, said))


def _as_text(name: str, value: Quantity | Limit, but: _Types, found: _Found) -> None:
    if isinstance(value.text, Said):
        found.append((name, value.text))


def _as_name(name: str, ref: Ref, but: _Types, found: _Found) -> None:
    if isinstance(ref.name, Said):  # words in the place of a name
        found.append((name, ref.name))


@cache
def _finder(kind: Any) -> _Finder | None:
    """Return what finds all that is said in a value of a type: the records of the model are looked into."""
    known: dict[type, _Finder] = {
        Said: _as_it_is, Limit: _as_text, Quantity: _as_text, Ref: _as_name, Stage: _in_fields, tuple: _in_items,
    }  # fmt: skip
    if kind in known:
        return known[kind]
    if issubclass(kind, Mapping):
        return _in_values
    record = is_dataclass(kind) or hasattr(kind, "_fields")
    return _in_fields if record and kind.__module__.startswith("putback.model.") else None


_EMPTY = {f"{kind}{rest}" for kind in ("Span", "int", "bool", "AnyVerb", "When", "Later") for rest in ("", " | None")}
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
