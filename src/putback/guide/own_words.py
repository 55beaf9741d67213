"""The library in the words of a guide: where it says `spanner`, an American guide prints and checks `wrench`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from putback.guide.library import Shelf
from putback.model.cover import Cover
from putback.model.library import Consumable, Equipment, Hazard, SafetyMessage, Tool
from putback.model.said import Said
from putback.trade.words import Side, said_by, side_of

_E = TypeVar("_E", SafetyMessage, Hazard, Tool, Consumable, Equipment)

_SAID = ("name", "hazard", "consequence", "avoid", "ppe", "waste")
"""What is printed of an entry, and is words."""


def in_words_of(shelf: Shelf, cover: Cover | None) -> Shelf:
    """Return the entries of the library as the guide's language says them; as they are, where it names no side."""
    side = side_of(cover.language) if cover else None
    if side is None:
        return shelf
    return replace(
        shelf,
        cautions=_entries(shelf.cautions, side),
        hazards=_entries(shelf.hazards, side),
        tools=_entries(shelf.tools, side),
        consumables=_entries(shelf.consumables, side),
        equipment=_entries(shelf.equipment, side),
    )


def _entries(entries: Mapping[str, _E], side: Side) -> dict[str, _E]:
    return {key: _entry(entry, side) for key, entry in entries.items()}


def _entry(entry: _E, side: Side) -> _E:
    found: dict[str, Any] = {}
    for name in _SAID:
        value = getattr(entry, name, None)
        if isinstance(value, str):
            said: object = _said(value, side)
        else:
            said = tuple(_said(each, side) for each in value or ())
        if value and said != value:
            found[name] = said
    return replace(entry, **found) if found else entry


def _said(text: str, side: Side) -> str:
    """Return a text in the words of a side, at its place."""
    other = said_by(text, side)
    if other == text:
        return text
    return Said(other, text.span, text.written) if isinstance(text, Said) else other
