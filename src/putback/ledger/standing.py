"""Whether a machine has stood at a step before.

Of each variant that comes to a step there is one machine, on each way that inspections could go. Two machines are the
same when all their accounts hold the same, whoever made it so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from putback.ledger.journey import Holdings
from putback.model import states
from putback.variants import NONE, Space, VariantSet

Standing = dict[str, tuple[tuple[VariantSet, object], ...]]
"""What every account holds in some variants, without who did it."""

MOST_WAYS = 64
"""Different machines that one jump may bring back, of one variant."""


@dataclass(slots=True)
class Visit:
    """A machine that stood at a step."""

    variants: VariantSet
    standing: Standing
    of_pass: int
    """The number of the pass that goes on from there."""
    going: VariantSet
    """The same variants, on the ways of that pass."""


class Standings:
    """The machines of one job, compared."""

    def __init__(self, space: Space) -> None:
        """Take the variants and ways that sets stand for."""
        self.space = space
        self._bared: dict[int, tuple[Holdings, dict[object, VariantSet]]] = {}

    def within(self, standing: Standing, variants: VariantSet) -> Standing:
        """Leave of what stands only some variants."""
        both = self.space.both
        return {
            account: tuple((here, state) for held, state in holdings if (here := both(held, variants)) != NONE)
            for account, holdings in standing.items()
        }

    def bare(self, holdings: Holdings) -> dict[object, VariantSet]:
        """Return holdings without who did it."""
        known = self._bared.get(id(holdings))
        if known is None or known[0] is not holdings:
            merged: dict[object, VariantSet] = {}
            for held, state in holdings:
                bare = states.bare(state)
                merged[bare] = self.space.either(merged.get(bare, NONE), held)
            known = self._bared[id(holdings)] = holdings, merged
        return known[1]

    def ways(self, variants: VariantSet, accounts: dict[str, Holdings]) -> list[tuple[VariantSet, Standing]]:
        """Split variants and ways so that, in each part, one variant has one machine."""
        if variants == NONE:
            return []
        both = self.space.both
        standing: Standing = {}
        for account, holdings in accounts.items():
            merged = self.bare(holdings)
            if len(merged) == 1:
                standing[account] = ((variants, next(iter(merged))),)
            else:
                standing[account] = tuple(
                    (here, state) for state, held in merged.items() if (here := both(held, variants)) != NONE
                )
        parts = [variants]
        for holdings_ in standing.values():
            if len(holdings_) > 1 and self.doubled(holdings_):
                parts = [here for part in parts for held, _ in holdings_ if (here := both(part, held)) != NONE]
            if len(parts) > MOST_WAYS:
                break
        if len(parts) == 1:
            return [(variants, standing)]
        return [(part, self.within(standing, part)) for part in parts]

    def doubled(self, holdings: tuple[tuple[VariantSet, object], ...]) -> bool:
        """Whether some variant has two of these states, by how inspections went."""
        seen = NONE
        for held, _ in holdings:
            variants = self.space.variants_of(held)
            if self.space.both(seen, variants) != NONE:
                return True
            seen = self.space.either(seen, variants)
        return False

    def unseen(self, visits: Iterable[Visit], variants: VariantSet, standing: Standing) -> VariantSet:
        """Return the part of `variants` whose machine has not stood so at any of these visits."""
        left = self.space.variants_of(variants)
        for _, same in self.met(visits, variants, standing):
            left = self.space.without(left, same)
        return self.space.both(variants, left)

    def met(
        self, visits: Iterable[Visit], variants: VariantSet, standing: Standing
    ) -> Iterator[tuple[Visit, VariantSet]]:
        """Yield the first visit at which the machine of each of some variants has stood so, with these."""
        space = self.space
        left = space.variants_of(variants)
        for visit in visits:
            same = space.both(left, space.variants_of(visit.variants))
            for account, holdings in standing.items():
                if same == NONE:
                    break
                known = visit.standing[account]
                if len(known) == len(holdings) == 1:
                    if holdings[0][1] != known[0][1]:
                        same = NONE
                    continue
                for held, state in holdings:
                    for other, before in known:
                        if state != before:
                            both = space.both(space.variants_of(held), space.variants_of(other))
                            same = space.without(same, both)
            if same != NONE:
                yield visit, same
                left = space.without(left, same)
            if left == NONE:
                return
