"""Ends at which the values of two outcomes meet: they are rounded alike, or a value would lie between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from putback.model.said import Limit
from putback.units import Quantity, System
from putback.units.printing import partner
from putback.units.quantity import named
from putback.units.rounding import rounded_to


def meeting_at(found: Limit, others: Sequence[Limit], first: System) -> Limit:
    """Return a one-sided limit with its second unit, rounded as that of another limit is that it meets at its end."""
    mine = found.quantity
    if mine is None or mine.also or (mine.low is None) == (mine.high is None):
        return found
    end = mine.high if mine.low is None else mine.low
    own = named(mine.unit).system
    target = next(system for system in (System.US, System.METRIC) if system is not (own or first))
    for other in (each.quantity for each in others if each.quantity and each.quantity.unit == mine.unit):
        if end in (other.low, other.high) and (unit := partner(other, target)) != mine.unit:
            stated = next((each for each in other.also if each.unit == unit), None) or rounded_to(other, unit)
            value = stated.low if end == other.low else stated.high
            return replace(found, quantity=replace(mine, also=(_alike(mine, stated, value),)))
    return found


def _alike(mine: Quantity, stated: Quantity, value: Decimal | None) -> Quantity:
    """Return what another limit says in a second unit, in the form of this one."""
    plain = replace(stated, form=mine.form, nominal=None, margin=None, below=None, also=(), at=None)
    return replace(plain, low=None if mine.low is None else value, high=None if mine.high is None else value)
