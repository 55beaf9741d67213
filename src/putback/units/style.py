"""How numbers, units and the few words between them are set: here as in English; another language has its own."""

from __future__ import annotations

from putback.units.kinds import Unit

_SPACE = "\u00a0"


class Style:
    """Sets quantities as English does."""

    __slots__ = ()

    def number(self, digits: str) -> str:
        """Return a number as it is printed, made of its digits with a point."""
        return digits

    def unit(self, unit: Unit, *, one: bool = False) -> str:
        """Return a unit as it is printed after a number; with `one`, after a single one of what is counted."""
        return unit.names if one else unit.symbol

    def between(self, low: str, high: str) -> str:
        """Return two ends, where a dash could be read as a minus."""
        return f"{low}{_SPACE}to{_SPACE}{high}"

    def at(self, quantity: str, condition: str) -> str:
        """Return a quantity with what it holds at: `10 mm at 30 N`."""
        return f"{quantity} at {condition}"


ENGLISH = Style()
"""As English sets them; `parse` reads this."""
