"""Several things in one sentence, in English: with their verb, and told apart by the variants that have them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from putback.model.called import counted
from putback.model.machine import AnyThing, Fastener
from putback.model.terms import Ref
from putback.variants import NONE
from putback.words.english.things import Things, joined


class Gathering(Things):
    """What is said of several things at once."""

    def _listed(self, refs: Sequence[Ref]) -> str:
        return joined([counted(thing) if (thing := self.things.get(ref.name)) else ref.name for ref in refs])

    def _are(self, refs: Sequence[Ref]) -> str:
        things = [self.things.get(ref.name) for ref in refs]
        several = len(things) > 1 or any(isinstance(thing, Fastener) and thing.count > 1 for thing in things)
        return "are" if several else "is"

    def _going_on(self, refs: Sequence[Ref]) -> str:
        """Return what goes on after something: `the cover and cap go on`; of what no machine has both, `or`."""
        if len(refs) > 1 and self._apart(refs):
            names = list(dict.fromkeys(counted(thing) for ref in refs if (thing := self.things.get(ref.name))))
            return f"the {joined(names, 'or the')} {'goes' if self._are(refs[-1:]) == 'is' else 'go'} on"
        return f"the {self._listed(refs)} {'go' if self._are(refs) == 'are' else 'goes'} on"

    def _apart(self, refs: Sequence[Ref]) -> bool:
        """Tell whether no machine has two of some things."""
        if self.graph is None or any(ref.name not in self.graph.machine.things for ref in refs):
            return False
        present = [self.graph.present(ref.name) for ref in refs]
        return all(self.graph.space.both(one, other) == NONE for one, other in combinations(present, 2))

    def _replaced(self, thing: AnyThing) -> str:
        """Return what a thing is there for instead; another of the same name is told by its variant."""
        others = [self.things.get(ref.name) for ref in thing.instead_of]
        limits = [self.only(other.when) for other in others if other and other.name == thing.name]
        if limits and len(limits) == len(others) and all(limits):
            return joined([f"the one {(limit or '').removeprefix('only ')}" for limit in limits])
        return f"the {self._listed(thing.instead_of)}"
