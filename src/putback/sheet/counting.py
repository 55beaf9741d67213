"""How many pieces come off on each way through a job, how many go back, and how many of them are new.

A piece counts once, however often it comes off. So what counts as out are the places that stood empty at some time: of
pieces that are all alike, the most that were out at one time; or, where more new pieces than that go in, as many as
these. What is not in place at the end did not go back.

Of a branch counts what comes off on the way into it, more than on the way on which every inspection is good. What an
`back-to` does a second time is done with the same pieces; but what goes in new goes in new again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from putback.ledger.entries import Entry
from putback.model.machine import Fastener, Line, Part
from putback.model.states import chosen
from putback.model.verb import Action
from putback.model.verbs.pieces import Install, Replace
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
    start = _Tally()
    ways = Ways(survey, thing.key, start, lambda tally, entry, move: _taken(tally, entry.step.action, move, thing))
    if thing.key in survey.book.found:
        # What came off in the job before is counted here as well: it is what goes back.
        ways.good = {}
        for pieces, variants in survey.standing(thing.key, entries[0], ()).items():
            found, here = _found(pieces), survey.space.both(variants, ways.present)
            if here != NONE:
                ways.good[found] = either(ways.good.get(found, NONE), here)
    ways.follow(entries)
    always: Counts = {}
    for tally, variants in ways.good.items():
        count = tally.more_than(start)
        always[count] = either(always.get(count, NONE), variants)
    branches = _of_branches(survey, ways, _again(survey, thing, entries))
    for branch in list(branches):
        if any(branches[branch] == branches.get(branch[:depth]) for depth in range(1, len(branch))):
            # The branch around it counts the same already.
            del branches[branch]
    return Counted(thing, always, branches)


def _found(pieces: Pieces) -> _Tally:
    """Return the tally of a thing that is found so."""
    places = frozenset(number for number, how in enumerate(pieces.places) if how == "out")
    return _Tally(pieces.out, places, pieces.out)


_Extra: TypeAlias = dict[Branch, dict[int, VariantSet]]
"""New pieces that go in once more after a `back-to` in a branch, with the variants."""


def _of_branches(survey: Survey, ways: Ways[_Tally], again: _Extra) -> dict[Branch, Counts]:
    space, branches, known = survey.space, dict[Branch, Counts](), dict[Branch, VariantSet]()

    def note(branch: Branch, more: Count, variants: VariantSet) -> None:
        if variants != NONE and (more.out or more.new):
            counts = branches.setdefault(branch, {})
            counts[more] = space.either(counts.get(more, NONE), variants)

    for apart in ways.apart():
        tally, extra = apart.tally, {0: apart.variants}
        if apart.then is not None:
            tally = _gone_through(apart.tally, apart.usual, apart.then)
            extra = again.get(apart.branch, extra)
            known[apart.branch] = space.either(known.get(apart.branch, NONE), apart.variants)
        for new, variants in extra.items():
            more = tally._replace(new=tally.new + new).more_than(apart.usual)
            note(apart.branch, more, space.both(variants, apart.variants))
    for branch, extra in again.items():
        for new, variants in extra.items():
            for usual, others in ways.good.items():
                here = space.without(space.both(variants, others), known.get(branch, NONE))
                note(branch, usual._replace(new=usual.new + new).more_than(usual), here)
    return branches


def _again(survey: Survey, thing: Part | Fastener | Line, entries: list[Entry]) -> _Extra:
    """Return what goes in new a second time, since a `back-to` leads to before it."""
    space, fitted, found = survey.space, list[tuple[int, int, VariantSet]](), dict[Branch, dict[int, VariantSet]]()
    for entry in entries:
        renews = isinstance(entry.step.action, Replace) or (
            isinstance(entry.step.action, Install) and entry.step.action.new
        )
        for move in survey.moves(thing.key, entry, ()) if renews else ():
            new = taken_by(entry.step.action, move, thing).new
            fitted += [(survey.places[entry.order], new, move.variants)] if new else []
    for again in survey.rounds() if fitted else ():
        sums = {0: again.variants}
        for place, new, variants in fitted:
            if again.first <= place <= again.last:
                more: dict[int, VariantSet] = {}
                for before, held in sums.items():
                    for now, here in (
                        (before + new, space.both(held, variants)),
                        (before, space.without(held, variants)),
                    ):
                        if here != NONE:
                            more[now] = space.either(more.get(now, NONE), here)
                sums = more
        of_branch = found.setdefault(again.branch, {})
        for new, variants in sums.items():
            of_branch[new] = space.either(of_branch.get(new, NONE), variants)
    return found


def _gone_through(tally: _Tally, usual: _Tally, then: _Tally) -> _Tally:
    """Return a tally with which a `back-to` led away, when the job has been gone through to its end after that."""
    new = usual.new + tally.new - then.new
    return _Tally(max(tally.empty, usual.empty), tally.places | usual.places, usual.missing, new)


def _taken(tally: _Tally, action: Action, move: Moved, thing: Part | Fastener | Line) -> _Tally:
    """Return a tally after one entry."""
    step = taken_by(action, move, thing)
    return _Tally(max(tally.empty, step.peak), tally.places | step.places, move.after.out, tally.new + step.new)


class Taken(NamedTuple):
    """What one entry counts for."""

    peak: int
    """Places that are empty in the midst of it, when it takes something off."""
    places: frozenset[int]
    """The named ones among them."""
    new: int
    """New pieces that go in."""


def taken_by(action: Action, move: Moved, thing: Part | Fastener | Line) -> Taken:
    """Return what one entry that names a thing counts for, by how it moved it."""
    before, after = move.before, move.after
    if isinstance(action, Replace) and after.renew <= before.renew:
        return _replaced(action, before, thing)
    off = after.out > before.out
    places = frozenset(number for number, how in enumerate(after.places) if how == "out" and off)
    new = before.renew - after.renew
    if isinstance(action, Install) and action.new:
        new = before.out - after.out
    return Taken(after.out if off else 0, places, max(0, new))


def _replaced(action: Replace, before: Pieces, thing: Part | Fastener | Line) -> Taken:
    """Off, and new ones on, in one go: the pieces come off that are in, and those go in that were out."""
    whole = thing.count if isinstance(thing, Fastener) else 1
    inside = before.tight + before.loose
    at = chosen(thing, action.at) if isinstance(thing, Fastener) else ()
    if at and before.places:
        inside = sum(before.places[number] != "out" for number in at)
    taken = min(inside if action.count is None else action.count, inside)
    out = before.out + taken
    places = at or tuple(number for number, how in enumerate(before.places) if how != "out")[:taken]
    return Taken(out if taken else 0, frozenset(places), min(whole if action.count is None else action.count, out))
