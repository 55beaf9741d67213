"""Numbers and symbols set together."""

from __future__ import annotations

from decimal import Decimal, localcontext
from math import isfinite

from putback.units.kinds import Kind, Unit
from putback.units.quantity import WIDE, Form, Quantity, convert, named
from putback.units.style import ENGLISH, Style
from putback.units.table import LADDERS

_SPACE = "\u00a0"
_MINUS = "−"


def number(value: Decimal, *, fraction: bool = False) -> str:
    """Return a number: all its digits, a true minus; as 1 1/2 when it was written with fractions."""
    sign = _MINUS if value < 0 else ""
    size = abs(value)
    if fraction and size != size.to_integral_value():
        whole = int(size)
        with localcontext(WIDE):
            rest = size - whole
            # Thirds are kept to 28 digits, so the nearest numerator is compared with a hair's width.
            for bottom in range(2, 129):
                top = (rest * bottom).to_integral_value()
                if top and abs(rest * bottom - top) < Decimal("1e-18"):
                    return f"{sign}{f'{whole}{_SPACE}' if whole else ''}{top}/{bottom}"
    return f"{sign}{size:f}"


def digits(value: float | Decimal, significant: int = 6) -> str:
    """Return a number with some significant digits, without zeros at its end or an exponent: 1000, 0.25."""
    if not isfinite(value):
        return f"{value:g}"
    written = f"{Decimal(f'{value:.{significant}g}'):f}"
    written = written.rstrip("0").rstrip(".") if "." in written else written
    return "0" if written == "-0" else written


def core(quantity: Quantity, style: Style = ENGLISH) -> str:
    """Return a quantity in its own unit, without a second one, and without what it holds at."""
    unit = named(quantity.unit)
    low, high = ("" if value is None else _set(value, quantity, style) for value in (quantity.low, quantity.high))
    one = unit.kind is Kind.COUNT and quantity.low == quantity.high == 1
    tail = f"{unit.joined}{style.unit(unit, one=one)}"
    match quantity.form:
        case Form.VALUE:
            return low + tail
        case Form.SPLIT:
            return _split(quantity, unit, style)
        case Form.RANGE:
            # A dash before a minus cannot be read.
            return f"{style.between(low, high) if _MINUS in low + high else f'{low}–{high}'}{tail}"
        case Form.MARGIN | Form.PERCENT:
            assert quantity.nominal is not None
            assert quantity.margin is not None
            middle = _set(quantity.nominal, quantity, style)
            if quantity.form is Form.PERCENT:
                return f"{middle}{tail}{_SPACE}±{_SPACE}{style.number(number(quantity.margin))}{_SPACE}%"
            return f"{middle}{_SPACE}±{_SPACE}{_set(quantity.margin, quantity, style)}{tail}"
        case Form.DEVIATIONS:
            assert quantity.nominal is not None
            sides = (style.number(_deviation(value)) for value in (quantity.margin, quantity.below))
            return f"{style.number(number(quantity.nominal))}{_SPACE}{_SPACE.join(sides)}{tail}"
        case Form.AT_LEAST | Form.MORE_THAN | Form.AT_MOST | Form.LESS_THAN:
            return f"{quantity.form.value}{_SPACE}{low or high}{tail}"


def _set(value: Decimal, quantity: Quantity, style: Style) -> str:
    """Return a value of a quantity: in fractions where it was written with them."""
    return style.number(number(value, fraction=quantity.fraction))


def _deviation(value: Decimal | None) -> str:
    """Return a deviation with its sign; nothing more is `−0`, as the trade writes it."""
    assert value is not None
    return (
        f"+{number(value)}" if value > 0 or (not value and not value.is_signed()) else f"{_MINUS}{number(abs(value))}"
    )


def _split(quantity: Quantity, smallest: Unit, style: Style) -> str:
    rest = quantity.low
    assert rest is not None
    ladder = next(steps for steps in LADDERS if smallest.symbol in steps)
    larger = [named(symbol) for symbol in ladder[ladder.index(smallest.symbol) + 1 :]]
    shown: list[str] = []
    for unit in reversed(larger):
        one = convert(Decimal(1), unit, smallest)
        count = rest // one
        if count or unit is larger[0]:
            shown.append(f"{style.number(number(count))}{unit.joined}{style.unit(unit)}")
        rest -= count * one
    shown.append(f"{_set(rest, quantity, style)}{smallest.joined}{style.unit(smallest)}")
    return _SPACE.join(shown)
