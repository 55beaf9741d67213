"""Tightening orders in words, for who cannot see the drawing."""

from __future__ import annotations

from collections.abc import Sequence

from putback.joints.layouts import Layout, Shape, centre_of, is_straight
from putback.joints.patterns import degrees_apart, in_rows
from putback.joints.plane import clockwise
from putback.units import digits


def in_words(order: Sequence[int], layout: Layout, *, before: int = 0) -> str:
    """Return an order in words, for who cannot see the drawing: where each turn is, by the clock or by rows.

    The numbers are turns, as in the drawing: "start at 12 o'clock; 2 at 6 o'clock, opposite; 3 at 3 o'clock". Beyond
    LONGEST_WORDS turns, the words end with "and so on". The turns go on from those `before`.
    """
    where, note = _places_in_words(layout)
    centre = centre_of(layout)
    told = []
    for turn, number in enumerate(order[:LONGEST_WORDS], 1):
        words = f"{before + turn} {where[number - 1]}" if before + turn > 1 else f"start {where[number - 1]}"
        if turn > 1 and centre is not None:
            here, last = (clockwise(layout.places[n - 1], centre) for n in (number, order[turn - 2]))
            words += ", opposite" if degrees_apart(here, last) > 179 else ""
        told.append(words)
    if len(order) > LONGEST_WORDS:
        told.append(f"and so on to {before + len(order)}")
    return "; ".join(told) + note


LONGEST_WORDS = 24
"""Turns that are told one by one; more are a list that nobody listens to."""

_ENDS = {1: [""], 2: ["top", "bottom"], 3: ["top", "middle", "bottom"]}
_SIDES = {1: [""], 2: ["left", "right"], 3: ["left", "middle", "right"]}


def _places_in_words(layout: Layout) -> tuple[list[str], str]:
    """Return where each place is, and how it is counted."""
    places = layout.places
    centre = centre_of(layout)
    if centre is not None and (layout.shape is Shape.CIRCLE or len(places) > 4):
        return [f"at {_clock(clockwise(place, centre))}" for place in places], ""
    rows = in_rows(places)
    if (
        len(rows) == len(places) > 3
        and abs(places[rows[0][0]][0] - places[rows[-1][0]][0]) <= 1
        and is_straight(layout)
    ):
        where = {row[0]: f"at place {number}" for number, row in enumerate(rows, 1)}
        return [where[i] for i in range(len(places))], " (places counted from the top)"
    if len(rows) > max(3, len(places) // 2):
        return [f"at {digits(x)}, {digits(y)}" for x, y in places], " (mm to the right, mm upwards)"
    where = {}
    for number, row in enumerate(rows, 1):
        for place, index in enumerate(row, 1):
            where[index] = _in_row(number, len(rows), place, len(row))
    counted = [" rows from the top"] * (len(rows) > 3) + [" places from the left"] * (max(map(len, rows)) > 3)
    note = f" ({' and'.join(counted).strip()})" if counted else ""
    return [where[i] for i in range(len(places))], note


def _clock(turn: float) -> str:
    """Return where the hour hand of a clock points at an angle from the top, degrees."""
    hours, minutes = divmod(round(turn * 2), 60)
    hours = hours % 12 or 12
    return f"{hours}:{minutes:02}" if minutes else f"{hours} o'clock"


def _in_row(row: int, rows: int, place: int, places: int) -> str:
    if rows <= 3 and places <= 3:
        words = f"{_ENDS[rows][row - 1]} {_SIDES[places][place - 1]}".strip()
        return "in the middle" if words in ("middle", "middle middle", "") else f"at the {words}"
    side = f"place {place}" if places > 3 else _SIDES[places][place - 1]
    if rows == 1:
        return f"at {side}"
    end = f"the {_ENDS[rows][row - 1]} row" if rows <= 3 else f"row {row}"
    return f"in {end}, {side}".rstrip(", ")
