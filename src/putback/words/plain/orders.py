"""Tightening orders in words, for who cannot see the drawing: where each turn is, by the clock or by rows."""

from __future__ import annotations

from collections.abc import Sequence

from putback.joints.layouts import Layout, Shape, centre_of, is_straight
from putback.joints.patterns import degrees_apart, in_rows
from putback.joints.plane import clockwise
from putback.words.english.orders import LONGEST_WORDS
from putback.words.telling import Message, Telling

ENDS = {
    # Translators: where a bolt sits among others, seen from the front.
    (0, 2): Message("bolt", "top"),
    (1, 2): Message("bolt", "bottom"),
    (0, 3): Message("bolt", "top"),
    (1, 3): Message("bolt", "middle row"),
    (2, 3): Message("bolt", "bottom"),
}
"""Rows by their number and how many there are."""
SIDES = {
    (0, 2): Message("bolt", "left"),
    (1, 2): Message("bolt", "right"),
    (0, 3): Message("bolt", "left"),
    (1, 3): Message("bolt", "middle"),
    (2, 3): Message("bolt", "right"),
}
"""Places in a row by their number and how many there are."""


def in_words(telling: Telling, order: Sequence[int], layout: Layout, *, before: int = 0) -> str:
    """Return an order in words. The turns go on from those `before`; very many end with a last number."""
    where, note = _places(telling, layout)
    centre = centre_of(layout)
    told = []
    for turn, number in enumerate(order[:LONGEST_WORDS], 1):
        here = where[number - 1]
        if turn > 1 and centre is not None:
            ways = (clockwise(layout.places[each - 1], centre) for each in (number, order[turn - 2]))
            if degrees_apart(*ways) > 179:
                # Translators: of a bolt that lies opposite the one before it; {place} such as "6 o'clock".
                here = telling.say("bolt", "{place}, opposite", place=here)
        # Translators: the turn of a bolt in an order of tightening, and where it sits.
        told.append(telling.say("bolt", "{turn}: {place}", turn=telling.number(before + turn), place=here))
    if len(order) > LONGEST_WORDS:
        told.append(telling.say("bolt", "and so on to {last}", last=telling.number(before + len(order))))
    said = "; ".join(told)
    return f"{said} ({note})" if note else said


def _places(telling: Telling, layout: Layout) -> tuple[list[str], str]:
    """Return where each place is, and how it is counted."""
    places, centre = layout.places, centre_of(layout)
    if centre is not None and (layout.shape is Shape.CIRCLE or len(places) > 4):
        return [_clock(telling, clockwise(place, centre)) for place in places], ""
    rows = in_rows(places)
    one_line = len(rows) == len(places) > 3
    if one_line and abs(places[rows[0][0]][0] - places[rows[-1][0]][0]) <= 1 and is_straight(layout):
        where = {row[0]: _nth(telling, number) for number, row in enumerate(rows, 1)}
        return [where[i] for i in range(len(places))], telling.say("bolt", "places counted from the top")
    if len(rows) > max(3, len(places) // 2):
        points = [f"{telling.number(x)} / {telling.number(y)}" for x, y in places]
        # Translators: how two numbers of a place are meant.
        return points, telling.say("bolt", "mm to the right / mm upwards")
    where = {}
    for number, row in enumerate(rows):
        for place, index in enumerate(row):
            where[index] = _in_row(telling, (number, len(rows)), (place, len(row)))
    notes = []
    if len(rows) > 3:
        notes.append(telling.say("bolt", "rows counted from the top"))
    if max(map(len, rows)) > 3:
        notes.append(telling.say("bolt", "places counted from the left"))
    return [where[i] for i in range(len(places))], ", ".join(notes)


def _nth(telling: Telling, number: int) -> str:
    # Translators: a place in a row of bolts, by its number.
    return telling.say("bolt", "place {number}", number=telling.number(number))


def _clock(telling: Telling, turn: float) -> str:
    """Return where the hour hand of a clock points at an angle from the top, degrees."""
    hours, minutes = divmod(round(turn * 2), 60)
    hours = hours % 12 or 12
    if minutes:
        return f"{hours}:{minutes:02}"
    # Translators: where a bolt sits in a circle, as on the face of a clock.
    return telling.say("bolt", "{hour} o'clock", hour=str(hours))


def _in_row(telling: Telling, row: tuple[int, int], place: tuple[int, int]) -> str:
    """Return where a place is, by its row and its place in that, each with how many there are."""
    said = []
    if row in ENDS:
        said.append(telling.told(ENDS[row]))
    elif row[1] > 3:
        # Translators: a row of bolts, by its number.
        said.append(telling.say("bolt", "row {number}", number=telling.number(row[0] + 1)))
    if place in SIDES:
        said.append(telling.told(SIDES[place]))
    elif place[1] > 3:
        said.append(_nth(telling, place[0] + 1))
    return ", ".join(said) or telling.told(SIDES[1, 3])
