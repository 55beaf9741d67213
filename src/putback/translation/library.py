"""The texts of the library that comes with Putback: they are translated in Putback's own catalogues."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import PurePath
from typing import Any

from putback.guide.library import FILES, Shelf, read_shelf
from putback.model.library import LibraryEntry, SafetyMessage
from putback.model.said import place_of
from putback.source.schema import shipped
from putback.telling import Message, Translatable
from putback.trade.words import Side, said_by

SAID: Mapping[str, str] = {
    "name": "name",
    "hazard": "hazard",
    "consequence": "consequence",
    "avoid": "avoid",
    "ppe": "ppe",
    "waste": "waste",
    "not_worn": "not-worn",
}
"""What is printed of an entry of the library: the field, with its key in the file."""

_ALIKE = ("ppe", "not-worn")
"""Keys whose texts are the same in many entries, and mean the same in each."""
_NOTES = {
    "name": "what it is called, singular; it stands in lists and after a colon",
    "hazard": "safety message: what the danger is; nothing may be left out or softened",
    "consequence": "safety message: what it can do; nothing may be left out or softened",
    "avoid": "safety message: how to avoid it; nothing may be left out or softened",
    "ppe": "protective equipment to wear; it stands in a list",
    "waste": "what to do with what comes out",
    "not-worn": "what nobody wears, since it is drawn in; it stands in a list",
}


def library_texts() -> Iterator[Translatable]:
    """Yield every text of the library that is printed, for the catalogues: in the order of its files."""
    for entry, kind in _entries(_shelf()):
        for key, text in texts_of_entry(entry):
            span = place_of(text, entry.span)
            place = f"shared/{PurePath(span.path).name}:{span.line}"
            yield Translatable(message_of(kind, entry.key, key, text), _NOTES[key], place)


def texts_of_entry(entry: LibraryEntry) -> Iterator[tuple[str, str]]:
    """Yield what is printed of an entry, each text with its key in the file."""
    for field, key in SAID.items():
        if key == "name" and isinstance(entry, SafetyMessage):
            continue  # no page names a safety message
        value: Any = getattr(entry, field, None)
        for text in (value,) if isinstance(value, str) else value or ():
            yield key, text


def message_of(kind: str, name: str, key: str, text: str) -> Message:
    """Return the message of a text of the library: of the entry `name` in `shared/kind.yaml`."""
    return Message(f"shared.{key}" if key in _ALIKE else f"shared.{kind}.{name}.{key}", str(text))


@cache
def known_texts(side: Side | None = None) -> dict[Message, str]:
    """Return the messages of all texts of the library, as a guide of one side of English says them, with the text."""
    found: dict[Message, str] = {}
    for wanted in library_texts():
        context, text, _ = wanted.message
        found[Message(context, said_by(text, side) if side else text)] = text
    return found


def _shelf() -> Shelf:
    return read_shelf(shipped("shared"), "shared")


def _entries(shelf: Shelf) -> Iterator[tuple[LibraryEntry, str]]:
    for kind in FILES:
        entries: Iterable[LibraryEntry] = getattr(shelf, kind).values()
        yield from ((entry, kind) for entry in entries)
