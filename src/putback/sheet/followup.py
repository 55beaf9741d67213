"""What is tightened once more after running hours: fasteners that settle, whose joint was open in the job."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from putback.ledger.entries import Entry
from putback.ledger.following import tightened_in
from putback.model.job import Job
from putback.model.machine import Fastener
from putback.model.terms import When
from putback.model.verbs.pieces import Replace, Tighten
from putback.sheet.limits import Limits
from putback.sheet.survey import Branch, Moved, Survey
from putback.sheet.ways import Ways
from putback.units import Quantity
from putback.variants import NONE, VariantSet


@dataclass(frozen=True, slots=True, kw_only=True)
class FollowUp:
    """A group of fasteners to tighten once more."""

    thing: Fastener
    """What settles."""
    hours: Quantity
    """After how many running hours."""
    torque: Quantity | None
    """To which torque; None when an angle or the hand tightened it."""
    slacken: Quantity | None
    """How far each piece is loosened before; None when the machine file does not say so."""
    count: int
    """How many pieces the job tightened."""
    steps: tuple[str, ...]
    """Numbers of the first and the last step that did; one when it is the same."""
    when: When | None
    """The variants in which it is due; None for all."""
    only_if: tuple[str, ...] = ()
    """The steps of which only a branch tightened it; empty when it is due in any case."""


class _Tightened(NamedTuple):
    """What came of a joint so far."""

    opened: bool = False
    """Whether pieces were out, or none was tight: tightened in place one after the other, a joint stays as it was."""
    pieces: int = 0
    """Pieces that were tightened after that."""
    torque: Quantity | None = None
    """The last torque."""
    first: int = -1
    """The number of the first step that tightened it, in the program."""
    last: int = -1
    """The number of the last one."""


def follow_ups(survey: Survey, limits: Limits) -> Iterator[FollowUp]:
    """Yield a follow-up for each group with `retighten-after` that a job opens and tightens, and says no more of."""
    entries: dict[str, list[Entry]] = {}
    later = survey.book.sequence.later if isinstance(survey.book.sequence, Job) else None
    said = tightened_in(later, survey.book.library.blocks) if later else frozenset[str]()
    for entry in survey.entries:
        thing = survey.book.graph.machine.things.get(entry.target.name) if entry.target else None
        if not isinstance(thing, Fastener) or thing.retighten_after is None or thing.key in said:
            continue
        if isinstance(entry.step.action, Tighten) or survey.book.changed(thing.key, entry):
            entries.setdefault(thing.key, []).append(entry)
    for key, of_thing in entries.items():
        thing = survey.book.graph.machine.things[key]
        assert isinstance(thing, Fastener)
        yield from _of_group(survey, limits, thing, of_thing)


def _of_group(survey: Survey, limits: Limits, thing: Fastener, entries: list[Entry]) -> Iterator[FollowUp]:
    either = survey.space.either
    ways = Ways(survey, thing.key, _Tightened(), lambda tally, entry, move: _taken(tally, entry, move, thing))
    ways.follow(entries)
    always: dict[_Tightened, VariantSet] = {}
    for tally, variants in ways.good.items():
        if tally.pieces:
            always[tally] = either(always.get(tally, NONE), variants)
    for tally, variants in always.items():
        yield _row(limits, thing, tally, variants, [])
    of_branch: dict[tuple[Branch, _Tightened], VariantSet] = {}
    for way in ways.apart():
        more = way.tally.pieces > way.usual.pieces
        if more or (way.tally.pieces and way.tally.torque != way.usual.torque):
            key = way.branch, way.tally
            of_branch[key] = either(of_branch.get(key, NONE), way.variants)
    alike: dict[tuple[_Tightened, VariantSet], list[Branch]] = {}
    for (branch, tally), variants in of_branch.items():
        alike.setdefault((tally, variants), []).append(branch)
    for (tally, variants), branches in alike.items():
        yield _row(limits, thing, tally, variants, branches)


def _row(limits: Limits, thing: Fastener, tally: _Tightened, variants: VariantSet, branches: list[Branch]) -> FollowUp:
    assert thing.retighten_after is not None
    numbers = [limits.number_of(step, variants) for step in (tally.first, tally.last)]
    steps = tuple(dict.fromkeys(number for number in numbers if number))
    return FollowUp(
        thing=thing,
        hours=thing.retighten_after,
        slacken=thing.slacken,
        torque=tally.torque,
        count=tally.pieces,
        steps=steps,
        when=limits.condition(variants),
        only_if=limits.numbers_of(branches, variants),
    )


def _taken(tally: _Tightened, entry: Entry, move: Moved, thing: Fastener) -> _Tightened:
    """Return a tally after one entry."""
    action, before, after = entry.step.action, move.before, move.after
    tally = tally._replace(opened=tally.opened or any(pieces.out or not pieces.tight for pieces in (before, after)))
    inside = before.tight + before.loose
    if isinstance(action, Tighten):
        if action.is_stage(thing):
            return tally
        tightened = inside if action.count is None else min(action.count, inside)
        torque = None if thing.by_angle else action.shown(thing)
    elif isinstance(action, Replace) and not thing.turned and after.renew <= before.renew:
        tightened, torque = thing.count if action.count is None else action.count, None
    else:
        return tally
    if not tally.opened or not tightened:
        return tally
    count, first = min(thing.count, tally.pieces + tightened), entry.order if tally.first < 0 else tally.first
    return _Tightened(True, count, torque, first, entry.order)
