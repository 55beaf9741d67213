"""How many new pieces of each thing of the machine file a job takes, at all its places together, by variants."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from putback.guide.spread import base_of
from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.newness import comes_new
from putback.sheet.counting import Counted, Counts, counted
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet
from putback.variants.space import Space

Totals: TypeAlias = dict[int, VariantSet]
"""Numbers of pieces, each with the variants that take so many."""


@dataclass(frozen=True, slots=True)
class Renewed:
    """New pieces of one thing in one job."""

    key: str
    """The name of the thing in the machine file."""
    always: Totals
    """When every inspection is good; nothing for none."""
    branches: Mapping[Branch, Totals]
    """What a branch takes more."""
    last: Entry | None
    """The last step that puts some of them in."""

    def most(self) -> int:
        """Return the most that a job can take, whatever is found."""
        return max(self.always, default=0) + sum(max(totals, default=0) for totals in self.branches.values())


@once
def renewed(book: Book) -> Iterator[Renewed]:
    """Yield what a job takes new, in the order in which it comes to it."""
    space, rows = book.graph.space, dict[str, list[Counted]]()
    for row in counted(Survey(book)):
        rows.setdefault(base_of(row.thing.key), []).append(row)
    last = _last_steps(book) if rows else {}
    for key, single in rows.items():
        always = added(space, [_new(row.always, space) for row in single])
        by_branch: dict[Branch, list[Totals]] = {}
        for row in single:
            for branch, counts in row.branches.items():
                by_branch.setdefault(branch, []).append(_new(counts, space))
        branches = {branch: totals for branch, each in by_branch.items() if (totals := added(space, each))}
        if always or branches:
            yield Renewed(key, always, branches, last.get(key))


def _new(counts: Counts, space: Space) -> Totals:
    found: Totals = {}
    for count, variants in counts.items():
        found[count.new] = space.either(found.get(count.new, NONE), variants)
    return found


def added(space: Space, totals: list[Totals]) -> Totals:
    """Return the sums of several numbers, each with the variants that come to it; those that come to none left out."""
    sums: Totals = {0: space.built}
    for each in totals:
        after: Totals = {}
        for before, held in sums.items():
            rest = held
            for more, variants in each.items():
                here = space.both(rest, variants)
                if more and here != NONE:
                    after[before + more] = space.either(after.get(before + more, NONE), here)
                    rest = space.without(rest, here)
            if rest != NONE:
                after[before] = space.either(after.get(before, NONE), rest)
        sums = after
    return {number: variants for number, variants in sums.items() if number and variants != NONE}


def _last_steps(book: Book) -> dict[str, Entry]:
    """Return the last step that puts a new one in, of each thing; those in a branch count where no others do."""
    found: dict[str, Entry] = {}
    for entry in book.entries:
        if entry.target is not None and not entry.again and comes_new(book, entry) != NONE:
            found[base_of(entry.target.name)] = entry
    return found
