"""What comes of a thing on each way through a job: when every inspection is good, and when one leads into its branch.

The way into a branch goes from there to the end of the job; or to where a `stop` or a `back-to` leads it away. As soon
as the thing stands as on the good way again, the two go on together. At the end, one is held against the other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator
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
    """What comes of a thing on the way into a branch."""

    branch: Branch
    """The branch."""
    tally: T
    """What comes of it."""
    usual: T
    """What comes of it on the good way."""
    variants: VariantSet
    """The variants in which that is so."""
    then: T | None = None
    """What had come of it on the good way, where a `back-to` led away: from there the job is gone through once more."""


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
        self.space = survey.space
        self.key = key
        self.take = take
        self.present = survey.book.graph.present(key)
        self.good: dict[T, VariantSet] = {start: self.present}
        """What comes of the thing when every inspection is good."""
        self._open: dict[Branch, _Open[T]] = {}
        """Ways on which the thing stands otherwise."""
        self._back: dict[T, dict[Branch, VariantSet]] = {}
        """Ways on which it stands as on the good one again, but another tally was kept until then."""
        self._ended: list[tuple[Branch, T, VariantSet, T | None]] = []
        """Ways that a `stop` or a `back-to` in the branch led away; of a `back-to`, with the tally of the good way."""
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
            moves = list(self.survey.moves(self.key, entry, ()))
            self._back = self._all_moved(entry, moves)
            self.good = self._moved(self.good, entry, moves)
        for way in self._open.values():
            self._leave(way, math.inf)

    def apart(self) -> Iterator[Apart[T]]:
        """Yield what comes of the thing on the ways into branches, where it is not the same as on the good way."""
        ends = list(self._ended)
        ends += [(branch, tally, here, None) for tally, ways in self._back.items() for branch, here in ways.items()]
        ends += [(way.branch, tally, here, None) for way in self._open.values() for tally, here in way.tallies.items()]
        for branch, tally, variants, then in sorted(ends, key=lambda end: end[0]):
            for usual, others in self.good.items():
                here = self.space.both(variants, others)
                if here != NONE and tally != (usual if then is None else then):
                    yield Apart(branch, tally, usual, here, then)

    def _inside(self, entry: Entry, branch: Branch) -> None:
        """Come to an entry of a branch; branches that lie in it and are done go on with it."""
        if branch not in self._open and branch not in self._done:
            above = [self._open[branch[:depth]] for depth in range(1, len(branch)) if branch[:depth] in self._open]
            tallies = above[-1].tallies if above else self.good
            come = self.survey.come_to(branch)
            self._open[branch] = _Open(branch, self._without(tallies, self.space.without(self.present, come)))
            self._leave(self._open[branch], entry.index)
            others = [way for key, way in self._open.items() if branch[: len(key)] != key]
            if len(self._open) > MOST_APART and others:
                self._close(others[0])
        for way in self._open.values():
            if way.branch[: len(branch)] == branch:
                if way.branch != branch:
                    self._leave(way, entry.index)
                way.tallies = self._moved(way.tallies, entry, list(self.survey.moves(self.key, entry, way.branch)))

    def _behind(self, way: _Open[T], entry: Entry) -> None:
        """Come to a step after a branch."""
        self._leave(way, entry.index)
        key, standing = self.key, self.survey.standing
        usual = self._without(standing(key, entry, ()), way.left)
        if not way.tallies or usual == self._without(standing(key, entry, way.branch), way.left):
            self._close(way)
        else:
            way.tallies = self._moved(way.tallies, entry, list(self.survey.moves(self.key, entry, way.branch)))

    def _leave(self, way: _Open[T], before: float) -> None:
        """Note the variants that a branch led away before an entry."""
        stopped, back = self.survey.gone(way.branch, before)
        gone = self.space.either(stopped, back)
        if gone == way.left:
            return
        for tally, variants in way.tallies.items():
            if (here := self.space.both(variants, stopped)) != NONE:
                self._ended.append((way.branch, tally, here, None))
            for usual, others in self.good.items():
                if (here := self.space.both(self.space.both(variants, back), others)) != NONE:
                    self._ended.append((way.branch, tally, here, usual))
        way.left, way.tallies = gone, self._without(way.tallies, gone)

    def _close(self, way: _Open[T]) -> None:
        """From now on, what happens on the good way happens on this one as well."""
        for tally, variants in way.tallies.items():
            self._back.setdefault(tally, {})[way.branch] = variants
        self._done.add(way.branch)
        del self._open[way.branch]

    def _all_moved(self, entry: Entry, moves: list[Moved]) -> dict[T, dict[Branch, VariantSet]]:
        """Return the ways that are as the good one, after an entry; all of a tally at once where that can be."""
        found: dict[T, dict[Branch, VariantSet]] = {}
        for tally, ways in self._back.items():
            after = [self.take(tally, entry, move) for move in moves]
            if len(moves) == 1 and self.space.within(self.present, moves[0].variants):
                self._join(found, after[0], ways)
                continue
            if all(now == tally for now in after):
                self._join(found, tally, ways)
                continue
            for branch, variants in ways.items():
                for now, here in self._moved({tally: variants}, entry, moves).items():
                    held = found.setdefault(now, {})
                    held[branch] = self.space.either(held.get(branch, NONE), here)
        return found

    def _join(self, found: dict[T, dict[Branch, VariantSet]], tally: T, ways: dict[Branch, VariantSet]) -> None:
        """Add ways to those of a tally: the fewer to the more."""
        fewer, more = sorted((found.get(tally, {}), ways), key=len)
        for branch, variants in fewer.items():
            more[branch] = self.space.either(more.get(branch, NONE), variants)
        found[tally] = more

    def _moved(self, tallies: dict[T, VariantSet], entry: Entry, moves: list[Moved]) -> dict[T, VariantSet]:
        """Return tallies after an entry."""
        space, found = self.space, dict(tallies)
        for move in moves:
            for tally, variants in list(found.items()):
                here, now = space.both(variants, move.variants), self.take(tally, entry, move)
                if here != NONE and now != tally:
                    found[tally] = space.without(found[tally], here)
                    found[now] = space.either(found.get(now, NONE), here)
        return {tally: variants for tally, variants in found.items() if variants != NONE}

    def _without(self, held: dict[K, VariantSet], variants: VariantSet) -> dict[K, VariantSet]:
        without = self.space.without
        return {key: here for key, there in held.items() if (here := without(there, variants)) != NONE}
