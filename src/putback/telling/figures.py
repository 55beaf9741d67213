"""Numbers, units and dates as another language sets them. What has letters in it comes from its catalogue."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from functools import cache
from typing import TYPE_CHECKING

from putback.telling.catalogue import Catalogue
from putback.telling.message import Message, Translatable, filled
from putback.units.kinds import Kind, Unit
from putback.units.listed import UNITS
from putback.units.style import Style

if TYPE_CHECKING:
    from babel import Locale

_SPELT = (
    "turn", "rpm", "mph", "hp", "SG", "°C difference", "°F difference", "° BTDC", "° ATDC", "° BBDC", "° ABDC",
)  # fmt: skip
"""Symbols of units that are English words, or short for them. All others are the same in every language."""
_BETWEEN = Message("quantity", "{low} to {high}")
_AT = Message("quantity", "{quantity} at {condition}")


class LocalStyle(Style):
    """Sets quantities as a language does."""

    __slots__ = ("_catalogue", "_decimal")

    def __init__(self, catalogue: Catalogue, tag: str) -> None:
        self._catalogue = catalogue
        self._decimal = _decimal(tag)

    def number(self, digits: str) -> str:
        """Return a number, with the decimal sign of the language."""
        return digits.replace(".", self._decimal)

    def unit(self, unit: Unit, *, one: bool = False) -> str:
        """Return a unit in the language: symbols stay as they are, words and what is short for them do not."""
        if unit.kind is Kind.COUNT:
            return self._catalogue.counted("unit.counted", unit.names, unit.symbol, 1 if one else 2)
        return self._catalogue.one("unit", unit.symbol) if unit.symbol in _SPELT else unit.symbol

    def between(self, low: str, high: str) -> str:
        """Return two ends, where a dash could be read as a minus."""
        return self._said(_BETWEEN, low=low, high=high).replace(" ", "\N{NO-BREAK SPACE}")

    def at(self, quantity: str, condition: str) -> str:
        """Return a quantity with what it holds at."""
        return self._said(_AT, quantity=quantity, condition=condition)

    def _said(self, message: Message, **fields: str) -> str:
        return filled(self._catalogue.one(message.context, message.text), fields)


def unit_messages() -> Iterator[Translatable]:
    """Yield the units that are words."""
    for unit in UNITS:
        if unit.kind is Kind.COUNT:
            yield Translatable(Message("unit.counted", unit.names, unit.symbol), "What is counted, after a number.")
        elif unit.symbol in _SPELT:
            yield Translatable(Message("unit", unit.symbol), f"A unit after a number: {unit.kind.value}.")


def dated(text: str, tag: str) -> str:
    """Return a day, written as 2026-11-25, as the language writes days; other words as they are."""
    locale = locale_of(tag)
    try:
        day = datetime.date.fromisoformat(text)
    except ValueError:
        return text
    if locale is None or locale.language == "en":
        return text
    from babel.dates import format_date

    return format_date(day, "long", locale)


def _decimal(tag: str) -> str:
    locale = locale_of(tag)
    return str(locale.number_symbols["latn"]["decimal"]) if locale else "."


@cache
def locale_of(tag: str) -> Locale | None:
    """Return what is known of a language or of one of its regions; None when nothing is."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(tag.replace("_", "-"), sep="-")
    except (UnknownLocaleError, ValueError):
        language, *rest = tag.replace("_", "-").split("-")
        return locale_of(language) if rest else None
