"""Says messages, numbers and lists in one language."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from functools import cache

from putback.source.late import Late
from putback.telling.catalogue import Catalogue, catalogue_for
from putback.telling.figures import LocalStyle, dated
from putback.telling.message import Message, filled
from putback.units import Quantity, System, both, both_as, digits, show
from putback.units.quantity import named

_SAID_WITH_O = Late(r"8|11(?!\d)")
"""Figures whose Spanish word begins with o: ocho, ochenta, once."""


class Teller:
    """What a language says. Messages are found in the code by the names of these methods: see `.ci/catalogues.py`."""

    def __init__(self, tag: str, catalogue: Catalogue) -> None:
        self.tag = tag
        self._catalogue = catalogue
        self._style = LocalStyle(catalogue, tag)

    # Messages.

    def pattern(self, message: Message, count: int = 1) -> str:
        """Return a message with its fields as they are; of one that is counted, that for a number of pieces."""
        if message.many:
            return self._catalogue.counted(message.context, message.text, message.many, count)
        return self._catalogue.one(message.context, message.text)

    def say(self, context: str, text: str, /, **fields: str) -> str:
        """Return a message with its fields filled in."""
        return filled(self.pattern(Message(context, text)), fields)

    def say_count(self, context: str, one: str, many: str, count: int, /, **fields: str) -> str:
        """Return a message about a number of pieces, which is its field `count`."""
        return filled(self.pattern(Message(context, one, many), count), fields | {"count": self.number(count)})

    def told(self, message: Message, /, **fields: str) -> str:
        """Return a message that a table has."""
        return filled(self.pattern(message), fields)

    # Figures.

    def number(self, value: float | Decimal) -> str:
        """Return a number with up to six significant digits: `1000`, `0,25`."""
        return self._style.number(digits(value))

    def quantity(self, quantity: Quantity, first: System, second: System | None = None) -> str:
        """Return a quantity in one system of units or two, as `units.both` does."""
        return both(quantity, first, second, self._style)

    def like(self, quantity: Quantity, other: Quantity, first: System, second: System | None = None) -> str:
        """Return a quantity in the units in which another of its kind is printed."""
        return both_as(quantity, other, first, second, self._style)

    def in_own_unit(self, quantity: Quantity) -> str:
        """Return a quantity in the unit that it was written in."""
        return show(quantity, self._style)

    def unit(self, symbol: str) -> str:
        """Return a unit as it is printed after a number."""
        return self._style.unit(named(symbol))

    # Words.

    def listed(self, words: Iterable[str]) -> str:
        """Return words as a list, all of them together: `a, b and c`."""
        *others, last = list(words) or [""]
        if not others:
            return last
        joined = ", ".join(others)
        if self._changes(last, "i", "hi", "í", but="hie"):
            # Translators: only Spanish says "and" in another way before a word that begins with i.
            return self.say("list.before-i", "{others} and {last}", others=joined, last=last)
        return self.say("list", "{others} and {last}", others=joined, last=last)

    def either(self, words: Iterable[str]) -> str:
        """Return words as a list, one of them at a time: `a, b or c`."""
        *others, last = list(words) or [""]
        if not others:
            return last
        joined = ", ".join(others)
        if self._changes(last, "o", "ho", "ó"):
            # Translators: only Spanish says "or" in another way before a word that begins with o.
            return self.say("list.before-o", "{others} or {last}", others=joined, last=last)
        return self.say("list", "{others} or {last}", others=joined, last=last)

    def _changes(self, word: str, *starts: str, but: str = "\n") -> bool:
        """Tell whether the word between changes before another one, because both would begin alike."""
        begins = word.lower()
        alike = begins.startswith(starts) and not begins.startswith(but)
        if "o" in starts:
            alike = alike or _SAID_WITH_O.match(begins) is not None
        return self.tag.partition("-")[0] == "es" and alike

    def quoted(self, text: str) -> str:
        """Return a text between quotation marks."""
        return self.say("quotes", "“{text}”", text=text)

    def date(self, text: str) -> str:
        """Return a day, written as 2026-11-25, as the language writes days; other words as they are."""
        return dated(text, self.tag)


@cache
def told_in(tag: str) -> Teller:
    """Return what says messages in a language; in English, where there is no catalogue."""
    return Teller(tag, catalogue_for(tag))
