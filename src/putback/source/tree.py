"""The tree of a YAML file: values that know where they stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from putback.source.characters import is_blank
from putback.source.late import Late
from putback.source.span import Span

Plain: TypeAlias = "str | int | float | bool | list[Plain] | dict[str, Plain] | None"
"""A value as JSON knows it."""

_NUMBER = Late(r"[-+]?(0|[1-9][0-9]{0,299})(\.[0-9]+)?")
"""At most 300 digits before the point: more would be infinite as a float."""
_WORDS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "~": None, "": None}


class Text(NamedTuple):
    """A scalar, as written."""

    value: str
    """The characters, without quotes."""
    span: Span
    """Where it stands, quotes included."""
    quoted: bool
    """Whether it was quoted or a block scalar, and so is text whatever it looks like."""
    written: str | None = None
    """The characters in the file, quotes included; None for a plain scalar on one line, which is written as it is."""

    def plain(self) -> Plain:
        """Return the value that a JSON Schema sees: a number or a truth value only when written plainly.

        A text of which nothing is seen is an empty one.
        """
        if self.quoted:
            return "" if is_blank(self.value) else self.value
        if self.value in _WORDS:
            return _WORDS[self.value]
        if number := _NUMBER.fullmatch(self.value):
            # JSON Schema takes 6.0 for a whole number, so it is given as one.
            fraction = number[2] is not None and number[2].strip(".0")
            return float(self.value) if fraction else int(self.value.partition(".")[0])
        return "" if is_blank(self.value) else self.value


@dataclass(slots=True)
class Listing:
    """A sequence."""

    items: list[Node]
    """The values, in order."""
    span: Span
    """From the first value to the end of the last."""

    def plain(self) -> Plain:
        """Return a list of plain values."""
        return [item.plain() for item in self.items]


class Pair(NamedTuple):
    """One key of a mapping, with its value."""

    key: Text
    """The key."""
    value: Node
    """Its value."""


@dataclass(slots=True)
class Mapping:
    """A mapping; keys are unique and in the order of the file."""

    entries: dict[str, Pair]
    """By key."""
    span: Span
    """From the first key to the end of the last value."""

    def plain(self) -> Plain:
        """Return a dict of plain values."""
        return {key: entry.value.plain() for key, entry in self.entries.items()}

    def get(self, key: str) -> Node | None:
        """Return the value of `key`, or None."""
        entry = self.entries.get(key)
        return entry.value if entry else None


Node: TypeAlias = Text | Listing | Mapping
