"""The sheets of the shipped guides: what they say to a variant is what that variant does, walked alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.following import tightened_in
from putback.ledger.opened import Opened, open_guide
from putback.model.machine import Fastener
from putback.model.states import GroupState, LineState, PartState, State
from putback.model.verbs.pieces import Install, Replace, Tighten
from putback.sheet import JobSheet, sheet_of
from putback.variants import NONE, Choice, VariantSet
from tests.test_laws_printed import is_met

ROOT = Path(__file__).parents[2]
GUIDES = sorted(path.parent.name for path in ROOT.glob("procedures/*/guide.yaml"))


@cache
def shipped(name: str) -> Opened:
    return open_guide(read_guide(ROOT / "procedures" / name))


def variants(guide: Guide) -> Iterator[dict[str, str]]:
    """Yield variants so that each choice of each option that can be built is in one."""
    opened = open_guide(guide)
    assert opened.graph is not None
    space = opened.graph.space
    for option in space.declared:
        for choice in space.choices_of(option):
            if space.possible(option, choice):
                found = {option: choice}
                for other in space.declared:
                    choices = [each for each in space.choices_of(other) if built(opened, found, other, each)]
                    found.setdefault(other, choices[0] if choices else choice)
                yield found


def built(opened: Opened, chosen: dict[str, str], option: str, choice: str) -> bool:
    assert opened.graph is not None
    space = opened.graph.space
    return space.both(space.built, space.cube((*chosen.items(), (option, choice)))) != NONE


CASES = [
    pytest.param(name, tuple(variant.items()), id=f"{name}-{'-'.join(variant.values())}")
    for name in GUIDES
    for variant in {tuple(each.items()): each for each in variants(shipped(name).guide)}.values()
]


@pytest.mark.parametrize(("name", "choice"), CASES)
def test_a_sheet_says_to_a_variant_what_that_variant_does(name: str, choice: Choice) -> None:
    together, variant = shipped(name), dict(choice)
    alone = open_guide(together.guide, choice)
    for job in together.guide.jobs.values():
        sheet, own, book = sheet_of(job, together), sheet_of(job, alone), alone.book_of(job)
        assert sheet is not None
        assert own is not None
        assert book is not None
        assert printed(sheet, variant) == printed(own, variant)
        assert all(row.when is None for row in own.count_back)
        assert all(row.when is None for row in own.set_up.tools)
        rows = {row.thing.key: (row.out, row.back, row.new) for row in own.count_back if not row.only_if}
        assert rows == counted(book)
        new = {row.thing.key: row.count for row in own.set_up.parts if not row.only_if}
        assert new == {key: count[2] for key, count in counted(book).items() if count[2]}
        # What a follow-up of the job tightens is not printed once more.
        steps = tightened_in(job.later, together.guide.library.blocks) if job.later else frozenset[str]()
        due = {key: count for key, count in tightened(book).items() if key not in steps}
        assert {row.thing.key: row.count for row in own.follow_ups if not row.only_if} == due


def printed(sheet: JobSheet, variant: dict[str, str]) -> dict[str, Sequence[object]]:
    """Return what stands on a sheet for a variant."""
    set_up = sheet.set_up
    texts = {id(step): step for section in sheet.sections if is_met(section.when, variant) for step in section.steps}
    steps = [step for step in texts.values() if is_met(step.when, variant)]
    return {
        # In the order in which some variant comes to them.
        "count back": sorted(
            (row.thing.key, row.out, row.back, row.new, len(row.only_if))
            for row in sheet.count_back
            if is_met(row.when, variant)
        ),
        "parts": sorted(
            (row.thing.key, row.count, len(row.only_if)) for row in set_up.parts if is_met(row.when, variant)
        ),
        # The fewest wrenches for all variants can be others than the fewest for one.
        "tools": sorted(row.what for row in set_up.tools if is_met(row.when, variant) and "torque" not in row.what),
        "consumables": sorted(row.what for row in set_up.consumables if is_met(row.when, variant)),
        "equipment": sorted(row.what for row in set_up.equipment if is_met(row.when, variant)),
        "fluids": sorted((row.what[0].key, str(row.what[1])) for row in set_up.fluids if is_met(row.when, variant)),
        "first": [(row.what[0].key, row.what[1]) for row in set_up.positions if is_met(row.when, variant)],
        "follow-ups": [
            (row.thing.key, row.count, str(row.torque)) for row in sheet.follow_ups if is_met(row.when, variant)
        ],
        "steps": [step.step.key for step in steps],
        "licensed": [row.what.key for row in set_up.licensed if is_met(row.when, variant)],
        "cautions": sorted(row.what.key for row in set_up.cautions if is_met(row.when, variant)),
        "wear": sorted(row.what for row in set_up.wear if is_met(row.when, variant)),
    }


def pieces(state: State) -> list[int]:
    """Return how many pieces are out; nothing for what has none."""
    match state:
        case PartState(on=on):
            return [int(not on)]
        case GroupState(out=out):
            return [out]
        case LineState(open=ends):
            return [int(bool(ends))]
        case _:
            return []


def counted(book: Book) -> dict[str, tuple[int, int, int]]:
    """Count what one variant takes off and puts back when all is good, entry after entry."""
    most, missing, new = Counter[str](), Counter[str](), Counter[str]()
    for entry in on_the_good_way(book):
        name = entry.target.name if entry.target else ""
        thing = book.graph.machine.things.get(name)
        before = [out for variants, state in book.before(name, entry) if good(book, variants) for out in pieces(state)]
        after = [out for variants, state in book.after(name, entry) if good(book, variants) for out in pieces(state)]
        if not before:
            continue
        missing[name] = after[0]
        whole = thing.count if isinstance(thing, Fastener) else 1
        match entry.step.action:
            case Replace() as action:
                most[name], new[name] = max(most[name], action.count or whole), new[name] + (action.count or whole)
            case Install(new=True):
                new[name] += before[0] - after[0]
            case _:
                most[name] = max(most[name], before[0], after[0])  # the job before may have left it off
    found: dict[str, tuple[int, int, int]] = {}
    for name in {*most, *new}:
        out = max(most[name], new[name])
        found[name] = (out, out - missing[name], new[name])
    return {name: count for name, count in found.items() if any(count)}


def tightened(book: Book) -> dict[str, int]:
    """Count the pieces of settling joints that one variant tightens after the joint was open."""
    opened, found = set[str](), Counter[str]()
    for entry in on_the_good_way(book):
        name = entry.target.name if entry.target else ""
        thing = book.graph.machine.things.get(name)
        if not isinstance(thing, Fastener) or thing.retighten_after is None:
            continue
        [before] = [state for variants, state in book.before(name, entry) if good(book, variants)]
        assert isinstance(before, GroupState)
        if before.out or not before.tight:
            opened.add(name)
        if isinstance(entry.step.action, Tighten) and name in opened:
            found[name] = min(thing.count, found[name] + (entry.step.action.count or thing.count))
    return dict(found)


def good(book: Book, variants: VariantSet) -> bool:
    """Tell whether this is so when every inspection is good."""
    return book.graph.space.answered(variants) != NONE


def on_the_good_way(book: Book) -> Iterator[Entry]:
    return (entry for entry in book.entries if not entry.again and good(book, entry.variants))
