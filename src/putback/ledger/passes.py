"""Going through a program, with every answer that an inspection can give, and back where an `again` leads.

The variants and ways that go back start a new pass from the named step, with the machine as it stands then. A pass is
not made when the same machine has stood at the same step before: nothing could be found that was not found then. So the
passes come to an end, and none hides a fault.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from putback.ledger import states
from putback.ledger.entries import Entry, question
from putback.ledger.program import Order, Program
from putback.ledger.states import State
from putback.model.job import Again, Stop
from putback.variants import NONE, Space, VariantSet

Holdings = tuple[tuple[VariantSet, State], ...]
Standing = dict[str, tuple[tuple[VariantSet, object], ...]]
"""What every account holds in some variants, without who did it."""

MOST_PASSES = 64
"""Passes after which the order of a job is called undecided."""

MOST_WAYS = 64
"""Different machines that one jump may bring back, of one variant."""


@dataclass(slots=True)
class Visit:
    """A machine that stood at a named step."""

    worlds: VariantSet
    standing: Standing
    warned: bool


@dataclass(slots=True)
class Journey:
    """All that happened."""

    entries: list[Entry] = field(default_factory=list)
    """In the order in which they were posted."""
    alive: VariantSet = NONE
    """The variants and ways that reach an end: the last step, or a `stop` that no inspection led to."""
    undecided: list[Order] = field(default_factory=list)
    """`again` steps that led to more different machines than could be followed."""


class Traveller:
    """Goes through a program and posts each entry."""

    def __init__(
        self, space: Space, program: Program, post: Callable[[Entry], None], stand: Callable[[], dict[str, Holdings]]
    ) -> None:
        self.space = space
        self.program = program
        self.post = post
        self.stand = stand
        self.labels = program.labels()
        self.journey = Journey()
        self.alive = space.built
        self.pass_number = 0
        self.sections = max((order.section for order in program.orders), default=0) + 1
        self.visits: dict[int, list[Visit]] = {}
        self.jumps: deque[tuple[Order, VariantSet]] = deque()

    def go(self) -> Journey:
        """Make all passes."""
        self.travel(0, self.space.built)
        while self.jumps:
            order, worlds = self.jumps.popleft()
            place = order.back_to
            if place is None:
                continue
            ways = list(self.ways(worlds))
            if len(ways) > MOST_WAYS or self.pass_number + len(ways) > MOST_PASSES:
                self.journey.undecided.append(order)
                return self.journey
            for way, standing in ways:
                new = self.unseen(place, way, standing)
                if new != NONE:
                    self.pass_number += 1
                    self.visits.setdefault(place, []).append(Visit(new, self.within(standing, new), False))
                    self.travel(place, new)
        return self.journey

    def travel(self, start: int, worlds: VariantSet) -> None:
        """Go from a place in the program to its end, in some variants and ways."""
        self.alive = worlds
        for place in range(start, len(self.program.orders)):
            order = self.program.orders[place]
            if place in self.labels and not (self.pass_number and place == start):
                for way, standing in self.ways(self.alive):
                    self.visits.setdefault(place, []).append(Visit(way, standing, order.warned))
            self.follow(order, self.alive, inside=False)
        self.journey.alive = self.space.either(self.journey.alive, self.alive)

    def follow(self, order: Order, worlds: VariantSet, *, inside: bool) -> None:
        """Post one step, and what its `otherwise` does."""
        both, step = self.space.both, order.step
        here = both(self.alive, both(worlds, order.worlds))
        reached, again = self.alive, bool(self.pass_number)
        section = order.section + self.pass_number * self.sections
        for target, present in order.targets:
            exists = both(here, present)
            if exists != NONE:
                entry = Entry(len(self.journey.entries), step, target, exists, reached, again, section, order.via)
                self.journey.entries.append(entry)
                self.post(entry)
        if order.branch and here != NONE:
            failed, _ = self.space.ask(question(step))
            for inner in order.branch:
                self.follow(inner, both(here, failed), inside=True)
        if isinstance(step.action, Stop):
            if not inside:
                self.journey.alive = self.space.either(self.journey.alive, here)
            self.alive = self.space.without(self.alive, here)
        elif isinstance(step.action, Again) and order.back_to is not None and here != NONE:
            self.jumps.append((order, here))
            self.alive = self.space.without(self.alive, here)

    def within(self, standing: Standing, worlds: VariantSet) -> Standing:
        """Leave of what stands only some variants."""
        both = self.space.both
        return {
            account: tuple((here, state) for held, state in holdings if (here := both(held, worlds)) != NONE)
            for account, holdings in standing.items()
        }

    def ways(self, worlds: VariantSet) -> Iterator[tuple[VariantSet, Standing]]:
        """Split variants and ways so that, in each part, one variant has one machine."""
        if worlds == NONE:
            return
        standing: Standing = {}
        for account, holdings in self.stand().items():
            merged: dict[object, VariantSet] = {}
            for held, state in holdings:
                here = self.space.both(held, worlds)
                if here != NONE:
                    bare = states.bare(state)
                    merged[bare] = self.space.either(merged.get(bare, NONE), here)
            standing[account] = tuple((held, state) for state, held in merged.items())
        parts = [worlds]
        for holdings_ in standing.values():
            if len(holdings_) > 1 and self.doubled(holdings_):
                parts = [
                    here for part in parts for held, _ in holdings_ if (here := self.space.both(part, held)) != NONE
                ]
            if len(parts) > MOST_WAYS:
                break
        for part in parts:
            yield part, self.within(standing, part)

    def doubled(self, holdings: tuple[tuple[VariantSet, object], ...]) -> bool:
        """Whether some variant has two of these states, by how inspections went."""
        seen = NONE
        for held, _ in holdings:
            variants = self.space.variants_of(held)
            if self.space.both(seen, variants) != NONE:
                return True
            seen = self.space.either(seen, variants)
        return False

    def unseen(self, place: int, worlds: VariantSet, standing: Standing) -> VariantSet:
        """Return the part of `worlds` whose machine has not stood at this place before."""
        space = self.space
        left = space.variants_of(worlds)
        for visit in self.visits.get(place, []):
            if visit.warned:
                continue
            same = space.both(left, space.variants_of(visit.worlds))
            for account, holdings in standing.items():
                if same == NONE:
                    break
                for held, state in holdings:
                    for other, before in visit.standing.get(account, ()):
                        if state != before:
                            both = space.both(space.variants_of(held), space.variants_of(other))
                            same = space.without(same, both)
            left = space.without(left, same)
        return space.both(worlds, left)
