"""Moments: what a mechanic ticks at once, and which entries of the ledger belong to it.

A step has one box, or one for each place of its grids. Where a step is printed once and done for each place, the ledger
has it once for each; where it names things that are there at each place, the ledger has one entry for each of these.
"""

from __future__ import annotations

from collections.abc import Iterator

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.sheet.job import JobSheet
from putback.sheet.lines import Grid, SheetStep
from putback.sheet.tracked.record import Moment
from putback.variants import NONE, VariantSet


class Moments:
    """The moments of a sheet."""

    def __init__(self, book: Book, sheet: JobSheet, orders: list[Order]) -> None:
        """Find the moments of all entries; `orders` has the steps of the program by their numbers."""
        self.book = book
        self.orders = orders
        self.printed = sheet.printed
        self.lines = {line.number: line for line in sheet.walk() if line.number}
        found: dict[Moment, tuple[int, int]] = {}
        of: dict[int, list[Moment]] = {}
        self.boxes: dict[tuple[str, int], VariantSet] = {}
        """By the number of a step and the box: who has something there."""
        for entry in book.entries:
            of[entry.index] = list(self._moments(entry))
            for moment in of[entry.index]:
                found.setdefault(moment, (entry.order, entry.index))
                self._note(moment, entry)
        self.all = tuple(sorted(found, key=found.__getitem__))
        """In walking order."""
        numbers = {moment: number for number, moment in enumerate(self.all)}
        self.of = {index: [numbers[moment] for moment in moments] for index, moments in of.items()}
        """By the number of an entry: the numbers of its moments; none for what has no box."""
        self.first: dict[int, int] = {}
        """By the number of a step in the program: the number of its first moment."""
        for entry in book.entries:
            for number in self.of[entry.index]:
                self.first[entry.order] = min(number, self.first.get(entry.order, number))

    def _moments(self, entry: Entry) -> Iterator[Moment]:
        both, written = self.book.graph.space.both, self.book.written
        stands = self.printed.get(entry.order, ())
        lines = [self.lines[number] for number, here in stands if number and both(here, entry.variants) != NONE]
        if len(lines) > 1 and entry.target is not None:
            # A step whose things not all have stands once for each of these.
            name = written.printed_name(entry.target.name) if written else entry.target.name
            named = [line for line in lines if name in {ref.name for ref in line.step.things}]
            lines = named or lines
        for line in lines:
            yield Moment(line.number, tuple(self._boxes(line, entry)))

    def _boxes(self, line: SheetStep, entry: Entry) -> Iterator[int]:
        """Yield the boxes of a step that an entry of it ticks: one in each grid, or all where none is its own."""
        first = 0
        for grid in line.grids:
            own = self.box(grid, self.orders[entry.order], entry)
            yield from range(first, first + len(grid.names)) if own is None else [first + own]
            first += len(grid.names)
        if not line.grids:
            yield 0

    def box(self, grid: Grid, order: Order, entry: Entry | None = None) -> int | None:
        """Return the place in a grid that a step of the program is done for, or what an entry of it names."""
        rounds = order.step.rounds
        name = ", ".join(each.place for each in rounds)
        if name in grid.names and any(each.places == grid.places for each in rounds):
            return grid.names.index(name)
        target = entry.target if entry else None
        thing = self.book.graph.machine.things.get(target.name) if target else None
        if thing and thing.each and thing.each.name == grid.places and thing.place in grid.names:
            return grid.names.index(str(thing.place))
        return None

    def _note(self, moment: Moment, entry: Entry) -> None:
        space = self.book.graph.space
        for box in moment.boxes:
            key = (moment.number, box)
            here = space.variants_of(entry.variants)
            self.boxes[key] = space.either(self.boxes.get(key, NONE), here)
