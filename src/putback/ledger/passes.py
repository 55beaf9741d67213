"""Going through a program, with every answer that an inspection can give, and back where a `back-to` leads.

What an `otherwise` does leaves no trace on the steps after it when it leads away, by `stop` or `back-to`: whoever comes
to those steps had an answer within its limit. So the entries after it hold whatever the answer was, and accounts stay
small however much a job asks. Only the end of a way tells who gets there.

The variants and ways that go back start a new pass from the named step, with the machine as it stood when they left. A
pass ends where the same machine has stood before: nothing could be found that was not found then. (The safety messages
in force at a step are always those that stand above it.) So the passes come to an end, and none hides a fault. That is
looked at wherever a `back-to` leads to, and wherever one leads away.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from putback.ledger.entries import Entry, question
from putback.ledger.journey import Accounts, End, Holdings, Journey, Jump, Meeting, Pass
from putback.ledger.program import Order, Program
from putback.ledger.standing import MOST_WAYS, Standing, Standings, Visit
from putback.model.states import State
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.telling import Stop
from putback.variants import NONE, Space, VariantSet

MOST_PASSES = 200
"""Passes after which the order of a job is called undecided."""

MOST_STEPS = 8_000
"""Steps in these passes, likewise."""


BEHIND = 0.5
"""Ways part and join again between two entries: that changes accounts, but no entry did it."""


class Traveller:
    """Goes through a program and posts each entry."""

    def __init__(self, space: Space, program: Program, accounts: Accounts) -> None:
        self.space = space
        self.program = program
        self.accounts = accounts
        self.journey = Journey()
        self.standings = Standings(space)
        self.alive = space.built
        self.gone = NONE
        self.ended = NONE
        self.pass_number = 0
        self.first_pass = 0
        self.sections = max((order.section for order in program.orders), default=0) + 1
        self.visits: dict[int, list[Visit]] = {place: [] for place in program.crossings()}
        self.jumps: deque[Jump] = deque()

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
            ways = self.standings.ways(jump.variants, jump.accounts)
            if len(ways) > MOST_WAYS:
                return self.give_up(jump.order)
            for way, standing in ways:
                new = self.standings.unseen(self.visits[place], way, standing)
                self.meet(place, way, standing, jump)
                if new == NONE:
                    continue
                gone = len(self.journey.entries) - self.first_pass
                if gone > MOST_STEPS or self.pass_number == MOST_PASSES:
                    return self.give_up(jump.order)
                self.pass_number += 1
                came = self.space.both(jump.came, new)
                first = len(self.journey.entries)
                going = self.space.go_on(new, self.space.variants_of(new))
                self.visits[place].append(Visit(new, self.standings.within(standing, new), self.pass_number, going))
                way_of = self.space.place_of(going)
                self.journey.passes.append(Pass(first, jump.from_pass, jump.after, came, way_of))
                self.journey.meetings.append(
                    Meeting(jump.from_pass, jump.after, new, place, self.pass_number, going, jumped=True)
                )
                self.resume(jump.accounts, new, going)
                self.travel(place, going)
        return self.journey

    def give_up(self, order: Order) -> Journey:
        """Note the step that led to too much, and end the journey."""
        self.journey.undecided.append(order)
        return self.journey

    def travel(self, start: int, variants: VariantSet) -> None:
        """Go from a place in the program to its end, in some variants and ways, or to where they were before."""
        self.alive, self.gone, self.ended = variants, NONE, NONE
        for place in range(start, len(self.program.orders)):
            order = self.program.orders[place]
            if place in self.visits and not (self.pass_number and place == start):
                self.arrive(place)
            if self.pass_number and self.alive == NONE:
                break
            self.follow(order, self.alive, inside=False)
        standing = self.space.either(self.alive, self.ended)
        reach = self.space.without(standing, self.gone)
        if standing != NONE:
            entries = len(self.journey.entries)
            through = self.space.without(self.alive, self.gone)
            self.journey.ends.append(End(reach, standing, self.accounts.now(), through, self.pass_number, entries))

    def arrive(self, place: int) -> None:
        """Note how the machine stands here; what stood so before goes no further."""
        left = NONE
        for way, standing in self.standings.ways(self.alive, self.accounts.now()):
            new = way if not self.pass_number else self.standings.unseen(self.visits[place], way, standing)
            if self.pass_number:
                self.meet(place, way, standing)
            if new != NONE:
                stands = standing if new == way else self.standings.within(standing, new)
                self.visits[place].append(Visit(new, stands, self.pass_number, new))
                left = self.space.either(left, new)
        if self.pass_number:
            self.alive = left

    def meet(self, place: int, way: VariantSet, standing: Standing, jump: Jump | None = None) -> None:
        """Note as which passes those go on whose machine has stood so before."""
        of_pass, after = (jump.from_pass, jump.after) if jump else (self.pass_number, len(self.journey.entries))
        for visit, same in self.standings.met(self.visits[place], way, standing):
            here, going = self.space.both(way, same), self.space.both(visit.going, same)
            met = Meeting(of_pass, after, here, place, visit.of_pass, going, jumped=jump is not None)
            self.journey.meetings.append(met)

    def follow(self, order: Order, variants: VariantSet, *, inside: bool) -> None:
        """Post one step, and what its `otherwise` does."""
        both, step = self.space.both, order.step
        here = both(self.alive, both(variants, order.variants))
        reached, again = self.alive, bool(self.pass_number)
        section = order.section + self.pass_number * self.sections
        for target, present in order.targets:
            exists = both(here, present)
            if exists != NONE:
                number, index = order.number, len(self.journey.entries)
                entry = Entry(index, step, target, exists, reached, again, section, order.via, number, self.gone)
                self.journey.entries.append(entry)
                self.accounts.post(entry)
        if order.branch and here != NONE:
            self.ask(order, here)
        if isinstance(step.action, Stop):
            if not inside:
                self.ended = self.space.either(self.ended, here)
            self.alive = self.space.without(self.alive, here)
        elif isinstance(step.action, BackTo) and order.back_to is not None and here != NONE:
            came, entries = self.space.without(here, self.gone), len(self.journey.entries)
            self.jumps.append(Jump(order, here, came, self.accounts.now(), self.pass_number, entries))
            self.alive = self.space.without(self.alive, here)

    def ask(self, order: Order, variants: VariantSet) -> None:
        """Do what hangs on the answer to a step; two outcomes of one value never meet."""
        others = NONE
        for asked in order.asking:
            led, _ = self.space.ask(question(order.step, asked.outcome), *self.limits(order))
            self.journey.asked.setdefault(asked.number, self.space.place_of(led))
            self.journey.questions[self.pass_number, asked.number] = self.space.place_of(led)
            self.branch(asked.branch, self.space.without(self.space.both(variants, led), others))
            others = others if asked.each_apart else self.space.either(others, led)

    def limits(self, order: Order) -> Iterator[VariantSet]:
        """Yield what sets apart the variants of a step and of what its `otherwise` does, where something does."""
        for _, present in order.targets:
            limit = self.space.both(present, order.variants)
            if limit != self.space.built:
                yield limit
        for inner in order.branch:
            yield from self.limits(inner)

    def branch(self, orders: list[Order], variants: VariantSet) -> None:
        """Do what an `otherwise` says, and go on as if those that it led away had never been in it."""
        alive, mark = self.alive, len(self.accounts.log)
        for inner in orders:
            self.follow(inner, variants, inside=True)
        stayed = self.space.both(variants, self.alive)
        self.alive = alive
        if stayed == variants:
            return
        self.gone = self.space.either(self.gone, self.space.without(variants, stayed))
        after, now = len(self.journey.entries) - BEHIND, self.accounts.now()
        first: dict[str, Holdings] = {}
        for account, holdings in self.accounts.log[mark:]:
            first.setdefault(account, holdings)
        for account, before in first.items():
            self.accounts.put(account, self.joined(before, now[account], stayed), after)

    def resume(self, accounts: dict[str, Holdings], ways: VariantSet, going: VariantSet) -> None:
        """Let the accounts stand as they did when some variants and ways left, for the way that they go on as."""
        after = len(self.journey.entries) - BEHIND
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

    def joined(self, usual: Holdings, there: Holdings, variants: VariantSet) -> Holdings:
        """Return what an account holds when it holds `there` in some variants and ways, and `usual` in all others."""
        if variants == NONE or usual is there:
            return usual
        both, without, either = self.space.both, self.space.without, self.space.either
        parts: dict[State, VariantSet] = {}
        for held, state in usual:
            if (here := without(held, variants)) != NONE:
                parts[state] = here
        for held, state in there:
            if (here := both(held, variants)) != NONE:
                parts[state] = either(parts.get(state, NONE), here)
        return tuple((held, state) for state, held in parts.items())
