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
from putback.units.quantity import Form

_INFINITE = Decimal("Infinity")
_OPEN = (Form.MORE_THAN, Form.LESS_THAN)


class Edge(NamedTuple):
    """An end of a span. Edges are in the order in which they lie on the line of all values."""

    value: Decimal
    """Where, in the unit of all spans that are compared."""
    side: int
    """-1 just before that value, 0 at it, 1 just after it."""


class Reach(NamedTuple):
    """The values that lead to an outcome."""

    low: Edge
    """The first edge that lies in it."""
    high: Edge
    """The last edge that lies in it."""


class Missed(NamedTuple):
    """Values that lead to no outcome."""

    low: Edge
    high: Edge


def reach_of(quantity: Quantity, unit: str) -> Reach:
    """Return the values of a quantity, in a unit of its kind."""
    here, open_ended = quantity.to(unit), quantity.form in _OPEN
    low = Edge(-_INFINITE, 0) if here.low is None else Edge(here.low, int(open_ended))
    high = Edge(_INFINITE, 0) if here.high is None else Edge(here.high, -int(open_ended))
    return Reach(low, high)


def overlap(one: Reach, other: Reach) -> Reach | None:
    """Return the values of both; None when there are none."""
    low, high = max(one.low, other.low), min(one.high, other.high)
    return Reach(low, high) if low <= high else None


def left_out(reaches: Iterable[Reach], kind: Kind) -> list[Missed]:
    """Return the values that lie in none of some spans, of all that a measurement of a kind can give."""
    found, at = list[Missed](), Edge(-_INFINITE, 0)
    if kind is not Kind.TEMPERATURE:
        # Below nothing there is nothing; who means a value below it writes one that is.
        at = Edge(Decimal(0), 0)
    spans = sorted(reaches)
    if spans and spans[0].low.value < 0:
        at = Edge(-_INFINITE, 0)
    for low, high in spans:
        if low > at:
            found.append(Missed(at, low))
        at = max(at, _after(high))
    if at.value != _INFINITE and not (kind is Kind.RATIO and at > Edge(Decimal(100), 0)):
        found.append(Missed(at, Edge(_INFINITE, 0)))
    return found


def _after(edge: Edge) -> Edge:
    """Return the next edge: behind the value 3 comes what is just more than 3."""
    return edge if edge.value == _INFINITE else Edge(edge.value, edge.side + 1)


def shared_ends(found: Limit, good: Limit | None, outcomes: Sequence[Outcome]) -> list[Quantity]:
    """Return the ends of a range that belong to the limit or to an outcome before it, which have them as well."""
    mine = found.quantity
    if mine is None or mine.low is None or mine.high is None:
        return []
    before = [good] if good else []
    before += takewhile(lambda limit: limit is not found, (outcome.found for outcome in outcomes))
    others = [limit.quantity for limit in before if limit.quantity and limit.quantity.kind is mine.kind]
    ends = [value for value in dict.fromkeys((mine.low, mine.high)) if any(_has(other, mine, value) for other in others)]
    return [_single(mine, value) for value in ends]


def _has(other: Quantity, mine: Quantity, value: Decimal) -> bool:
    reach = reach_of(other, mine.unit)
    return reach.low <= Edge(value, 0) <= reach.high


def _single(quantity: Quantity, value: Decimal) -> Quantity:
    return replace(quantity, low=value, high=value, nominal=value, form=Form.VALUE, margin=None, stated=None)
