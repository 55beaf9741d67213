"""Which values lead to which outcome of a measurement: whether each value has one, and none has two."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import takewhile
from typing import NamedTuple

from putback.model.job import Outcome
from putback.model.said import Limit
from putback.units import Kind, Quantity
from putback.units.quantity import Form, named

_INFINITE = Decimal("Infinity")
_OPEN = (Form.MORE_THAN, Form.LESS_THAN)


class Border(NamedTuple):
    """An end of a span. They are in the order in which they lie on the line of all values."""

    value: Decimal
    """Where, in the unit of all spans that are compared."""
    side: int
    """-1 just before that value, 0 at it, 1 just after it."""


class ValueSpan(NamedTuple):
    """The values that lead to an outcome."""

    low: Border
    """The first value that lies in it."""
    high: Border
    """The last value that lies in it."""


def comparable(one: Quantity, other: Quantity) -> bool:
    """Tell whether two quantities lie on one line of values: °C and °F do, degrees before and after TDC do not."""
    return one.kind is other.kind and named(one.unit).si == named(other.unit).si


def reach_of(quantity: Quantity, unit: str) -> ValueSpan:
    """Return the values of a quantity, in a unit of its kind."""
    here, open_ended = quantity.to(unit), quantity.form in _OPEN
    low = Border(-_INFINITE, 0) if here.low is None else Border(here.low, int(open_ended))
    high = Border(_INFINITE, 0) if here.high is None else Border(here.high, -int(open_ended))
    return ValueSpan(low, high)


def overlap(one: ValueSpan, other: ValueSpan) -> ValueSpan | None:
    """Return the values of both; None when there are none."""
    low, high = max(one.low, other.low), min(one.high, other.high)
    return ValueSpan(low, high) if low <= high else None


def left_out(reaches: Iterable[ValueSpan], kind: Kind) -> list[ValueSpan]:
    """Return the values that lie in none of some spans, of all that a measurement of a kind can give.

    Each gap ends just before its `high`.
    """
    found, at = list[ValueSpan](), Border(-_INFINITE, 0)
    if kind is not Kind.TEMPERATURE:
        # Below nothing there is nothing; who means a value below it writes one that is.
        at = Border(Decimal(0), 0)
    spans = sorted(reaches)
    if spans and spans[0].low.value < 0:
        at = Border(-_INFINITE, 0)
    for low, high in spans:
        if low > at:
            found.append(ValueSpan(at, low))
        at = max(at, _after(high))
    if at.value != _INFINITE and not (kind is Kind.SHARE and at > Border(Decimal(100), 0)):
        found.append(ValueSpan(at, Border(_INFINITE, 0)))
    return found


def _after(bound: Border) -> Border:
    """Return the next bound: after the value 3 comes what is just more than 3."""
    return bound if bound.value == _INFINITE else Border(bound.value, bound.side + 1)


def shared_ends(found: Limit, good: Limit | None, outcomes: Sequence[Outcome]) -> list[Quantity]:
    """Return the ends of a range that belong to the limit or to an outcome before it, which have them as well."""
    mine = found.quantity
    if mine is None or mine.low is None or mine.high is None:
        return []
    before = [good] if good else []
    before += takewhile(lambda limit: limit is not found, (outcome.found for outcome in outcomes))
    others = [limit.quantity for limit in before if limit.quantity and comparable(limit.quantity, mine)]
    ends = [
        value for value in dict.fromkeys((mine.low, mine.high)) if any(_has(other, mine, value) for other in others)
    ]
    return [_single(mine, value) for value in ends]


def _has(other: Quantity, mine: Quantity, value: Decimal) -> bool:
    reach = reach_of(other, mine.unit)
    return reach.low <= Border(value, 0) <= reach.high


def _single(quantity: Quantity, value: Decimal) -> Quantity:
    plain = replace(quantity, low=value, high=value, nominal=value, form=Form.VALUE, margin=None)
    return replace(plain, below=None, also=())
