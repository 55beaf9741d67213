"""Whether the stated units of one quantity say the same.

Trade documents round one unit from the other, or both from a third. Two statements disagree when they part by more
than the rounding of both explains, and by more than 3.5 %: docs/why/numbers.md has what printed pairs show
of that. Temperatures have no percentage; they may part by 2 °C more than rounding explains, or by 2.5 % from 80 °C on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from putback.units.kinds import SCALES_APART, Kind
from putback.units.quantity import Form, Quantity, convert, named, scale
from putback.units.rounding import half_of_round, rounded_to
from putback.units.symbols import core
from putback.units.table import find

_FAULT = "the two stated units disagree"
_FLOOR = Decimal("0.035")
_MARGIN_FLOOR = Decimal("0.2")
"""How far two margins may part: they are small numbers, of one or two digits."""
_TWO_DIGITS = Decimal("0.02")
_DEGREES = Decimal(2)  # °C: what rounding a temperature to a round number may hide
_DEGREES_SHARE = Decimal("0.025")
_SMALL_DIFFERENCE = Decimal(15)  # °C: up to it, a pair that agrees as a difference is one
_OPEN_LOW = (Form.AT_MOST, Form.LESS_THAN)
_OPEN_HIGH = (Form.AT_LEAST, Form.MORE_THAN)
_SPANS = (Form.RANGE, Form.MARGIN, Form.PERCENT, Form.DEVIATIONS)


def disagreement(quantity: Quantity) -> str | None:
    """Return what is wrong between the units that an author stated; None when they agree or one is given.

    With three, the one that none of the others bears out is wrong. What it holds at is looked at as well.
    """
    where = disagreement(quantity.at) if quantity.at else None
    return next((_fault(first, odd) for first, odd in _odd(quantity)), where)


def _odd(quantity: Quantity) -> Iterator[tuple[Quantity, Quantity]]:
    """Yield a statement that others bear out or the first, and one that disagrees with it."""
    stated = [quantity, *quantity.also]
    borne = [sum(agree(one, other) for other in stated if other is not one) for one in stated]
    best = stated[borne.index(max(borne))]
    for other, count in zip(stated, borne, strict=True):
        if other is not best and not count:
            yield best, other


def _fault(first: Quantity, second: Quantity) -> str:
    if _pairs(first, second) is None:
        return f"{_FAULT}: {_plain(first)} and {_plain(second)} do not state the same kind of limit"
    expected = rounded_to(first, second.unit)
    gap = _gap(first, second)
    percent = "" if gap is None else f" ({gap * 100:+.1f} %)".replace("-", "−")
    return f"{_FAULT}: {_plain(first)} is {_plain(expected)}, but {_plain(second)} is stated{percent}"


def _plain(quantity: Quantity) -> str:
    return core(quantity).replace("\u00a0", " ")


def agree(first: Quantity, second: Quantity) -> bool:
    """Return whether rounding explains the gap between two statements of one quantity, or it is small."""
    if named(first.unit).si != named(second.unit).si:
        return first.kind in SCALES_APART
    pairs = _pairs(first, second)
    if pairs is None:
        return False
    if first.kind is Kind.TEMPERATURE and _is_difference(first, second):
        return True
    return _margins_agree(first, second) and all(_close(*pair, first, second) for pair in pairs)


def _close(value: Decimal, other: Decimal, first: Quantity, second: Quantity) -> bool:
    here, there = named(first.unit), named(second.unit)
    exact = convert(value, here, there)
    gap = abs(other - exact)
    if first.kind is Kind.TEMPERATURE:
        degrees = max(_DEGREES, _DEGREES_SHARE * abs(convert(value, here, named("°C"))))
        floor = scale(degrees, named("°C"), there)
    else:
        floor = _FLOOR * abs(exact)
    return gap <= max(floor, scale(_rounding(value, first), here, there) + _rounding(other, second))


def _margins_agree(first: Quantity, second: Quantity) -> bool:
    """Tell whether two margins are the same, where both statements have one in a unit."""
    if first.form is not Form.MARGIN or second.form is not Form.MARGIN:
        return True
    assert first.margin is not None
    assert second.margin is not None
    here, there = named(first.unit), named(second.unit)
    exact = scale(first.margin, here, there)
    rounding = scale(first.step / 2, here, there) + second.step / 2
    return abs(second.margin - exact) <= max(rounding, _MARGIN_FLOOR * exact)


def _is_difference(first: Quantity, second: Quantity) -> bool:
    """Tell whether a pair of temperatures is one of differences: 3 °C (5 °F)."""
    here, there = (as_difference(quantity) for quantity in (first, second))
    nominal = here.to("°C difference").nominal
    return nominal is not None and 0 < abs(nominal) <= _SMALL_DIFFERENCE and agree(here, there)


def as_difference(quantity: Quantity) -> Quantity:
    """Return a temperature as a difference of temperatures, in all its units."""
    unit = find(f"{quantity.unit} difference")
    assert unit is not None
    return replace(quantity, unit=unit.symbol, kind=unit.kind, also=tuple(map(as_difference, quantity.also)))


def _pairs(first: Quantity, second: Quantity) -> list[tuple[Decimal, Decimal]] | None:
    """Pair the numbers that must match; None when one is open where the other is not, say."""
    if (first.form in _OPEN_LOW, first.form in _OPEN_HIGH) != (second.form in _OPEN_LOW, second.form in _OPEN_HIGH):
        return None
    spans = [quantity.form in _SPANS for quantity in (first, second)]
    if spans[0] != spans[1]:
        # A tolerance may be given once: 20 N·m ± 10 % (15 lbf·ft).
        if first.nominal is not None and second.nominal is not None:
            return [(first.nominal, second.nominal)]
        # A narrow range may be one number in the coarser unit.
        return _both_ends(first, second) if _both_ends_close(first, second) else None
    return _both_ends(first, second)


def same_form(first: Quantity, second: Quantity) -> bool:
    """Tell whether two statements can be compared: both are a value, or a span, or open at the same end."""
    return _pairs(first, second) is not None


def _both_ends(first: Quantity, second: Quantity) -> list[tuple[Decimal, Decimal]]:
    pairs = ((first.low, second.low), (first.high, second.high))
    return [(value, other) for value, other in pairs if value is not None and other is not None]


def _both_ends_close(first: Quantity, second: Quantity) -> bool:
    return all(_close(value, other, first, second) for value, other in _both_ends(first, second))


def _rounding(value: Decimal, quantity: Quantity) -> Decimal:
    """Return by how much the true value may differ from a stated one, in its unit."""
    half = _grid(value) / 2 if quantity.fraction else quantity.step / 2
    if quantity.form in (Form.MARGIN, Form.DEVIATIONS):
        half *= 2  # an end is the sum of two rounded numbers
    elif quantity.form is Form.PERCENT and quantity.margin is not None:
        half *= 1 + quantity.margin / 100
    if quantity.step != 1 or value % 5:
        return half
    # A whole number in fives or tens may have been rounded to that.
    hidden = Decimal("2.5") if value % 10 else half_of_round(value)
    most = _DEGREES if quantity.kind is Kind.TEMPERATURE else _TWO_DIGITS * abs(value)
    return max(half, min(hidden, most))


def _grid(value: Decimal) -> Decimal:
    """Return the parts of an inch that a fraction was rounded to: sixteenths, or finer when it is."""
    return next((Decimal(1) / parts for parts in (16, 32, 64) if value * parts % 1 == 0), Decimal(1) / 128)


def _gap(first: Quantity, second: Quantity) -> Decimal | None:
    """Return by what share the second stated value is off, at the worse end; None on a temperature scale."""
    here, there = named(first.unit), named(second.unit)
    gaps = []
    for value, other in _pairs(first, second) or []:
        exact = convert(value, here, there)
        if first.kind is Kind.TEMPERATURE or not exact:
            return None
        gaps.append(other / exact - 1)
    return max(gaps, key=abs)
