"""Conversion for print: as many digits as the source carries, and never out of what the source allows.

The rule. Let u be one unit of the last digit that the author stated, carried into the new unit.

* The finest place that may be printed is the greatest power of ten not above u. This is the rule of equal
  relative precision: the converted number has as many digits as the source, or one more where its leading
  digits are smaller (6.4 mm is 0.252 in, not 0.25). A source of one digit counts as two.
* No printed number is off by more than 2.5 %, whatever u is: 10 bar is 145 psi, and 2 kg is 4.4 lb.
* A single value takes the fewest digits that shift it by less than u/2: 18 N·m is 13 lbf·ft. A whole number that
  ends in zero hides how exactly it was meant; it may shift by up to 0.5 %, and half of its last place that is not
  zero, even if that is more than u/2: 300 ml is 10.1 US fl oz.
* A limit is rounded to the allowed side, unless the nearest number passes it by at most u/10. It may take one
  place more than the finest, so that it shifts by less than u/2.
* A range or a tolerance may pass its ends by at most 2 % of its width, and otherwise is rounded inwards, where it
  may lose at most 8 % of its width at each end. At the finest place it may pass them by u/10 and lose 20 %:
  35.00–35.02 mm is 1.3780–1.3787 in, since a hundred-thousandth of an inch is nothing that was measured. Where that
  is not enough, more digits are kept.
* A range that reaches ten times its lower end has each end rounded by itself: 1–25 N·m is 0.74–18 lbf·ft.
* A fraction of an inch is what a rule or a gap shows, and has no digits of its own: it is rounded to the nearest
  0.1 mm, its margin too: 1/16 in is 1.6 mm, and 3/8 ± 1/16 in is 9.5 ± 1.6 mm.
* A margin stated to a coarser place than its value decides how far the value may shift: 0.375 ± 0.06 in is
  9.5 ± 1.5 mm.
* A torque stated in whole numbers stays whole from 20 up: 40 N·m is 30 lbf·ft, and stands beside 45 N·m, 33 lbf·ft.
* A value with two deviations becomes a range: 20 +5 −0 N·m is 14.8–18.4 lbf·ft.
* Temperatures follow u alone, as a percentage means nothing on their scales.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal, localcontext

from putback.units.kinds import Kind
from putback.units.quantity import WIDE, Form, Quantity, scale
from putback.units.quantity import named as _named

_CLOSE = Decimal("0.025")
_ROUND_NUMBER = Decimal("0.005")
_OUTSIDE = Decimal("0.02")
_LOST = Decimal("0.08")
_LOST_AT_FINEST = Decimal("0.2")
_WIDE = 10
"""How many times the lower end a range reaches for its ends to be rounded each by itself."""
_WHOLE_TORQUE = 20
"""From here on, half a unit is within 2.5 %: no torque wrench is better."""
_HALF = Decimal("0.501")
_TENTH = -1
"""The place, in mm, to which a fraction of an inch is rounded."""
_MORE_PLACES = 25
"""Places after the finest that are tried before a number is kept as it is."""


def rounded_to(quantity: Quantity, unit: str) -> Quantity:
    """Return a quantity in another unit, rounded for print by the rule of this module.

    In its own unit it is returned as it is. Raises QuantityError as `Quantity.to` does.
    """
    exact = quantity.to(unit)
    if exact is quantity:
        return quantity
    with localcontext(WIDE):
        if quantity.fraction and (found := _of_fraction(exact)):
            return found
        match exact.form:
            case Form.RANGE | Form.DEVIATIONS:
                return _range(exact)
            case Form.MARGIN | Form.PERCENT:
                return _tolerance(exact, _margin_step(quantity, exact))
            case Form.VALUE | Form.SPLIT:
                return _value(exact, _half(quantity, exact))
            case Form.AT_LEAST | Form.MORE_THAN | Form.AT_MOST | Form.LESS_THAN:
                return _limit(exact, _half(quantity, exact))


def places(value: Decimal) -> Decimal:
    """Return one unit of the last printed digit of a number."""
    return Decimal(1).scaleb(min(int(value.as_tuple().exponent), 0))


def half_of_round(value: Decimal) -> Decimal:
    """Return by how much a whole number may differ from what was rounded to it by its zeros at the end."""
    return Decimal(5).scaleb(int(value.normalize().as_tuple().exponent) - 1)


def _half(written: Quantity, exact: Quantity) -> Decimal:
    """Return by how much rounding may shift the value, in the new unit."""
    half = exact.step / 2
    if written.kind is Kind.TORQUE and written.step == 1 and (exact.low or 0) >= _WHOLE_TORQUE:
        half = max(half, _HALF)
    value = written.high if written.low is None else written.low
    if written.fraction and value is not None and written.kind is not Kind.TEMPERATURE:
        return max(half, scale(abs(value) * _ROUND_NUMBER, _named(written.unit), _named(exact.unit)))
    if value is None or written.kind is Kind.TEMPERATURE or written.step != 1 or value % 10:
        return half
    hidden = min(abs(value) * _ROUND_NUMBER, half_of_round(value))
    return max(half, scale(hidden, _named(written.unit), _named(exact.unit)))


def _of_fraction(exact: Quantity) -> Quantity | None:
    """Return a fraction of an inch in mm; None in other units, and where the general rule keeps more."""
    if exact.unit != "mm" or exact.form is Form.PERCENT or exact.step >= 1:
        return None
    stated = [exact.nominal, exact.margin] if exact.form is Form.MARGIN else [exact.low, exact.high]
    values = [value for value in stated if value is not None]
    shown = [_at(value, _TENTH) for value in values]
    if not all(_near(value, number, exact) for value, number in zip(values, shown, strict=True)):
        return None
    match exact.form:
        case Form.MARGIN:
            middle, size = shown
            return _made(exact, middle - size, middle + size, middle, size, nominal=middle, margin=size)
        case Form.RANGE | Form.DEVIATIONS:
            return _made(exact, *shown, *shown) if shown[0] < shown[-1] else None
        case Form.VALUE | Form.SPLIT:
            return _made(exact, *shown, shown[0], nominal=shown[0])
        case _:
            low, high = (None if end is None else shown[0] for end in (exact.low, exact.high))
            return _made(exact, low, high, *shown)


def _exponents(top: Decimal, finest: int) -> Iterator[int]:
    """Yield the powers of ten to round to, from the leading digit to the finest place."""
    yield from range(max(top.adjusted() if top else 0, finest), finest - 1, -1)


def _at(value: Decimal, exponent: int, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    rounded = value.quantize(Decimal(1).scaleb(exponent), rounding=rounding)
    return rounded.quantize(Decimal(1)) if exponent > 0 else rounded


def _finest(exact: Quantity) -> int:
    """Return the exponent of the finest place that may be printed."""
    more = 1 if exact.digits == 1 and exact.kind is not Kind.TEMPERATURE else 0
    return exact.step.adjusted() - more


def _near(value: Decimal, rounded: Decimal, exact: Quantity) -> bool:
    if exact.kind is Kind.TEMPERATURE:
        # A ratio to zero means nothing on a scale whose zero is a convention; but below absolute zero, nothing is.
        return rounded >= value or rounded + Decimal(_named(exact.unit).offset) >= 0
    return abs(rounded - value) <= _CLOSE * abs(value)


def _made(exact: Quantity, low: Decimal | None, high: Decimal | None, *numbers: Decimal,
          nominal: Decimal | None = None, margin: Decimal | None = None) -> Quantity:  # fmt: skip
    shown = [f"{number:f}".replace(".", "").strip("-").lstrip("0") for number in numbers]
    return Quantity(
        low=low,
        high=high,
        unit=exact.unit,
        kind=exact.kind,
        text=exact.text,
        digits=max(1, *map(len, shown)),
        step=min(places(number) for number in numbers),
        form=Form.RANGE if exact.form is Form.DEVIATIONS else exact.form,
        nominal=nominal,
        margin=margin,
        at=exact.at,
    )


def _value(exact: Quantity, half: Decimal) -> Quantity:
    value = exact.low
    assert value is not None
    finest = _finest(exact)
    rounded = value
    for exponent in _exponents(value, finest - _MORE_PLACES):
        rounded = _at(value, exponent)
        if (abs(rounded - value) < half or exponent <= finest) and _near(value, rounded, exact):
            break
    return _made(exact, rounded, rounded, rounded, nominal=rounded)


def _limit(exact: Quantity, half: Decimal) -> Quantity:
    lower = exact.high is None
    value = exact.low if lower else exact.high
    assert value is not None
    finest = exact.step.adjusted()
    rounded = value
    for exponent in _exponents(value, finest - _MORE_PLACES):
        rounded = _at(value, exponent)
        if (value - rounded if lower else rounded - value) > exact.step / 10:
            rounded = _at(value, exponent, ROUND_CEILING if lower else ROUND_FLOOR)
        if (abs(rounded - value) < half or exponent < finest) and _near(value, rounded, exact):
            break
    return _made(exact, rounded if lower else None, None if lower else rounded, rounded)


def _fits(low: Decimal, high: Decimal, exact: Quantity, exponent: int) -> bool:
    """Tell whether a range is good enough for an exact one, when it was rounded to a place."""
    assert exact.low is not None
    assert exact.high is not None
    width = exact.high - exact.low
    gaps = (low - exact.low, exact.high - high)
    near = _near(exact.low, low, exact) and _near(exact.high, high, exact)
    lost = _LOST if exponent > _finest(exact) else _LOST_AT_FINEST
    return low < high and near and all(-_slack(exact, exponent) <= gap <= lost * width for gap in gaps)


def _slack(exact: Quantity, exponent: int) -> Decimal:
    """Return by how much an end may be passed when it is rounded to a place."""
    assert exact.low is not None
    assert exact.high is not None
    slack = _OUTSIDE * (exact.high - exact.low)
    return slack if exponent > _finest(exact) else max(slack, exact.step / 10)


def _range(exact: Quantity) -> Quantity:
    low, high = exact.low, exact.high
    assert low is not None
    assert high is not None
    least, most = low, high
    for exponent in _exponents(max(abs(low), abs(high)), _finest(exact) - _MORE_PLACES):
        slack = _slack(exact, exponent)
        least, most = _at(low, exponent), _at(high, exponent)
        if low - least > slack:
            least = _at(low, exponent, ROUND_CEILING)
        if most - high > slack:
            most = _at(high, exponent, ROUND_FLOOR)
        close = all(abs(rounded - value) < exact.step / 2 for value, rounded in ((low, least), (high, most)))
        if _fits(least, most, exact, exponent) and (close or exponent <= exact.step.adjusted()):
            if high > _WIDE * low > 0:
                most = _coarser(least, high, exact, exponent) or most
            break
    return _made(exact, least, most, least, most)


def _coarser(least: Decimal, high: Decimal, exact: Quantity, exponent: int) -> Decimal | None:
    """Return the upper end of a range of several sizes with no more places than it needs: 0.74–18 lbf·ft."""
    for place in range(high.adjusted(), exponent, -1):
        for most in (_at(high, place), _at(high, place, ROUND_FLOOR)):
            if _fits(least, most, exact, place):
                return most
    return None


def _margin_step(written: Quantity, exact: Quantity) -> Decimal:
    """Return one unit of the last digit of what stands after ±, in the new unit."""
    if written.margin is None or exact.form is not Form.MARGIN:
        return exact.step
    return max(exact.step, scale(places(written.margin), _named(written.unit), _named(exact.unit)))


def _tolerance(exact: Quantity, step: Decimal) -> Quantity:
    nominal, margin = exact.nominal, exact.margin
    assert nominal is not None
    assert margin is not None
    for exponent in _exponents(nominal, _finest(exact) - _MORE_PLACES):
        middle = _at(nominal, exponent)
        if abs(middle - nominal) > step / 2 or not _near(nominal, middle, exact):
            continue
        if exact.form is Form.PERCENT:
            size = abs(middle) * margin / 100
            if _fits(middle - size, middle + size, exact, exponent):
                return _made(exact, middle - size, middle + size, middle, nominal=middle, margin=margin)
            continue
        for size in (_at(margin, exponent), _at(margin, exponent, ROUND_FLOOR)):
            if size > 0 and _fits(middle - size, middle + size, exact, exponent):
                return _made(exact, middle - size, middle + size, middle, size, nominal=middle, margin=size)
    return exact
