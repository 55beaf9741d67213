"""Sums of quantities: 1.5 l and 350 ml are 1.85 l."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_EVEN, Context, Decimal, localcontext

from putback.units.quantity import Quantity, QuantityError, si
from putback.units.reading import parse

_EXACT = Context(prec=1_000)
"""A text of 200 characters has no number so long that a sum is rounded."""


def sum_of(quantities: Sequence[Quantity]) -> Quantity | None:
    """Return the sum of values and ranges of one kind, in the unit of the largest; None where there is none.

    There is none of limits such as `≥ 2 l`, of nothing, and of what is measured in units that do not go together. One
    alone is its own sum.
    """
    if len(quantities) < 2:
        return quantities[0] if quantities else None
    first = max(quantities, key=lambda each: si(each)[1] or 0)
    try:
        alike = [each.to(first.unit) for each in quantities]
    except QuantityError:
        return None
    lows, highs = [each.low for each in alike], [each.high for each in alike]
    if any(bound is None for bound in (*lows, *highs)):
        return None
    steps = [_power(each.step) for each in alike]
    with localcontext(_EXACT):
        low, high = (_plain(sum(filter(None, bounds), Decimal(0)), min(steps), max(steps)) for bounds in (lows, highs))
    text = f"{low} {first.unit}" if low == high else f"{low} .. {high} {first.unit}"
    try:
        return parse(text, first.kind)
    except QuantityError:
        return None


def _power(step: Decimal) -> Decimal:
    """Return the power of ten that a step is, or the next below."""
    return Decimal(1).scaleb(step.adjusted()) if step else Decimal(1)


def _plain(value: Decimal, fine: Decimal, coarse: Decimal) -> str:
    """Return a number to the finest step that was stated; without zeros at its end that the coarsest does not state."""
    step = fine
    while step < coarse and value.quantize(step.scaleb(1), ROUND_HALF_EVEN) == value.quantize(fine, ROUND_HALF_EVEN):
        step = step.scaleb(1)
    return f"{value.quantize(step, ROUND_HALF_EVEN):f}"
