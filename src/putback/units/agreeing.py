"""Whether two stated units say the same.

Trade documents round one unit from the other; rounding to the digits shown explains most gaps, and
two-digit rounding stays within about 2 %. A pair disagrees when the spans that its two numbers can stand for
do not meet.
"""

from __future__ import annotations

from decimal import Decimal

from putback.units.quantity import Form, Quantity, convert, named
from putback.units.rounding import half_of_round, rounded_to
from putback.units.symbols import core
from putback.units.table import Kind, Unit

_FAULT = "the two stated units disagree"
_TWO_DIGITS = Decimal("0.02")
_DEGREES = Decimal(2)  # °C or °F: what rounding a temperature to a round number may hide
_OPEN_LOW = (Form.AT_MOST, Form.LESS_THAN)
_OPEN_HIGH = (Form.AT_LEAST, Form.MORE_THAN)


def disagreement(quantity: Quantity) -> str | None:
    """Return what is wrong between the two units that an author stated; None when they agree or one is given.

    They disagree when the gap is more than the rounding of either explains.
    """
    second = quantity.stated
    if second is None or agree(quantity, second):
        return None
    if _ends(quantity, second) is None:
        return f"{_FAULT}: {_plain(quantity)} and {_plain(second)} are not the same kind of statement"
    expected = rounded_to(quantity, second.unit)
    gap = _gap(quantity, second)
    percent = "" if gap is None else f" ({gap:+.1f} %)".replace("-", "−")
    return f"{_FAULT}: {_plain(quantity)} is {_plain(expected)}, but {_plain(second)} is stated{percent}"


def _plain(quantity: Quantity) -> str:
    return core(quantity).replace("\u00a0", " ")


def agree(first: Quantity, second: Quantity) -> bool:
    """Return whether rounding explains the gap between two statements of one quantity."""
    pairs = _ends(first, second)
    if pairs is None:
        return False
    here, there = named(first.unit), named(second.unit)
    for value, other in pairs:
        spread, spread_other = _rounding(value, first), _rounding(other, second)
        low, high = convert(value - spread, here, there), convert(value + spread, here, there)
        if low > other + spread_other or high < other - spread_other:
            return False
    return True


def _ends(first: Quantity, second: Quantity) -> list[tuple[Decimal, Decimal]] | None:
    """Pair the numbers that must match; None when one is a range and the other a single value, say."""
    if (first.form in _OPEN_LOW, first.form in _OPEN_HIGH) != (
        second.form in _OPEN_LOW,
        second.form in _OPEN_HIGH,
    ):
        return None
    spans = [quantity.form in (Form.RANGE, Form.MARGIN, Form.PERCENT) for quantity in (first, second)]
    if spans[0] != spans[1]:
        # A tolerance may be given once: 20 N·m ± 10 % (15 lbf·ft).
        if first.nominal is None or second.nominal is None:
            return None
        return [(first.nominal, second.nominal)]
    pairs = ((first.low, second.low), (first.high, second.high))
    return [(value, other) for value, other in pairs if value is not None and other is not None]


def _rounding(value: Decimal, quantity: Quantity) -> Decimal:
    """Return by how much the true value may differ from a stated one, in its unit."""
    half = quantity.step / 2
    if quantity.form is Form.MARGIN:
        half *= 2  # an end is the sum of two rounded numbers
    elif quantity.form is Form.PERCENT and quantity.margin is not None:
        half *= 1 + quantity.margin / 100
    if quantity.step != 1 or value % 5:
        return half
    # A whole number in fives or tens may have been rounded to that.
    hidden = Decimal("2.5") if value % 10 else half_of_round(value)
    most = _DEGREES if quantity.kind is Kind.TEMPERATURE else _TWO_DIGITS * abs(value)
    return max(half, min(hidden, most))


def _gap(first: Quantity, second: Quantity) -> Decimal | None:
    """Return how far the second stated value is off, in %, at the worse end; None on a temperature scale."""
    pairs = _ends(first, second) or []
    here: Unit = named(first.unit)
    there = named(second.unit)
    gaps = []
    for value, other in pairs:
        exact = convert(value, here, there)
        if first.kind is Kind.TEMPERATURE or not exact:
            return None
        gaps.append((other / exact - 1) * 100)
    return max(gaps, key=abs)
