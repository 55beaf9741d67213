"""What comes of a thing on each way through a job: when every inspection is good, and when one leads into its branch.

The way into a branch is followed from there on until the thing stands as it does without the branch, or to the end.
What a branch does when it lies in another one belongs to the inner one; both are held against the good way.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Generic, NamedTuple, TypeAlias, TypeVar

from putback.ledger.entries import Entry
from putback.sheet.survey import Branch, Moved, Survey
from putback.variants import NONE, VariantSet

MOST_APART = 64
"""Branches that may leave a thing in another state at one time; of more, the first are followed no further."""

K = TypeVar("K", bound=Hashable)
T = TypeVar("T", bound=Hashable)

Take: TypeAlias = Callable[[T, Entry, Moved], T]
"""What a tally is after an entry that moved a thing."""


class Apart(NamedTuple, Generic[T]):
    """What came of a thing on the way into a branch."""

    branch: Branch
    """The branch."""
    tally: T
    """What came of it."""
    usual: T
    """What came of it up to there on the good way."""
    worlds: VariantSet
    """The variants in which that is so."""


class _Open(Generic[T]):
    """A way that is followed."""

    def __init__(self, branch: Branch, tallies: dict[T, VariantSet]) -> None:
        self.branch = branch
        self.tallies = tallies
        self.left: VariantSet = NONE


class Ways(Generic[T]):
    """Follows one thing through its entries, and keeps a tally by variants."""

    def __init__(self, survey: Survey, key: str, start: T, take: Take[T]) -> None:
        """Begin with a tally in all variants that have the thing; `take` is what an entry does to one."""
        self.survey = survey
        self.key = key
        self.take = take
        self.good: dict[T, VariantSet] = {start: survey.book.graph.present(key)}
        """What came of the thing when every inspection is good."""
        self.apart: list[Apart[T]] = []
        """What came of it on the ways into branches."""
        self._open: dict[Branch, _Open[T]] = {}
        self._done: set[Branch] = set()

    def follow(self, entries: list[Entry]) -> None:
        """Go through the entries that name the thing."""
        for entry in entries:
            branch = self.survey.branch(entry)
            if branch:
                self._inside(entry, branch)
                continue
            for way in list(self._open.values()):
                self._behind(way, entry)
            self.good = self._advanced(self.good, entry, ())
        for way in self._open.values():
            self._note(way, way.tallies)

    def _inside(self, entry: Entry, branch: Branch) -> None:
        """Count an entry of a branch, also for the branches that lie in it and are done."""
        if branch not in self._open and branch not in self._done:
            above = [self._open[branch[:depth]] for depth in range(1, len(branch)) if branch[:depth] in self._open]
            tallies = above[-1].tallies if above else self.good
            self._open[branch] = _Open(branch, self._without(tallies, self.survey.gone(branch, entry)))
            others = [way for key, way in self._open.items() if branch[: len(key)] != key]
            if len(self._open) > MOST_APART and others:
                self._close(others[0])
        for way in self._open.values():
            if way.branch[: len(branch)] == branch:
                if way.branch != branch:
                    self._leave(way, entry)
                self._advance(way, entry)

    def _behind(self, way: _Open[T], entry: Entry) -> None:
        """Come to a step behind a branch."""
        self._leave(way, entry)
        key, standing = self.key, self.survey.standing
        usual = self._without(standing(key, entry, ()), way.left)
        if not way.tallies or usual == self._without(standing(key, entry, way.branch), way.left):
            self._close(way)
        else:
            self._advance(way, entry)

    def _leave(self, way: _Open[T], entry: Entry) -> None:
        """Note the counts of the variants that a branch led away for good before an entry."""
        gone = self.survey.gone(way.branch, entry)
        if gone != way.left:
            self._note(way, self._within(way.tallies, gone))
            way.left, way.tallies = gone, self._without(way.tallies, gone)

    def _advance(self, way: _Open[T], entry: Entry) -> None:
        way.tallies = self._advanced(way.tallies, entry, way.branch)

    def _close(self, way: _Open[T]) -> None:
        """Follow the way into a branch no further."""
        self._note(way, way.tallies)
        self._done.add(way.branch)
        del self._open[way.branch]

    def _note(self, way: _Open[T], tallies: dict[T, VariantSet]) -> None:
        """Keep what the way into a branch counts more than the good one."""
        space = self.survey.space
        for tally, worlds in tallies.items():
            for usual, others in self.good.items():
                here = space.both(worlds, others)
                if here != NONE and tally != usual:
                    self.apart.append(Apart(way.branch, tally, usual, here))

    def _advanced(self, tallies: dict[T, VariantSet], entry: Entry, branch: Branch) -> dict[T, VariantSet]:
        """Return tallies after an entry, on the way into a branch."""
        space, found = self.survey.space, dict(tallies)
        for move in self.survey.moves(self.key, entry, branch):
            for tally, worlds in list(found.items()):
                here, now = space.both(worlds, move.worlds), self.take(tally, entry, move)
                if here != NONE and now != tally:
                    found[tally] = space.without(found[tally], here)
                    found[now] = space.either(found.get(now, NONE), here)
        return {tally: worlds for tally, worlds in found.items() if worlds != NONE}

    def _without(self, held: dict[K, VariantSet], worlds: VariantSet) -> dict[K, VariantSet]:
        without = self.survey.space.without
        return {key: here for key, there in held.items() if (here := without(there, worlds)) != NONE}

    def _within(self, held: dict[K, VariantSet], worlds: VariantSet) -> dict[K, VariantSet]:
        both = self.survey.space.both
        return {key: here for key, there in held.items() if (here := both(there, worlds)) != NONE}
