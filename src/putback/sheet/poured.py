"""Which fluids a job fills in, and how much of each in all.

What is filled in whatever is found is summed by variants. Of what a branch tops up, each amount stands alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from putback.ledger.entries import Entry
from putback.model.machine import Fluid
from putback.model.states import FluidState, State
from putback.model.verbs.fluids import Fill
from putback.sheet.limits import Limits
from putback.sheet.survey import Branch, Survey
from putback.sheet.wanted import LaidOut, Wanted
from putback.units import Quantity
from putback.units.adding import sum_of
from putback.variants import NONE, VariantSet

Amount: TypeAlias = "tuple[Fluid, Quantity | None]"
"""A fluid, and how much of it; None when nobody says."""

_Fills: TypeAlias = tuple[Quantity, ...]
"""What is filled in, one after the other."""


class Poured:
    """Notes the fluids of one job."""

    def __init__(self, survey: Survey) -> None:
        """Take the book."""
        self.survey = survey
        self.wanted = Wanted[Amount](survey)
        self.always: dict[str, tuple[Fluid, dict[_Fills, VariantSet]]] = {}
        self.topped: dict[str, VariantSet] = {}
        """Variants in which a step tops up what is in already."""

    def fill(self, entry: Entry, fluid: Fluid, branch: Branch, variants: VariantSet) -> None:
        """Note what an entry fills in."""
        volume = entry.step.action.volume if isinstance(entry.step.action, Fill) else None
        amount = volume or fluid.volume
        self.wanted.add(f"{fluid.key} {amount.text if amount else ''}", (fluid, amount), branch, variants)
        if branch or amount is None:
            return
        # Without a volume of its own, a step that fills what is in already only tops it up.
        more = variants if volume else self.survey.space.both(variants, self._out(fluid, entry))
        space, fills = self.survey.space, self.always.setdefault(fluid.key, (fluid, {(): self.survey.space.built}))[1]
        self.topped[fluid.key] = space.either(self.topped.get(fluid.key, NONE), space.without(variants, more))
        for before, held in list(fills.items()):
            if (here := space.both(held, more)) != NONE:
                fills[before] = space.without(held, here)
                after = (*before, amount)
                fills[after] = space.either(fills.get(after, NONE), here)

    def _out(self, fluid: Fluid, entry: Entry) -> VariantSet:
        """Return the variants in which a fluid is out before an entry."""
        found = self.survey.book.where(fluid.key, entry, _is_out)
        return self.survey.answered(found, self.survey.branch(entry))

    def laid_out(self, limits: Limits) -> Iterator[LaidOut[Amount]]:
        """Yield a row for each fluid and sum, and one for each amount that only a branch fills in."""
        summed = {key: self._sums(key) for key in self.always}
        told: set[str] = set()
        for row in self.wanted.laid_out(limits):
            fluid, amount = row.what
            sums = summed.get(fluid.key)
            if row.only_if or amount is None or not sums:
                yield LaidOut(row.what, row.when, row.only_if, fluid.key)
            elif fluid.key not in told:
                told.add(fluid.key)
                for total, variants in sums:
                    yield LaidOut((fluid, total), limits.condition(variants), key=fluid.key)

    def _sums(self, key: str) -> list[tuple[Quantity, VariantSet]]:
        """Return the sums of what is always filled in, by variants; nothing where no sum can be told."""
        fluid, fills = self.always[key]
        space, found = self.survey.space, dict[Quantity, VariantSet]()
        for each, held in fills.items():
            variants = held if each else space.both(held, self.topped[key])
            if variants == NONE:
                continue
            total = sum_of(each) if each else fluid.volume
            if total is None:
                return []
            found[total] = space.either(found.get(total, NONE), variants)
        return list(found.items())


def _is_out(state: State) -> bool:
    return isinstance(state, FluidState) and not state.full
