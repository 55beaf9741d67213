"""At which steps the pieces of a thing come off, and at which they go back."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.entries import Entry
from putback.model.machine import Line
from putback.model.states import is_off
from putback.model.verbs.pieces import Remove, Replace
from putback.sheet.limits import Limits, Row
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet


class Whereabouts(NamedTuple):
    """The numbers of steps, in the order of the job."""

    off: tuple[str, ...]
    """Those that take pieces off; none when they are off already."""
    on: tuple[str, ...]
    """Those that put them back; none when they stay off."""
    stays: bool
    """Of a line: whether an end of it stays on the machine."""


class Comings:
    """What the entries of a job do to the pieces of each thing."""

    def __init__(self, survey: Survey, limits: Limits) -> None:
        """Sort the entries by thing."""
        self.survey = survey
        self.limits = limits
        self.entries: dict[str, list[Entry]] = {}
        for entry in survey.entries:
            if entry.target is not None and survey.book.changed(entry.target.name, entry):
                self.entries.setdefault(entry.target.name, []).append(entry)

    def of(self, key: str, row: Row) -> Whereabouts:
        """Return the steps that move the pieces which a row of a table is about."""
        off, on = dict[str, None](), dict[str, None]()
        gone = not row.branches
        for entry in self.entries.get(key, ()):
            here = self.survey.branch(entry)
            inside = any(here[: len(branch)] == branch for branch in row.branches)
            if not inside and (here or not gone):
                continue
            # What a branch took off can go back after it, where the steps for all go on.
            ways: tuple[Branch, ...] = (here,) if inside or not row.branches else row.branches
            gone = gone or inside
            for taken, put in self._moves(key, entry, ways, row.variants):
                number = self.limits.number_of(entry.order, row.variants)
                if number and taken and (inside or not row.branches):
                    off[number] = None
                if number and put and not (row.branches and not inside and on):
                    on[number] = None
        return Whereabouts(tuple(off), tuple(on), self._stays(key))

    def _stays(self, key: str) -> bool:
        """Tell whether a line never comes off as a whole: nobody takes it off, and not all of its ends are open."""
        line = self.survey.book.graph.machine.things.get(key)
        if not isinstance(line, Line) or any(isinstance(e.step.action, Remove) for e in self.entries.get(key, ())):
            return False
        states = (state for entry in self.entries.get(key, ()) for _, state in self.survey.book.after(key, entry))
        return len(line.joins) < 2 or not any(is_off(line, state) for state in states)

    def _moves(
        self, key: str, entry: Entry, ways: tuple[Branch, ...], variants: VariantSet
    ) -> Iterator[tuple[bool, bool]]:
        """Yield whether an entry takes pieces off, and whether it puts some on, in some variants."""
        for way in ways:
            for move in self.survey.moves(key, entry, way):
                if self.survey.space.both(move.variants, variants) == NONE:
                    continue
                before, after = move.before, move.after
                both = isinstance(entry.step.action, Replace) and before.out == after.out and not after.renew
                yield after.out > before.out or both, after.out < before.out or both
