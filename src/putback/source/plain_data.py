"""Records as plain data, such as JSON can hold, and back: by their fields, so that a new field needs nothing here.

What comes back is compared with what each field may hold: data from elsewhere give a whole record, or an error.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

R = TypeVar("R")


def as_data(value: object) -> Any:
    """Return a record as a list of its fields; sets and the like as a list, a mapping as one of pairs."""
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        return [as_data(getattr(value, field.name)) for field in fields(value)]
    if isinstance(value, frozenset):
        return sorted((as_data(item) for item in value), key=repr)
    if isinstance(value, Mapping):
        return [[as_data(key), as_data(item)] for key, item in value.items()]
    if isinstance(value, tuple):
        return [as_data(item) for item in value]
    if value is None or isinstance(value, str | int | bool):
        return value
    raise TypeError(f"{value!r} is no plain data")


def from_data(kind: type[R], data: Any) -> R:
    """Return the record of a kind that data stand for. Raises `TypeError` or `ValueError` when they stand for none."""
    return cast("R", _made(kind, data))


def _made(kind: Any, data: Any) -> Any:
    return _maker(kind)(data)


@cache
def _maker(kind: Any) -> Callable[[Any], Any]:
    """Return what makes a value of a kind from its data."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return _maybe([_maker(each) for each in inner if each is not NoneType])
    if origin is tuple and inner[1:] == (...,):
        return _many(_maker(inner[0]), tuple)
    if origin is frozenset:
        return _many(_maker(inner[0]), frozenset)
    if origin is Mapping:
        return _many(_each([_maker(each) for each in inner], lambda key, item: (key, item)), dict)
    if origin is tuple:
        return _each([_maker(each) for each in inner], lambda *items: items)
    names = [field.name for field in fields(kind)] if is_dataclass(kind) else getattr(kind, "_fields", None)
    if names is not None:
        hints = get_type_hints(kind)
        return _each([_maker(hints[name]) for name in names], kind)
    return kind if issubclass(kind, Enum) else _just(kind)


def _just(kind: type) -> Callable[[Any], Any]:
    def make(data: Any) -> Any:
        if type(data) is not kind:
            raise TypeError(f"{data!r} is no {kind.__name__}")
        return data

    return make


def _maybe(makers: list[Callable[[Any], Any]]) -> Callable[[Any], Any]:
    (make,) = makers
    return lambda data: None if data is None else make(data)


def _items(data: Any) -> list[Any]:
    if type(data) is not list:
        raise TypeError(f"{data!r} is no list")
    return data


def _many(make: Callable[[Any], Any], whole: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda data: whole(make(item) for item in _items(data))


def _each(makers: list[Callable[[Any], Any]], whole: Callable[..., Any]) -> Callable[[Any], Any]:
    return lambda data: whole(*[make(item) for make, item in zip(makers, _items(data), strict=True)])
