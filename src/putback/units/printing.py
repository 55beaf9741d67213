"""A quantity as it is printed."""

from __future__ import annotations

from decimal import Decimal

from putback.units.agreeing import agree
from putback.units.quantity import Quantity, named
from putback.units.rounding import rounded_to
from putback.units.symbols import core
from putback.units.table import Kind, System

_FORMER = frozenset({"kgf·m", "kgf·cm"})
"""Metric units of torque that no wrench of today is marked in: printed as N·m, lest one is read as the other."""
_SMALL_TORQUE = Decimal(8)  # N·m; below it, inch wrenches are marked in lbf·in


def show(quantity: Quantity) -> str:
    """Return the quantity in its own unit, normalised: `18 N·m`, `22–28 lbf·ft`, `445 ± 22 N`, `≥ 6.4 mm`.

    A no-break space (U+00A0) stands before the unit. A second stated unit follows in brackets.
    Reading the result gives an equal quantity.
    """
    if quantity.stated is None:
        return core(quantity)
    return f"{core(quantity)} ({core(quantity.stated)})"


def both(quantity: Quantity, first: System, second: System | None) -> str:
    """Return the quantity for a guide that prints `first`, and `second` in brackets: `18 N·m (13 lbf·ft)`.

    What the author stated is printed as stated, in either place, as long as his two units agree. The rest is
    converted by the rule of `rounding`. Units that every reader uses (min, °, rpm, V, A, Ω, %) stand alone.
    """
    if named(quantity.unit).system is None and quantity.kind is not Kind.VOLUME:
        return show(quantity)
    leading = _in(quantity, first)
    if second is None or second is first:
        return core(leading)
    return f"{core(leading)} ({core(_in(quantity, second))})"


def unit_in(quantity: Quantity, first: System) -> str:
    """Return the symbol of the unit that `both` prints first."""
    if named(quantity.unit).system is None and quantity.kind is not Kind.VOLUME:
        return quantity.unit
    return _in(quantity, first).unit


def _in(quantity: Quantity, system: System) -> Quantity:
    if named(quantity.unit).system is system and quantity.unit not in _FORMER:
        return quantity
    stated = quantity.stated
    if stated is not None and named(stated.unit).system is system and agree(quantity, stated):
        return stated
    return rounded_to(quantity, partner(quantity, system))


def _size(quantity: Quantity, unit: str) -> Decimal:
    """Return the greatest value of a quantity in `unit`, as a measure of which unit suits it."""
    exact = quantity.to(unit)
    values = (exact.nominal,) if exact.nominal is not None else (exact.low, exact.high)
    return max(abs(value) for value in values if value is not None)


def partner(quantity: Quantity, system: System) -> str:
    """Return the unit that the trade uses in `system` for a quantity of the other system."""
    metric = system is System.METRIC
    unit = quantity.unit
    match quantity.kind:
        case Kind.TORQUE:
            small = _size(quantity, "N·m") < _SMALL_TORQUE
            return "N·m" if metric else "lbf·in" if small else "lbf·ft"
        case Kind.VOLUME:
            return _metric_volume(quantity) if metric else _us_volume(quantity)
        case Kind.LENGTH:
            return ("m" if unit == "ft" else "mm") if metric else "ft" if unit == "m" else "in"
        case Kind.MASS:
            return ("g" if unit == "oz" else "kg") if metric else "oz" if unit in ("g", "mg") else "lb"
        case Kind.PRESSURE:
            return "kPa" if metric else "inHg" if unit == "mmHg" else "psi"
        case Kind.TEMPERATURE:
            return "°C" if metric else "°F"
        case Kind.FORCE:
            return "N" if metric else "lbf"
        case Kind.SPEED:
            return "km/h" if metric else "mph"
        case Kind.TIME | Kind.ANGLE | Kind.VOLTAGE | Kind.CURRENT | Kind.RESISTANCE | Kind.RATIO:
            return unit


def _metric_volume(quantity: Quantity) -> str:
    return "ml" if _size(quantity, "l") < 1 and quantity.unit[-3:] != "gal" else "l"


def _us_volume(quantity: Quantity) -> str:
    quarts = _size(quantity, "US qt")
    small = quantity.unit in ("ml", "cm³", "cl", "dl", "imp fl oz")
    if quarts < (Decimal(1) if small else Decimal("0.25")):
        return "US fl oz"
    return "US qt" if quarts < 4 else "US gal"
