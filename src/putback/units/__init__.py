"""Quantities: read as a person writes them, kept exactly, converted without false digits.

`parse` and `parse_any` read, `show`, `both` and `both_as` print, `digits` prints a bare number, `rounded_to` converts
for print, `Quantity.to` and `si` convert for arithmetic, `disagreement` compares two stated units.
"""

from putback.units.agreeing import disagreement
from putback.units.kinds import Kind, System
from putback.units.printing import both, both_as, printed_alike, show, shown_in
from putback.units.quantity import Form, Quantity, QuantityError, least, most, si
from putback.units.reading import parse, parse_any
from putback.units.rounding import rounded_to
from putback.units.symbols import digits

__all__ = [
    "Form",
    "Kind",
    "Quantity",
    "QuantityError",
    "System",
    "both",
    "both_as",
    "digits",
    "disagreement",
    "least",
    "most",
    "parse",
    "parse_any",
    "printed_alike",
    "rounded_to",
    "show",
    "shown_in",
    "si",
]
