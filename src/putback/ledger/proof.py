"""What the tests of a job prove, and what was put together with no test after it.

A test proves all that was done before it, but for four kinds. A `run` proves nothing until somebody says what must be
seen. One with `proves` proves what it names, with what holds it. What a block looks at after its own work, such as a
level or a clamp, proves the work of that block. And a test on a thing that only a block of the job had to do with, such
as a battery cable, proves no more than that thing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.goes_with import goes_with, is_silent, wants_no_proof
from putback.ledger.journey import End
from putback.ledger.leaks import looks_for_leaks
from putback.model.machine import Control
from putback.model.said import source_of
from putback.model.setting import Setting
from putback.model.verbs.asking import Measure, Verify
from putback.model.verbs.controls import Run
from putback.variants import NONE, VariantSet


class Untested(NamedTuple):
    """Something that was put together, and no test follows on the way to an end."""

    end: End
    """The end."""
    entry: Entry
    """What was done last."""
    variants: VariantSet
    """The variants in which no test follows."""
    test: Entry | None
    """A test after it that does not prove it, the run at which nothing is asked first; or else the last one before."""


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
        self.own, self.all = self.worked_on(in_blocks=False), self.worked_on(in_blocks=True)

    def worked_on(self, *, in_blocks: bool) -> dict[str, VariantSet]:
        """Return what is put together on the way, and in which variants, by blocks or not by them."""
        found: dict[str, VariantSet] = {}
        for entry, variants in self.path:
            if entry.step.verb.assembles and entry.target and (in_blocks or not entry.via):
                name = entry.target.name
                found[name] = self.space.either(found.get(name, NONE), variants)
        return found

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
                yield Untested(self.end, entry, here, self.other_test(place, here))

    def test(self, place: int, entry: Entry, variants: VariantSet) -> None:
        """Add what a test proves."""
        if is_silent(entry):
            variants = self.space.both(variants, self.asked)
        names = named_by(entry)
        target = {entry.target.name} if entry.target else set[str]()
        if names:
            self.add(names | target, variants)
        elif isinstance(entry.step.action, Run) or looks_for_leaks(self.book, entry):
            self.proved = self.space.either(self.proved, variants)
        else:
            rest = self.of_blocks(place, entry, variants)
            self.add(target, self.space.without(variants, rest))
            near = self.near(entry) if rest != NONE and not entry.via else frozenset[str]()
            beside = self.beside(near, self.space.without(rest, self.just_run(place)))
            self.add(near, beside)
            self.proved = self.space.either(self.proved, self.space.without(rest, beside))

    def add(self, names: Iterable[str], variants: VariantSet) -> None:
        """Add that things are proved, with what goes with them."""
        for near in {near for name in names for near in goes_with(self.book.graph, name)}:
            self.things[near] = self.space.either(self.things.get(near, NONE), variants)

    def of_blocks(self, place: int, entry: Entry, variants: VariantSet) -> VariantSet:
        """Add what a test of a block proves of that block's own work; return the variants in which it is for all."""
        both, either, without = self.space.both, self.space.either, self.space.without
        for depth in range(len(entry.via), 0, -1):
            works, runs, begin = NONE, NONE, place
            for number in range(place + 1, len(self.path)):
                other, held = self.path[number]
                if other.via[:depth] != entry.via[:depth]:
                    break
                begin = number
                if other.step.verb.assembles:
                    works = either(works, held)
                elif isinstance(other.step.action, Run):
                    runs = either(runs, held)
            ran = both(variants, runs)
            self.proved = either(self.proved, ran)
            own = without(both(variants, works), ran)
            if own != NONE:
                self.blocks[begin] = either(self.blocks.get(begin, NONE), own)
            variants = without(variants, either(ran, own))
        return variants

    def just_run(self, place: int) -> VariantSet:
        """Return the variants in which the machine was run since something was put together: all of it is tested."""
        ran, left = NONE, self.end.variants
        for entry, held in self.path[place + 1 :]:
            if left == NONE:
                break
            if isinstance(entry.step.action, Run):
                ran = self.space.either(ran, self.space.both(left, held))
            elif entry.step.verb.assembles:
                left = self.space.without(left, held)
        return ran

    def beside(self, near: Collection[str], variants: VariantSet) -> VariantSet:
        """Return the variants in which a test is on what only blocks put together, and the job itself other things."""
        space = self.space
        if variants == NONE or not near:
            return NONE
        touched, by_itself, others = NONE, NONE, NONE
        for name, held in self.all.items():
            touched = space.either(touched, held) if name in near else touched
        for name, held in self.own.items():
            by_itself, others = (
                (space.either(by_itself, held), others) if name in near else (by_itself, space.either(others, held))
            )
        return space.without(space.both(variants, space.both(touched, others)), by_itself)

    def near(self, entry: Entry) -> frozenset[str]:
        """Return what goes with what a test is on, by its name or the last word of it; nothing when nobody knows."""
        name, things = entry.target.name if entry.target else "", self.book.graph.machine.things
        thing, words = things.get(name), name.lower().split()
        if thing is not None:
            return frozenset() if isinstance(thing, Control | Setting) else goes_with(self.book.graph, name)
        found = [key for key in self.all if key in things and source_of(things[key].name).split()[-1].lower() in words]
        return frozenset().union(*(goes_with(self.book.graph, key) for key in found))

    def not_proved(self, place: int, entry: Entry, variants: VariantSet) -> VariantSet:
        """Leave out the variants in which what an entry put together is proved, or wants no proof."""
        assert entry.target is not None
        without, name = self.space.without, entry.target.name
        left = without(without(variants, self.proved), self.things.get(name, NONE))
        for begin, here in self.blocks.items():
            if place <= begin:
                left = without(left, here)
        return left if left == NONE else without(left, wants_no_proof(self.book, entry))

    def other_test(self, place: int, variants: VariantSet) -> Entry | None:
        """Return the last test after it, which does not prove it; or else the last one before."""
        tests = [
            entry for entry, held in self.path if entry.step.verb.proves and self.space.both(held, variants) != NONE
        ]
        index = self.path[place][0].index
        behind = [entry for entry in tests if entry.index > index]
        silent = [entry for entry in behind if is_silent(entry)]
        return next(iter([*silent, *behind, *tests]), None)
