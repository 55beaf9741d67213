"""A quantity as it is printed."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import partial

from putback.units.agreeing import agree
from putback.units.kinds import Kind, System
from putback.units.quantity import Quantity, named
from putback.units.rounding import rounded_to
from putback.units.style import ENGLISH, Style
from putback.units.symbols import core
from putback.units.table import designation

_FORMER = frozenset({"kgf·m", "kgf·cm", "daN·m"})
"""Metric units of torque that no wrench of today is marked in: printed as N·m, lest one is read as the other."""
_SMALL_TORQUE = Decimal(8)  # N·m; below it, inch wrenches are marked in lbf·in


_PARTNERS = {
    Kind.TEMPERATURE: ("°C", "°F"),
    Kind.DIFFERENCE: ("K", "°F difference"),
    Kind.FORCE: ("N", "lbf"),
    Kind.SPRING_RATE: ("N/mm", "lbf/in"),
    Kind.DISTANCE: ("km", "mi"),
}
"""The metric and the US unit of kinds that have one of each."""
_COLUMNS = {"mmHg": "inHg", "mmH₂O": "inH₂O"}


def show(quantity: Quantity, style: Style = ENGLISH) -> str:
    """Return the quantity in its own unit, normalised: `18 N·m`, `22–28 lbf·ft`, `445 ± 22 N`, `≥ 6.4 mm`.

    A no-break space (U+00A0) stands before the unit. Other stated units follow in brackets, and then what it holds
    at: `10 mm at 30 N`. Reading the result gives an equal quantity, when it is set as in English.
    """
    return _with(quantity, [quantity, *quantity.also], partial(show, style=style), style)


def both(quantity: Quantity, first: System, second: System | None, style: Style = ENGLISH) -> str:
    """Return the quantity for a guide that prints `first`, and `second` in brackets: `18 N·m (13 lbf·ft)`.

    All that the author stated is printed as stated, as long as the units agree, with that of `first` in front. Only
    what was not stated is converted, by the rule of `rounding`. Units that every reader uses (min, °, rpm, V, A, Ω,
    %) stand alone.
    """
    return _with(quantity, shown_in(quantity, first, second), lambda at: both(at, first, second, style), style)


def shown_in(quantity: Quantity, first: System, second: System | None) -> list[Quantity]:
    """Return the statements of a quantity that `both` prints, each in a unit of its own."""
    stated = [quantity, *(other for other in quantity.also if agree(quantity, other))]
    if _for_all(quantity):
        return stated
    systems = [first] if second is None or second is first else [first, second]
    return list(dict.fromkeys([*(_in(quantity, stated, system) for system in systems), *stated[len(stated) < 2 :]]))


def printed_alike(one: Quantity, other: Quantity, first: System, second: System | None) -> bool:
    """Tell whether `both` prints two quantities in the same units."""
    systems = [first] if second is None else [first, second]
    return all(_in(one, [one, *one.also], x).unit == _in(other, [other, *other.also], x).unit for x in systems)


def both_as(quantity: Quantity, like: Quantity, first: System, second: System | None, style: Style = ENGLISH) -> str:
    """Return a quantity in the units in which another of its kind is printed: the step of a scale as its range."""
    systems = [first] if second is None or second is first else [first, second]
    shown = [rounded_to(quantity, unit_in(like, system)) for system in systems]
    return _with(quantity, shown, partial(show, style=style), style)


def unit_in(quantity: Quantity, first: System) -> str:
    """Return the symbol of the unit that `both` prints first."""
    return first_in(quantity, first).unit


def first_in(quantity: Quantity, first: System) -> Quantity:
    """Return the quantity as `both` prints it first."""
    return quantity if _for_all(quantity) else _in(quantity, [quantity, *quantity.also], first)


def _with(quantity: Quantity, shown: list[Quantity], also: Callable[[Quantity], str], style: Style) -> str:
    """Return statements of one quantity, all but the first in brackets, and what it holds at."""
    first, *others = (core(each, style) for each in shown)
    words = f"{first} ({', '.join(others)})" if others else first
    return style.at(words, also(quantity.at)) if quantity.at else words


def _for_all(quantity: Quantity) -> bool:
    """Tell whether readers of all systems use the unit."""
    return named(quantity.unit).system is None and partner(quantity, System.METRIC) == quantity.unit


def _in(quantity: Quantity, stated: list[Quantity], system: System) -> Quantity:
    """Return how a quantity is printed in a system: as stated, or else converted."""
    for each in stated:
        if named(each.unit).system is system and each.unit not in _FORMER:
            return each
    return rounded_to(quantity, partner(quantity, system))


def _size(quantity: Quantity, unit: str) -> Decimal:
    """Return the greatest value of a quantity in `unit`, as a measure of which unit suits it."""
    exact = quantity.to(unit)
    values = (exact.nominal,) if exact.nominal is not None else (exact.low, exact.high)
    return max(abs(value) for value in values if value is not None)


def partner(quantity: Quantity, system: System) -> str:
    """Return the unit that the trade uses in `system` for a quantity; its own where no system has one."""
    metric = system is System.METRIC
    unit = quantity.unit
    match quantity.kind:
        case Kind.TORQUE:
            small = _size(quantity, "N·m") < _SMALL_TORQUE
            return "N·m" if metric else "lbf·in" if small else "lbf·ft"
        case Kind.VOLUME:
            return _metric_volume(quantity) if metric else _us_volume(quantity)
        case Kind.FLOW:
            return _metric_flow(quantity) if metric else _us_flow(quantity)
        case Kind.LENGTH:
            return (
                ("m" if unit == "ft" else "µm" if unit == "µin" else "mm") if metric else "ft" if unit == "m" else "in"
            )
        case Kind.MASS:
            return ("g" if unit == "oz" else "kg") if metric else "oz" if unit in ("g", "mg") else "lb"
        case Kind.PRESSURE:
            return _pressure(unit, metric)
        case Kind.SPEED:
            return unit if unit in ("rpm", "kn") else "km/h" if metric else "mph"
        case Kind.AREA:
            return ("m²" if unit == "ft²" else "mm²") if metric else "ft²" if unit == "m²" else "in²"
        case Kind.DENSITY:
            return unit if unit == "SG" else ("kg/m³" if unit == "lb/ft³" else "kg/l") if metric else "lb/US gal"
        case Kind.POWER:
            return unit if unit == "W" else "kW" if metric else "hp"
        case Kind.ROUGHNESS:
            return f"{'µm' if metric else 'µin'} {designation(named(unit))}"
        case kind:
            pair = _PARTNERS.get(kind)
            return unit if pair is None else pair[0 if metric else 1]


def _metric_length(unit: str) -> str:
    return {"ft": "m", "µin": "µm"}.get(unit, "mm")


def _metric_volume(quantity: Quantity) -> str:
    return "ml" if _size(quantity, "l") < 1 and quantity.unit[-3:] != "gal" else "l"


def _us_volume(quantity: Quantity) -> str:
    if quantity.unit == "m³":
        return "ft³"
    quarts = _size(quantity, "US qt")
    small = quantity.unit in ("ml", "cm³", "cl", "dl", "imp fl oz")
    if quarts < (Decimal(1) if small else Decimal("0.25")):
        return "US fl oz"
    return "US qt" if quarts < 4 else "US gal"


def _pressure(unit: str, metric: bool) -> str:
    return "kPa" if metric else _COLUMNS.get(unit, "psi")


def _metric_flow(quantity: Quantity) -> str:
    return "l/h" if quantity.unit == "US gal/h" else "m³/min" if _size(quantity, "m³/min") > 1 else "l/min"


def _us_flow(quantity: Quantity) -> str:
    return "US gal/h" if _size(quantity, "US gal/min") < Decimal("0.5") else "US gal/min"
