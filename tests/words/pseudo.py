"""A language in which every word stands between marks: what is printed without them did not come from a language."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from enum import Enum
from typing import Any, cast

from putback.ledger.opened import Opened
from putback.words import Language, Spoken, by_catalogue
from putback.words.english import LABELS, English
from putback.words.labels import Labels
from putback.words.pieces import Piece
from putback.words.telling import Telling

TAG = "qaa"
"""The language tag; ISO 639 keeps it for private use."""
OPEN, CLOSE = "«", "»"


def marked(words: str) -> str:
    """Put marks around every word; the fields of a pattern stay."""
    return re.sub(r"(?:[^\W_]|['’])+(?![^{]*\})|\{[^}]*\}", _word, words)


def _word(found: re.Match[str]) -> str:
    return found[0] if found[0].startswith("{") else f"{OPEN}{found[0]}{CLOSE}"


def told(value: Any) -> Any:
    """Return what a language says with marks: words, phrases, records of words."""
    match value:
        case Piece():
            return value._replace(text=marked(value.text))
        case Enum():
            return value
        case str():
            return marked(value)
        case tuple() if hasattr(value, "_fields"):
            return type(value)(*map(told, value))
        case tuple() | list():
            return type(value)(map(told, value))
        case Iterator():
            return map(told, value)
        case _ if dataclasses.is_dataclass(value) and not isinstance(value, type):
            fields = {field.name: told(getattr(value, field.name)) for field in dataclasses.fields(value)}
            return dataclasses.replace(value, **fields)
        case _:
            return value


class Pseudo:
    """Says in marks what English says."""

    def __init__(self, opened: Opened) -> None:
        self._english = English(opened)
        self.labels: Labels = told(LABELS)

    def __getattr__(self, name: str) -> Any:
        said = getattr(self._english, name)
        if not callable(said):
            return said
        return lambda *given, **named: told(said(*given, **named))


def pseudo(opened: Opened) -> Language:
    """Return the maker of its sentences."""
    return cast("Language", Pseudo(opened))


ENGLISH = Spoken(told(LABELS), pseudo)
"""What English says, in marks."""


class Marked:
    """A catalogue with marks around every word of ours."""

    def one(self, context: str, text: str) -> str:
        return marked(text)

    def counted(self, context: str, one: str, many: str, count: int) -> str:
        return marked(one if count == 1 else many)


TELLING = Telling(TAG, Marked())
"""Says messages in marks; what is filled in has none."""
SPOKEN = by_catalogue(TELLING)
"""What every language with a catalogue says, in marks."""
