"""How many pieces come off on each way through a job, how many go back, and how many of them are new.

A piece counts once, however often it comes off. So what counts as out are the places that stood empty at some time: of
pieces that are all alike, the most that were out at one time; or, where more new pieces than that go in, as many as
these. What is not in place at the end did not go back.

Of a branch counts what comes off on the way into it, more than on the way on which every inspection is good. What an
`again` does a second time is done with the same pieces, and counts no second time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from putback.ledger.entries import Entry
from putback.ledger.walk import chosen
from putback.model import job as j
from putback.model.machine import Fastener, Line, Part
from putback.sheet.survey import Branch, Moved, Pieces, Survey
from putback.sheet.ways import Ways
from putback.variants import NONE, VariantSet


class Count(NamedTuple):
    """Pieces of one thing."""

    out: int = 0
    """Pieces that come off or out."""
    back: int = 0
    """Pieces that go back."""
    new: int = 0
    """New pieces that go in."""


Counts: TypeAlias = dict[Count, VariantSet]
"""Counts, each with the variants that have it."""


class _Tally(NamedTuple):
    """What was counted so far."""

    empty: int = 0
    """The most places that stood empty, of pieces that are alike."""
    places: frozenset[int] = frozenset()
    """The named places that did."""
    missing: int = 0
    """Pieces that are not in place."""
    new: int = 0
    """New pieces that went in."""

    @property
    def out(self) -> int:
        """Pieces that came off."""
        return max(self.empty, len(self.places), self.new)

    def more_than(self, other: _Tally) -> Count:
        """Return what was counted more than on another way."""
        out = max(0, self.out - other.out)
        return Count(out, max(0, out - self.missing + other.missing), max(0, self.new - other.new))


@dataclass(frozen=True, slots=True)
class Counted:
    """All counts of one thing."""

    thing: Part | Fastener | Line
    """The thing."""
    always: Counts
    """When every inspection is good."""
    branches: dict[Branch, Counts]
    """What a branch takes off more; only branches that do."""


def counted(survey: Survey) -> Iterator[Counted]:
    """Yield the counts of each thing that some entry moves, in the order in which the job comes to them."""
    machine, entries = survey.book.graph.machine, dict[str, list[Entry]]()
    for entry in survey.entries:
        if entry.target is not None and survey.book.changed(entry.target.name, entry):
            entries.setdefault(entry.target.name, []).append(entry)
    for key, of_thing in entries.items():
        thing = machine.things.get(key)
        if isinstance(thing, Part | Fastener | Line):
            found = _count(survey, thing, of_thing)
            if found.branches or any(any(count) for count in found.always):
                yield found


def _count(survey: Survey, thing: Part | Fastener | Line, entries: list[Entry]) -> Counted:
    either = survey.space.either
    # Only a block may find something off.
    start = _Tally(missing=max(pieces.out for pieces in survey.standing(thing.key, entries[0], ())))
    ways = Ways(survey, thing.key, start, lambda tally, entry, move: _taken(tally, entry.step.action, move, thing))
    ways.follow(entries)
    always: Counts = {}
    for tally, worlds in ways.good.items():
        count = tally.more_than(start)
        always[count] = either(always.get(count, NONE), worlds)
    branches: dict[Branch, Counts] = {}
    for apart in ways.apart():
        more = apart.tally.more_than(apart.usual)
        if more.out or more.new:
            counts = branches.setdefault(apart.branch, {})
            counts[more] = either(counts.get(more, NONE), apart.worlds)
    for branch in list(branches):
        if any(branches[branch] == branches.get(branch[:depth]) for depth in range(1, len(branch))):
            # The branch around it counts the same already.
            del branches[branch]
    return Counted(thing, always, branches)


def _taken(tally: _Tally, action: j.Action, move: Moved, thing: Part | Fastener | Line) -> _Tally:
    """Return a tally after one entry."""
    step = _step(action, move, thing)
    return _Tally(max(tally.empty, step.peak), tally.places | step.places, move.after.out, tally.new + step.new)


class _Step(NamedTuple):
    """What one entry counts for."""

    peak: int
    """Places that are empty in the midst of it, when it takes something off."""
    places: frozenset[int]
    """The named ones among them."""
    new: int
    """New pieces that go in."""


def _step(action: j.Action, move: Moved, thing: Part | Fastener | Line) -> _Step:
    before, after = move.before, move.after
    if isinstance(action, j.Replace):
        return _replaced(action, before, thing)
    off = after.out > before.out
    places = frozenset(number for number, how in enumerate(after.places) if how == "out" and off)
    new = before.out - after.out if isinstance(action, j.Install) and action.new else 0
    return _Step(after.out if off else 0, places, max(0, new))


def _replaced(action: j.Replace, before: Pieces, thing: Part | Fastener | Line) -> _Step:
    """Off, and new ones on, in one go: the pieces come off that are in, and those go in that were out."""
    whole = thing.count if isinstance(thing, Fastener) else 1
    inside = before.tight + before.loose
    taken = min(inside if action.count is None else action.count, inside)
    out = before.out + taken
    at = chosen(thing, action.at) if isinstance(thing, Fastener) else ()
    places = at or tuple(number for number, how in enumerate(before.places) if how != "out")[:taken]
    return _Step(out if taken else 0, frozenset(places), min(whole if action.count is None else action.count, out))
