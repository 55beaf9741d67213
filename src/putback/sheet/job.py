"""The sheet of a job: all that a page prints of it, read from its book."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from putback.ledger.book import Book, once
from putback.ledger.opened import Opened
from putback.model.job import Sequence
from putback.model.machine import Fastener, Line, Part
from putback.model.terms import When
from putback.sheet.adjusted import SettingBack, settings_back
from putback.sheet.between import Away, begins, ends
from putback.sheet.controls import ControlMoved, moved
from putback.sheet.counting import Counted, counted
from putback.sheet.folding import summed
from putback.sheet.followup import FollowUp, follow_ups
from putback.sheet.limits import Limits
from putback.sheet.lines import SheetSection, SheetStep
from putback.sheet.protection import discards, worn
from putback.sheet.setup import SetUp, SetUpWriter
from putback.sheet.steps import StepWriter
from putback.sheet.survey import Survey
from putback.sheet.wanted import LaidOut
from putback.sheet.whereabouts import Comings
from putback.variants import EntangledError, VariantSet
from putback.variants.space import ALLOWANCE


@dataclass(frozen=True, slots=True)
class CountBack:
    """One row of the count-back."""

    thing: Part | Fastener | Line
    """What is counted."""
    out: int
    """Pieces that come off or out; more than without the branch, in a row of one."""
    back: int
    """Pieces that go back."""
    new: int
    """How many new ones go in."""
    when: When | None
    """The variants in which it is so; None for all."""
    only_if: tuple[str, ...] = ()
    """The steps of which only a branch takes so many off; empty when they come off in any case."""
    varies: bool = False
    """Whether some of the variants have fewer."""
    off: tuple[str, ...] = ()
    """The numbers of the steps that take pieces off; none when they are off already."""
    on: tuple[str, ...] = ()
    """The numbers of those that put them back; none when they stay off."""
    stays: bool = False
    """Of a line: whether an end of it stays on the machine."""


@dataclass(frozen=True, slots=True)
class JobSheet:
    """A job or block as a mechanic works through it."""

    sections: tuple[SheetSection, ...]
    """Its steps, blocks written out, numbered through from 1."""
    set_up: SetUp
    """What to lay out before."""
    count_back: tuple[CountBack, ...]
    """What to count after, in the order in which it comes off."""
    settings: tuple[SettingBack, ...]
    """What it disturbs, and is within its limit again at its end."""
    follow_ups: tuple[FollowUp, ...]
    """What to tighten once more later."""
    begins: tuple[LaidOut[Away], ...] = ()
    """What it finds off, open, out, moved, disturbed or in place."""
    ends: tuple[LaidOut[Away], ...] = ()
    """What it leaves so."""
    each_piece: tuple[CountBack, ...] = ()
    """The rows of the count-back, those of each place apart."""
    controls: tuple[ControlMoved, ...] = ()
    """The controls that it moves."""
    printed: Mapping[int, tuple[tuple[str, VariantSet], ...]] = field(default_factory=dict)
    """By the number of a step in the book's program: each number under which it stands, with who reads it there."""
    only: When | None = None
    """The variants that all of it is for, when its rows do not say so themselves; see `scoped`."""

    def walk(self) -> Iterator[SheetStep]:
        """Yield all steps, those under `otherwise` after theirs."""
        for section in self.sections:
            yield from section.walk()


def sheet_of(sequence: Sequence, opened: Opened) -> JobSheet | None:
    """Return the sheet of a job or block of a guide.

    There is none when it could not be walked: its blocks lead into themselves, it is too long, its options and
    inspections meet in too many ways, or the machine file or a block could not be used.
    """
    book = opened.book_of(sequence)
    if book is None:
        return None
    try:
        return _sheets(book)[0]
    except EntangledError:
        return None


@once
def _sheets(book: Book) -> Iterator[JobSheet]:
    """Make the sheet of a book."""
    book.graph.space.allow(ALLOWANCE)
    survey = Survey(book)
    worn_at = worn(survey)
    writer = StepWriter(survey, discards(survey), worn_at)
    sections = tuple(writer.sections())
    limits = Limits(survey, writer.printed, writer.said)
    counts = list(counted(survey))
    written, comings = book.written, Comings(survey, limits)
    pieces = [row for each in counts for row in _rows(limits, comings, each)]
    yield JobSheet(
        sections,
        SetUpWriter(survey, limits).set_up(counts, worn_at),
        tuple(summed(pieces, written)),
        tuple(summed(settings_back(survey, limits), written)),
        tuple(summed(follow_ups(survey, limits), written)),
        tuple(begins(book, limits)),
        tuple(ends(book, limits)),
        tuple(pieces),
        tuple(moved(survey, limits)),
        {number: tuple(stands) for number, stands in writer.printed.items()},
    )


def _rows(limits: Limits, comings: Comings, counted: Counted) -> Iterator[CountBack]:
    for row in limits.rows(counted, tuple):
        out, back, new = row.numbers
        steps = comings.of(counted.thing.key, row)
        yield CountBack(counted.thing, out, back, new, row.when, row.only_if, row.varies, *steps)
