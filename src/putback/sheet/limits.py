"""How rows say for which machines they are: a condition, and the steps on whose answer they hang."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from putback.ledger.program import Order
from putback.model.said import Limit
from putback.model.terms import When
from putback.sheet.counting import Count, Counted, Counts
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet
from putback.variants.conditions import ManyCasesError, condition


class StepNumber(str):
    """The number of a step on whose answer something hangs; of one with outcomes, with those that lead there."""

    __slots__ = ("found",)
    found: tuple[Limit, ...]

    def __new__(cls, number: str, found: tuple[Limit, ...] = ()) -> StepNumber:
        """Make one; of a step of which any outcome leads there, without them."""
        made = super().__new__(cls, number)
        made.found = found
        return made


class Row(NamedTuple):
    """One row of a table of pieces."""

    numbers: tuple[int, ...]
    """How many."""
    when: When | None
    """The variants that have it; None for all."""
    only_if: tuple[str, ...]
    """The steps of which only a branch has it; empty when it is so in any case."""
    varies: bool = False
    """Whether some of the variants have fewer."""
    variants: VariantSet = NONE
    """The variants that have it, as a set."""
    branches: tuple[Branch, ...] = ()
    """The branches that have it; none when it is so in any case."""


class Limits:
    """Conditions and step numbers of one sheet."""

    def __init__(
        self,
        survey: Survey,
        printed: Mapping[int, list[tuple[str, VariantSet]]],
        said: Mapping[VariantSet, When],
    ) -> None:
        """Take the numbers of steps on the page, by their numbers in the program, and conditions that authors wrote.

        A step may stand on the page more than once, each time for other variants.
        """
        self.printed = printed
        self.said = said
        self.survey = survey
        self.graph = survey.book.graph

    def condition(self, variants: VariantSet) -> When | None:
        """Return the condition that just these variants meet; None for all, or when no short one says it."""
        try:
            return self.exactly(variants)
        except ManyCasesError:
            return None

    def exactly(self, variants: VariantSet) -> When | None:
        """Return the condition that just these variants meet, as an author wrote it where one did; None for all.

        Raises `ManyCasesError` when no short one says it.
        """
        return self.said.get(variants) or condition(self.graph, variants)

    def numbers_of(self, branches: list[Branch], variants: VariantSet) -> tuple[str, ...]:
        """Return the numbers of the steps that branches hang on, in some variants; none for what hangs on none."""
        both, found = self.graph.space.both, dict[str, dict[int, Order]]()
        for asked in (self.survey.orders[branch[-1]] for branch in branches if branch):
            for number, here in self.printed.get(asked.number, ()):
                if both(here, variants) != NONE:
                    found.setdefault(number, {})[asked.number] = asked
        return tuple(StepNumber(number, _outcomes(list(asked.values()))) for number, asked in found.items())

    def number_of(self, step: int, variants: VariantSet) -> str:
        """Return the number under which some variants read a step of the program; nothing when it has none."""
        both = self.graph.space.both
        found = (number for number, here in self.printed.get(step, ()) if both(here, variants) != NONE)
        return next(found, "")

    def in_two(self, uses: Mapping[Branch, VariantSet]) -> Iterator[tuple[VariantSet, list[Branch]]]:
        """Yield the variants that need something in any case, and those others that need it in some branches."""
        space, always = self.graph.space, uses.get((), NONE)
        if always != NONE:
            yield always, []
        rest, branches = NONE, []
        for branch, variants in uses.items():
            more = space.without(variants, always)
            if branch and more != NONE:
                rest = space.either(rest, more)
                branches.append(branch)
        if rest != NONE:
            yield rest, branches

    def rows(self, counted: Counted, of: Callable[[Count], tuple[int, ...]]) -> Iterator[Row]:
        """Yield the rows of a thing: one for each number that some variants have, then those of branches."""
        yield from self.told(self.grouped(counted.always, of), [])
        alike: dict[tuple[tuple[tuple[int, ...], VariantSet], ...], list[Branch]] = {}
        for branch, counts in counted.branches.items():
            alike.setdefault(tuple(self.grouped(counts, of).items()), []).append(branch)
        for counts_, branches in alike.items():
            yield from self.told(dict(counts_), branches)

    def grouped(self, counts: Counts, of: Callable[[Count], tuple[int, ...]]) -> dict[tuple[int, ...], VariantSet]:
        """Return the variants of each number; nothing for none."""
        found: dict[tuple[int, ...], VariantSet] = {}
        for count, variants in counts.items():
            if any(value := of(count)):
                found[value] = self.graph.space.either(found.get(value, NONE), variants)
        return found

    def told(self, counts: Mapping[tuple[int, ...], VariantSet], branches: list[Branch]) -> Iterator[Row]:
        """Yield a row for each number; or one that says that it varies, when no short words tell which has which."""
        if not counts:
            return
        try:
            yield from [
                Row(
                    value,
                    self.exactly(variants),
                    self.numbers_of(branches, variants),
                    variants=variants,
                    branches=tuple(branches),
                )
                for value, variants in counts.items()
            ]
        except ManyCasesError:
            variants = NONE
            for each in counts.values():
                variants = self.graph.space.either(variants, each)
            most = tuple(max(numbers) for numbers in zip(*counts, strict=True))
            condition, numbers = self.condition(variants), self.numbers_of(branches, variants)
            yield Row(most, condition, numbers, len(counts) > 1, variants, tuple(branches))


def _outcomes(asked: list[Order]) -> tuple[Limit, ...]:
    """Return the values that lead into some outcomes of a step; none when whatever is out of limit does."""
    found = tuple(each.outcome.found for each in asked if each.outcome)
    return () if len(found) == len(asked[0].step.outcomes) else found
