"""What the tests of a job prove, and what was put together with no test after it.

A test proves all that was done before it, but for four kinds. A `run` proves nothing until somebody says what must be
seen. One with `proves` proves what it names, with what holds it. What a block looks at after its own work, such as a
level or a clamp, proves the work of that block. And a test on a thing that only a block of the job had to do with, such
as a battery cable, proves no more than that thing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.goes_with import goes_with, wants_no_proof
from putback.ledger.journey import End
from putback.ledger.leaks import looks_for_leaks
from putback.model.machine import Control
from putback.model.setting import Setting
from putback.model.verbs.asking import Measure, Verify
from putback.model.verbs.controls import Run
from putback.source.late import Late
from putback.variants import NONE, VariantSet

_SEEN = Late(r"\b(look|listen|watch|see|feel|smell|check|must|should|may not|no|without|until)\b", re.IGNORECASE)
"""Words of a run that say what to see at it."""


class Untested(NamedTuple):
    """Something that was put together, and no test follows on the way to an end."""

    end: End
    """The end."""
    entry: Entry
    """What was done last."""
    variants: VariantSet
    """The variants in which no test follows."""
    test: Entry | None
    """A test behind it that does not prove it, the run at which nothing is asked first; or else the last one before."""


def is_silent(entry: Entry) -> bool:
    """Tell whether it is a run of which the step does not say what to see at it."""
    said = f"{entry.step.text or ''} {entry.step.note or ''}"
    return isinstance(entry.step.action, Run) and not _SEEN.search(said)


def named_by(entry: Entry) -> frozenset[str]:
    """Return the things that a test says it proves."""
    action = entry.step.action
    return frozenset(ref.name for ref in action.proves) if isinstance(action, Verify | Measure | Run) else frozenset()


@once
def not_tested(book: Book) -> Iterator[Untested]:
    """Yield, for each end, the last of what was put together without a test after it."""
    for end in book.ends:
        yield from _Back(book, end).go()


class _Back:
    """Goes back from an end, and gathers what the tests on the way prove."""

    def __init__(self, book: Book, end: End) -> None:
        self.book, self.end, self.space = book, end, book.graph.space
        self.path = list(book.before_end(end))
        self.proved = NONE
        """The variants in which all that was done before is proved."""
        self.things: dict[str, VariantSet] = {}
        """The same by thing."""
        self.blocks: dict[int, VariantSet] = {}
        """The same by the place in the path at which a block begins: all after it."""
        self.asked = NONE
        self.own = _worked_on(book, self.path, in_blocks=False)
        self.all = _worked_on(book, self.path, in_blocks=True)

    def go(self) -> Iterator[Untested]:
        """Yield what nothing proves, once in each variant."""
        left = self.end.variants
        for place, (entry, variants) in enumerate(self.path):
            if entry.step.verb.proves:
                self.test(place, entry, variants)
            if entry.step.verb.asks:
                self.asked = self.space.either(self.asked, variants)
            here = self.space.both(left, variants)
            if here == NONE or not entry.step.verb.assembles or entry.target is None:
                continue
            here = self.not_proved(place, entry, here)
            if here != NONE:
                left = self.space.without(left, here)
                yield Untested(self.end, entry, here, self.earlier_test(place, here))

    def test(self, place: int, entry: Entry, variants: VariantSet) -> None:
        """Add what a test proves."""
        either, target = self.space.either, entry.target
        if is_silent(entry):
            variants = self.space.both(variants, self.asked)
        names = named_by(entry)
        if names:
            names |= {target.name} if target else set()
        else:
            start = self.own_work(place, entry)
            if start is not None:
                self.blocks[start] = either(self.blocks.get(start, NONE), variants)
                names = frozenset({target.name} if target else ())
            elif self.is_beside(entry):
                names = frozenset({target.name} if target else ())
            else:
                self.proved = either(self.proved, variants)
                return
        for name in names:
            for other in goes_with(self.book.graph, name):
                self.things[other] = either(self.things.get(other, NONE), variants)

    def own_work(self, place: int, entry: Entry) -> int | None:
        """Return where the block begins whose own work a test is for; None when it is for all."""
        if isinstance(entry.step.action, Run) or looks_for_leaks(self.book, entry):
            return None
        via = entry.via
        for depth in range(len(via), 0, -1):
            works, begin = False, place
            for number in range(place + 1, len(self.path)):
                other = self.path[number][0]
                if other.via[:depth] != via[:depth]:
                    break
                if isinstance(other.step.action, Run):
                    return None
                works, begin = works or other.step.verb.assembles, number
            if works:
                return begin
        return None

    def is_beside(self, entry: Entry) -> bool:
        """Tell whether a test is on a thing that only blocks of the job put together, and the job itself others."""
        thing = self.book.graph.machine.things.get(entry.target.name) if entry.target else None
        if entry.via or thing is None or isinstance(thing, Control | Setting) or looks_for_leaks(self.book, entry):
            return False
        near = goes_with(self.book.graph, thing.key)
        return not near.isdisjoint(self.all) and bool(self.own) and near.isdisjoint(self.own)

    def not_proved(self, place: int, entry: Entry, variants: VariantSet) -> VariantSet:
        """Leave out the variants in which what an entry put together is proved, or wants no proof."""
        assert entry.target is not None
        without, name = self.space.without, entry.target.name
        left = without(without(variants, self.proved), self.things.get(name, NONE))
        for begin, here in self.blocks.items():
            if place <= begin:
                left = without(left, here)
        return left if left == NONE else without(left, wants_no_proof(self.book, entry))

    def earlier_test(self, place: int, variants: VariantSet) -> Entry | None:
        """Return the last test behind it, which does not prove it; or else the last one before."""
        tests = [
            entry for entry, held in self.path if entry.step.verb.proves and self.space.both(held, variants) != NONE
        ]
        index = self.path[place][0].index
        behind = [entry for entry in tests if entry.index > index]
        silent = [entry for entry in behind if is_silent(entry)]
        return next(iter([*silent, *behind, *tests]), None)


def _worked_on(book: Book, path: list[tuple[Entry, VariantSet]], *, in_blocks: bool) -> set[str]:
    return {
        entry.target.name
        for entry, _ in path
        if entry.step.verb.assembles and entry.target and (in_blocks or not entry.via)
    }
