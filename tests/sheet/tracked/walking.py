"""Random walks through a job, as a mechanic takes them; and the ledger of each, on one machine in a straight line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random
from unittest.mock import patch

from putback.ledger import walk as walking
from putback.ledger.book import PROOF, Book, equipment_account, memory_account
from putback.ledger.entries import Entry
from putback.ledger.handover import Handover
from putback.ledger.journey import Accounts, Journey
from putback.ledger.opened import Opened
from putback.ledger.program import Order, Program
from putback.model.job import Job, Sequence
from putback.model.machine import Fastener, Line, Part
from putback.model.states import State
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.telling import Stop
from putback.sheet.counting import taken_by
from putback.sheet.survey import Moved, pieces_of
from putback.variants import NONE, Space, VariantSet

MOST_ROUNDS = 5
"""How often a walk goes back at most; after that, every answer is good."""


@dataclass
class Happened:
    """What happens on a walk, in order."""

    order: Order
    target: str = ""
    """The name of a thing that the step names; nothing for one that names none."""
    answer: bool | None = None
    """To a question that the step asks, instead of something that is done."""
    back: bool = False
    """Whether it leads back."""


@dataclass
class Walk:
    """A walk of one machine."""

    space: Space
    program: Program
    machine: VariantSet
    """The variant."""
    random: Random
    rounds: int = 0
    done: list[Happened] = field(default_factory=list)

    def go(self) -> list[Happened]:
        place: int | None = 0
        while place is not None and place < len(self.program.orders):
            went = self.follow(self.program.orders[place])
            place = place + 1 if went == -1 else went
        return self.done

    def follow(self, order: Order) -> int | None:
        """Do a step: -1 to go on, None to stop, else the place to go back to."""
        if self.space.both(self.machine, order.variants) == NONE:
            return -1
        for target, present in order.targets:
            if self.space.both(self.machine, present) != NONE:
                self.done.append(Happened(order, target.name if target else ""))
        taken = False
        for asked in order.asking:
            if taken and not asked.each_apart:
                break
            yes = self.rounds < MOST_ROUNDS and self.random.random() < 0.4
            self.done.append(Happened(asked, answer=yes))
            taken = taken or yes
            for inner in asked.branch if yes else ():
                if (went := self.follow(inner)) != -1:
                    return went
        if isinstance(order.step.action, Stop):
            return None
        if isinstance(order.step.action, BackTo) and order.back_to is not None:
            self.done[-1].back = True
            self.rounds += 1
            return order.back_to
        return -1


class _InLine:
    """Posts what happened on a walk, one after the other; knows nothing of questions and of going back."""

    def __init__(self, machine: VariantSet, done: list[Happened]) -> None:
        self.machine, self.done = machine, done

    def __call__(self, space: Space, program: Program, accounts: Accounts) -> _InLine:
        self.space, self.orders, self.accounts = space, [o for top in program.orders for o in top.walk()], accounts
        return self

    def go(self) -> Journey:
        journey = Journey()
        for happened in self.done:
            order = self.orders[happened.order.number]
            for target, present in order.targets if happened.answer is None else ():
                here = self.space.both(self.machine, self.space.both(present, order.variants))
                if here != NONE and (target.name if target else "") == happened.target:
                    index = len(journey.entries)
                    entry = Entry(index, order.step, target, here, here, False, order.section, order.via, order.number)
                    journey.entries.append(entry)
                    self.accounts.post(entry)
                    break
        return journey


def in_line(opened: Opened, sequence: Sequence, machine: VariantSet, done: list[Happened], book: Book) -> Book:
    """Return the ledger of a walk."""
    assert opened.written is not None
    assert isinstance(sequence, Job)
    opening = {account: holdings[0] for account, (_, holdings) in book.history.items()}
    found = Handover(sequence, book.earlier, opening, book.found)
    with patch.object(walking, "Traveller", _InLine(machine, done)):
        return walking.open_book(
            opened.written.sequence(sequence), book.graph, book.library, opened.written, found if book.found else None
        )


def states_after(line: Book, number: int, machine: VariantSet) -> Iterator[tuple[str, State]]:
    """Yield what every account holds after so many entries, on the machine."""
    both = line.graph.space.both
    for account, (numbers, holdings) in line.history.items():
        at = max(place for place, each in enumerate(numbers) if each < number)
        [state] = [state for held, state in holdings[at] if both(held, machine) != NONE]
        if account != PROOF:
            yield account, state


def account_of(kind: str, key: str) -> str:
    """Return the account of a thing in the data of a page."""
    return equipment_account(key) if kind == "equipment" else memory_account(key) if kind == "position" else key


def counted(line: Book, thing: Part | Fastener | Line, number: int, machine: VariantSet) -> tuple[int, int, int]:
    """Return the pieces of a thing that came out, went back, and are new, after so many entries of a straight line."""
    both, new, places = line.graph.space.both, 0, frozenset[int]()
    opening = line.history[thing.key][1][0] if thing.key in line.found else ()
    empty = missing = sum(pieces_of(state).out for held, state in opening if both(held, machine) != NONE)
    for entry in line.entries[:number]:
        if entry.target is not None and entry.target.name == thing.key:
            pairs = [(b, a) for _, b in line.before(thing.key, entry) for _, a in line.after(thing.key, entry)]
            for before, after in pairs:
                taken = taken_by(entry.step.action, Moved(NONE, pieces_of(before), pieces_of(after)), thing)
                empty, places, new = max(empty, taken.peak), places | taken.places, new + taken.new
                missing = pieces_of(after).out
    total = max(empty, len(places), new)
    return total, max(0, total - missing), new
