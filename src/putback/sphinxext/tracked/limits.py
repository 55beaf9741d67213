"""Limits in numbers, in each unit in which the page prints them, so that a reading can be judged by what is printed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeAlias

from putback.model.said import Limit
from putback.units import Form, Quantity, QuantityError, System, rounded_to, shown_in

Units: TypeAlias = tuple[System, System | None]
"""The systems that a guide prints, the first in front."""

Plain: TypeAlias = dict[str, Any]
"""What becomes an object of the script."""


def units_for(
    judged: Limit | None, outcomes: Sequence[Limit], units: Units, printed: Callable[[Quantity], str]
) -> list[Plain]:
    """Return each unit in which a reading can be written, with the limit in it, and the values that lead to outcomes.

    `printed` names the first of them as the language does: a page in German has `1/min` for `rpm`.

    Of outcomes, None is one whose values no number says. Empty when the limit is in words, and nothing says the unit.
    """
    known = judged.quantity if judged else None
    stated = known or next((outcome.quantity for outcome in outcomes if outcome.quantity), None)
    if stated is None or (stated.at is not None and not known):
        return []
    found = []
    for shown in shown_in(stated, *units):
        unit: Plain = {"unit": shown.unit, "limit": bounds(shown) if known else None}
        if outcomes:
            unit["branches"] = [_in(outcome.quantity, shown.unit, units) for outcome in outcomes]
        found.append(unit)
    name = printed(stated)
    if found and name != found[0]["unit"]:
        found[0]["shown"] = name
    return found


def bounds(quantity: Quantity) -> list[Any]:
    """Return the ends of a span: the lower, the upper (None for no end), and whether each of them is not in it."""
    ends = [None if end is None else float(end) for end in (quantity.low, quantity.high)]
    return [*ends, quantity.form is Form.MORE_THAN, quantity.form is Form.LESS_THAN]


def _in(quantity: Quantity | None, unit: str, units: Units) -> list[Any] | None:
    """Return the ends of a span in a unit, as they are printed in it; None when it cannot be said in it."""
    if quantity is None:
        return None
    for shown in shown_in(quantity, *units):
        if shown.unit == unit:
            return bounds(shown)
    try:
        return bounds(rounded_to(quantity, unit))
    except QuantityError:
        return None
