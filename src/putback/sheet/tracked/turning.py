"""Questions and laps: what inspections ask, and where machines go on that a `back-to` leads back.

A lap is a pass of the ledger: the first goes from the first step to the end. A `back-to` leads into a new lap when the
machine stands as it has not stood there before, and else into that in which it has.
"""

from __future__ import annotations

from collections.abc import Iterator

from putback.ledger.book import Book
from putback.ledger.journey import Meeting
from putback.ledger.program import Order
from putback.sheet.tracked.moments import Moments
from putback.sheet.tracked.record import Crossing, Question


def questions(book: Book, moments: Moments, orders: list[Order]) -> Iterator[Question]:
    """Yield what the steps of a sheet ask, those of one step in the order of its branches."""
    laps: dict[int, list[tuple[int, int]]] = {}
    for (lap, number), place in book.questions.items():
        laps.setdefault(number, []).append((lap, place))
    for order in (order for order in orders if order.outcome is None):
        for branch, asked in enumerate(order.asking):
            lines = [moments.lines[number] for number, _ in moments.printed.get(order.number, ()) if number]
            if lines and asked.number in laps:
                box, first = None, 0
                for grid in lines[0].grids:
                    own = moments.box(grid, order)
                    box = box if own is None else first + own
                    first += len(grid.names)
                yield Question(tuple(line.number for line in lines), branch, box, tuple(laps[asked.number]))


def turns(book: Book, moments: Moments) -> tuple[tuple[Crossing, ...], tuple[Crossing, ...]]:
    """Return where `back-to` steps lead, and where a lap goes on as another."""
    back, joins = list[Crossing](), list[Crossing]()
    for met in book.meetings:
        to = _first_at(book, moments, met)
        if met.jumped:
            for moment in moments.of[met.after - 1]:
                back.append(Crossing(met.of_pass, moment, met.variants, met.into, met.going, to))
        else:
            joins.append(Crossing(met.of_pass, to, met.variants, met.into, met.going))
    return tuple(back), tuple(sorted(joins, key=lambda turn: turn.moment))


def _first_at(book: Book, moments: Moments, met: Meeting) -> int:
    """Return the first moment of a place in the program, or after it where it has none."""
    for top in book.program.orders[met.place :]:
        found = [moments.first[order.number] for order in top.walk() if order.number in moments.first]
        if found:
            return min(found)
    return len(moments.all)
