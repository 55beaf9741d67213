"""A message, and how its fields are filled in. `{name}` is a field; nothing else in a message is special."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from putback.source.late import Late

_FIELD = Late(r"\{([a-z][a-z0-9_]*)\}")


class Message(NamedTuple):
    """A text of ours that every language says in its own words."""

    context: str
    """Where it is used, so that one English text can be two in another language: `verb.remove`, `film`."""
    text: str
    """The English text; of one piece, where it is counted."""
    many: str = ""
    """The English text of several pieces; nothing for what is not counted."""


class Translatable(NamedTuple):
    """A message that a catalogue must have."""

    message: Message
    """The message."""
    note: str = ""
    """What a translator should know of it."""
    place: str = ""
    """Where it is, as `shared/tools.yaml:12`; nothing when that says nothing."""


def fields_of(text: str) -> frozenset[str]:
    """Return the names of the fields of a text."""
    return frozenset(_FIELD.findall(text))


def in_parts(text: str) -> Iterator[tuple[bool, str]]:
    """Yield the parts of a text in order: whether it is a field, and its name or the words."""
    for place, part in enumerate(_FIELD.split(text)):
        if part:
            yield place % 2 == 1, part


def filled(text: str, fields: Mapping[str, str]) -> str:
    """Return a text with its fields filled in, once: a value with braces stays as it is. Raises `KeyError`."""
    return "".join(fields[part] if is_field else part for is_field, part in in_parts(text))
