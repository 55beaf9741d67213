"""Going through a program, with every answer that an inspection can give, and back where an `again` leads.

What an `otherwise` does leaves no trace on the steps after it when it leads away, by `stop` or `again`: whoever comes
to those steps had an answer within its limit. So the entries after it hold whatever the answer was, and accounts stay
small however much a job asks. Only the end of a way tells who gets there.

The variants and ways that go back start a new pass from the named step, with the machine as it stood when they left. A
pass ends where the same machine has stood before, with no fewer safety messages read: nothing could be found that was
not found then. So the passes come to an end, and none hides a fault. That is looked at wherever an `again` leads to,
and wherever one leads away.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from typing import Protocol

from putback.ledger import states
from putback.ledger.entries import Entry, question
from putback.ledger.program import Order, Program
from putback.ledger.states import State
from putback.model.job import Again, Caution, Stop
from putback.variants import NONE, Space, VariantSet

Holdings = tuple[tuple[VariantSet, State], ...]
Standing = dict[str, tuple[tuple[VariantSet, object], ...]]
"""What every account holds in some variants, without who did it."""

MOST_PASSES = 200
"""Passes after which the order of a job is called undecided."""

MOST_STEPS = 8_000
"""Steps in these passes, likewise."""

MOST_WAYS = 64
"""Different machines that one jump may bring back, of one variant."""

READ = "safety messages read"
"""The account of the messages in force; names hold no spaces, so it cannot be that of a thing."""


class Accounts(Protocol):
    """The accounts that entries are posted to."""

    log: list[tuple[str, Holdings]]
    """Every change so far: the account, and what it held before."""

    def post(self, entry: Entry) -> None:
        """Make the changes of an entry."""

    def now(self) -> dict[str, Holdings]:
        """Return what every account holds."""

    def put(self, account: str, holdings: Holdings, after: int) -> None:
        """Let an account hold something else from after an entry on."""


@dataclass(slots=True)
class Visit:
    """A machine that stood at a step."""

    worlds: VariantSet
    standing: Standing


@dataclass(slots=True)
class Jump:
    """Variants and ways that go back."""

    order: Order
    worlds: VariantSet
    came: VariantSet
    """These, without those that an inspection had led away before."""
    accounts: dict[str, Holdings]
    """What every account held when they left, also of others."""
    from_pass: int
    """The number of the pass that they leave."""
    after: int
    """How many entries there were."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One way from a step to the end, or to where the machine has stood before."""

    first: int
    """The number of its first entry."""
    parent: int = -1
    """The number of the pass that it came from; -1 for the first."""
    after: int = 0
    """How many entries there were when it left that."""
    came: VariantSet = NONE
    """The variants and ways of that pass that it goes on from."""


@dataclass(frozen=True, slots=True)
class End:
    """An end of a job: its last step, or a `stop` that no inspection led to."""

    worlds: VariantSet
    """The variants and ways that get there."""
    standing: VariantSet
    """These, and those that an inspection led away from the same pass: of them it tells how the others ended."""
    accounts: dict[str, Holdings]
    """What every account holds there, also in others."""
    of_pass: int
    """The number of the pass that comes to it."""
    entries: int
    """How many entries there were."""


@dataclass(slots=True)
class Journey:
    """All that happened."""

    entries: list[Entry] = field(default_factory=list)
    """In the order in which they were posted."""
    ends: list[End] = field(default_factory=list)
    """One for each pass that came to an end."""
    passes: list[Pass] = field(default_factory=list)
    """In the order in which they were made."""
    undecided: list[Order] = field(default_factory=list)
    """`again` steps that led to more different machines than could be followed."""


class Traveller:
    """Goes through a program and posts each entry."""

    def __init__(self, space: Space, program: Program, accounts: Accounts) -> None:
        self.space = space
        self.program = program
        self.accounts = accounts
        self.journey = Journey()
        self.alive = space.built
        self.gone = NONE
        self.ended = NONE
        self.pass_number = 0
        self.first_pass = 0
        self.sections = max((order.section for order in program.orders), default=0) + 1
        self.visits: dict[int, list[Visit]] = {place: [] for place in program.crossings()}
        self.jumps: deque[Jump] = deque()
        self.section = -1
        self.read: list[tuple[str, VariantSet]] = []
        self.bared: dict[int, tuple[Holdings, dict[object, VariantSet]]] = {}

    def go(self) -> Journey:
        """Make all passes."""
        self.journey.passes.append(Pass(0))
        self.travel(0, self.space.built)
        self.first_pass = len(self.journey.entries)
        while self.jumps:
            jump = self.jumps.popleft()
            place = jump.order.back_to
            if place is None:
                continue
            ways = self.ways(jump.worlds, jump.accounts, ())
            if len(ways) > MOST_WAYS:
                return self.give_up(jump.order)
            for way, standing in ways:
                new = self.unseen(place, way, standing)
                if new == NONE:
                    continue
                gone = len(self.journey.entries) - self.first_pass
                if gone > MOST_STEPS or self.pass_number == MOST_PASSES:
                    return self.give_up(jump.order)
                self.visits[place].append(Visit(new, self.within(standing, new)))
                self.pass_number += 1
                came = self.space.both(jump.came, new)
                first = len(self.journey.entries)
                self.journey.passes.append(Pass(first, jump.from_pass, jump.after, came))
                going = self.space.go_on(new, self.space.variants_of(new))
                self.resume(jump.accounts, new, going)
                self.travel(place, going)
        return self.journey

    def give_up(self, order: Order) -> Journey:
        """Note the step that led to too much, and end the journey."""
        self.journey.undecided.append(order)
        return self.journey

    def travel(self, start: int, worlds: VariantSet) -> None:
        """Go from a place in the program to its end, in some variants and ways, or to where they were before."""
        self.alive, self.gone, self.ended, self.section = worlds, NONE, NONE, -1
        for place in range(start, len(self.program.orders)):
            order = self.program.orders[place]
            if order.section != self.section:
                self.section, self.read = order.section, []
            if place in self.visits and not (self.pass_number and place == start):
                self.arrive(place)
            if self.pass_number and self.alive == NONE:
                break
            self.follow(order, self.alive, inside=False)
        standing = self.space.either(self.alive, self.ended)
        reach = self.space.without(standing, self.gone)
        if standing != NONE:
            entries = len(self.journey.entries)
            self.journey.ends.append(End(reach, standing, self.accounts.now(), self.pass_number, entries))

    def arrive(self, place: int) -> None:
        """Note how the machine stands here; what stood so before goes no further."""
        left = NONE
        ways = self.ways(self.alive, self.accounts.now(), tuple(self.read))
        for way, standing in ways:
            new = way if not self.pass_number else self.unseen(place, way, standing)
            if new != NONE:
                self.visits[place].append(Visit(new, standing if new == way else self.within(standing, new)))
                left = self.space.either(left, new)
        if self.pass_number:
            self.alive = left

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
                self.accounts.post(entry)
        if isinstance(step.action, Caution) and here != NONE and not inside:
            self.read += [(ref.name, here) for ref in step.things]
        if order.branch and here != NONE:
            failed, _ = self.space.ask(question(step))
            self.branch(order.branch, both(here, failed))
        if isinstance(step.action, Stop):
            if not inside:
                self.ended = self.space.either(self.ended, here)
            self.alive = self.space.without(self.alive, here)
        elif isinstance(step.action, Again) and order.back_to is not None and here != NONE:
            came, entries = self.space.without(here, self.gone), len(self.journey.entries)
            self.jumps.append(Jump(order, here, came, self.accounts.now(), self.pass_number, entries))
            self.alive = self.space.without(self.alive, here)

    def branch(self, orders: list[Order], worlds: VariantSet) -> None:
        """Do what an `otherwise` says, and go on as if those that it led away had never been in it."""
        alive, mark = self.alive, len(self.accounts.log)
        for inner in orders:
            self.follow(inner, worlds, inside=True)
        stayed = self.space.both(worlds, self.alive)
        self.alive = alive
        if stayed == worlds:
            return
        self.gone = self.space.either(self.gone, self.space.without(worlds, stayed))
        after, now = len(self.journey.entries) - 1, self.accounts.now()
        first: dict[str, Holdings] = {}
        for account, holdings in self.accounts.log[mark:]:
            first.setdefault(account, holdings)
        for account, before in first.items():
            self.accounts.put(account, self.joined(before, now[account], stayed), after)

    def resume(self, accounts: dict[str, Holdings], ways: VariantSet, going: VariantSet) -> None:
        """Let the accounts stand as they did when some variants and ways left, for the way that they go on as."""
        after = len(self.journey.entries) - 1
        space = self.space
        for account, now in self.accounts.now().items():
            holdings = accounts[account]
            if len(holdings) > 1:
                # Of one variant there is one machine; of several who made it so, the first is told.
                left, found = going, []
                for held, state in holdings:
                    here = space.both(left, space.variants_of(space.both(held, ways)))
                    if here != NONE:
                        found.append((here, state))
                        left = space.without(left, here)
                holdings = tuple(found)
            elif holdings[0][0] != self.space.built:
                holdings = ((going, holdings[0][1]),)
            if holdings is not now:
                self.accounts.put(account, holdings, after)

    def joined(self, usual: Holdings, there: Holdings, worlds: VariantSet) -> Holdings:
        """Return what an account holds when it holds `there` in some variants and ways, and `usual` in all others."""
        if worlds == NONE or usual is there:
            return usual
        both, without, either = self.space.both, self.space.without, self.space.either
        parts: dict[State, VariantSet] = {}
        for held, state in usual:
            if (here := without(held, worlds)) != NONE:
                parts[state] = here
        for held, state in there:
            if (here := both(held, worlds)) != NONE:
                parts[state] = either(parts.get(state, NONE), here)
        return tuple((held, state) for state, held in parts.items())

    def within(self, standing: Standing, worlds: VariantSet) -> Standing:
        """Leave of what stands only some variants."""
        both = self.space.both
        return {
            account: tuple((here, state) for held, state in holdings if (here := both(held, worlds)) != NONE)
            for account, holdings in standing.items()
        }

    def bare(self, holdings: Holdings) -> dict[object, VariantSet]:
        """Return holdings without who did it."""
        known = self.bared.get(id(holdings))
        if known is None or known[0] is not holdings:
            merged: dict[object, VariantSet] = {}
            for held, state in holdings:
                bare = states.bare(state)
                merged[bare] = self.space.either(merged.get(bare, NONE), held)
            known = self.bared[id(holdings)] = holdings, merged
        return known[1]

    def ways(
        self, worlds: VariantSet, accounts: dict[str, Holdings], read: tuple[tuple[str, VariantSet], ...]
    ) -> list[tuple[VariantSet, Standing]]:
        """Split variants and ways so that, in each part, one variant has one machine."""
        if worlds == NONE:
            return []
        both = self.space.both
        standing: Standing = {READ: self.reading(worlds, read)}
        for account, holdings in accounts.items():
            merged = self.bare(holdings)
            if len(merged) == 1:
                standing[account] = ((worlds, next(iter(merged))),)
            else:
                standing[account] = tuple(
                    (here, state) for state, held in merged.items() if (here := both(held, worlds)) != NONE
                )
        parts = [worlds]
        for holdings_ in standing.values():
            if len(holdings_) > 1 and self.doubled(holdings_):
                parts = [here for part in parts for held, _ in holdings_ if (here := both(part, held)) != NONE]
            if len(parts) > MOST_WAYS:
                break
        if len(parts) == 1:
            return [(worlds, standing)]
        return [(part, self.within(standing, part)) for part in parts]

    def reading(
        self, worlds: VariantSet, read: tuple[tuple[str, VariantSet], ...]
    ) -> tuple[tuple[VariantSet, object], ...]:
        """Return which safety messages of the section were read, by variants and ways."""
        parts: list[tuple[VariantSet, frozenset[str]]] = [(worlds, frozenset())]
        for name, there in read:
            parts = [
                (here, names | more)
                for held, names in parts
                for here, more in (
                    (self.space.both(held, there), {name}),
                    (self.space.without(held, there), frozenset[str]()),
                )
                if here != NONE
            ]
        return tuple(parts)

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
        for visit in self.visits[place]:
            same = space.both(left, space.variants_of(visit.worlds))
            for account, holdings in standing.items():
                if same == NONE:
                    break
                known = visit.standing[account]
                if len(known) == len(holdings) == 1:
                    if not _alike(account, holdings[0][1], known[0][1]):
                        same = NONE
                    continue
                for held, state in holdings:
                    for other, before in known:
                        if not _alike(account, state, before):
                            both = space.both(space.variants_of(held), space.variants_of(other))
                            same = space.without(same, both)
            left = space.without(left, same)
            if left == NONE:
                return NONE
        return space.both(worlds, left)


def _alike(account: str, now: object, before: object) -> bool:
    """Whether nothing new can be found: the same state, or as many messages read as before, or more."""
    if account == READ:
        assert isinstance(now, frozenset)
        assert isinstance(before, frozenset)
        return before <= now
    return now == before
