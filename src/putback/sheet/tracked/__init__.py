"""The ledger of a job, to be looked up at the bench: for any machine, any answers, and whatever was ticked so far.

Nothing is walked again for it: it reads what the book has. `moments` are what is ticked at once, `timeline` is what
they make of each thing, `turning` what inspections ask and where a `back-to` leads; `diagram` folds sets of variants
and ways.
"""

from __future__ import annotations

from putback.ledger.opened import Opened
from putback.model.job import Sequence
from putback.sheet.job import JobSheet
from putback.sheet.tracked.diagram import Diagram
from putback.sheet.tracked.moments import Moments
from putback.sheet.tracked.record import (
    Change,
    Crossing,
    Followed,
    How,
    Moment,
    Question,
    Stands,
    Touch,
    Tracked,
)
from putback.sheet.tracked.timeline import followed
from putback.sheet.tracked.turning import questions, turns
from putback.variants import EntangledError
from putback.variants.space import ALLOWANCE

__all__ = [
    "Change",
    "Crossing",
    "Diagram",
    "Followed",
    "How",
    "Moment",
    "Question",
    "Stands",
    "Touch",
    "Tracked",
    "tracked",
]  # fmt: skip

MOST_MOMENTS = 5_000
"""Moments of a job, above which its page stays a page to read."""


def tracked(sequence: Sequence, sheet: JobSheet, opened: Opened) -> Tracked | None:
    """Return the ledger of a job whose sheet is printed.

    There is none when it is too long, not walked to its end, or its options and inspections meet in too many ways.
    """
    book = opened.book_of(sequence)
    if book is None or book.undecided or len(book.entries) > 4 * MOST_MOMENTS:
        return None
    book.graph.space.allow(ALLOWANCE)
    orders = [order for top in book.program.orders for order in top.walk()]
    try:
        moments = Moments(book, sheet, orders)
        if len(moments.all) > MOST_MOMENTS:
            return None
        back, joins = turns(book, moments)
        return Tracked(
            tuple(sheet.walk()),
            moments.all,
            tuple(questions(book, moments, orders)),
            tuple(followed(book, moments)),
            back,
            joins,
            tuple((lap, here.way) for lap, here in enumerate(book.passes) if lap),
            moments.boxes,
        )
    except EntangledError:
        return None
