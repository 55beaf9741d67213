"""At every step of every walk, the data of a page say what the ledger says of one machine on that walk alone."""

from __future__ import annotations

from itertools import product, zip_longest
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.model.machine import Fastener, Line, Part
from putback.sheet import sheet_of
from putback.sheet.scoped import scoped
from putback.sheet.tracked import tracked
from putback.sheet.tracked.moments import Moments
from putback.sheet.tracked.standing import stands
from putback.sphinxext.tracked import data_of
from putback.variants import NONE
from putback.words import catalogue
from tests.laws.drawing import guides, read
from tests.sheet.tracked.reader import Reader
from tests.sheet.tracked.walking import Happened, Walk, account_of, counted, in_line, states_after
from tests.test_laws import MANY
from tests.test_laws_again import looping_jobs

GUIDES = sorted(path.parent for path in Path("procedures").glob("*/guide.yaml"))
WALKS = 4
"""Walks of each shipped job."""


class Followed:
    """A walk on the page of a job: what happens is ticked, answered, and held against the ledger of that walk."""

    def __init__(self, opened: Opened, job: Job) -> None:
        sheet, book = sheet_of(job, opened), opened.book_of(job)
        assert sheet is not None
        assert book is not None
        words = catalogue(opened)
        self.opened, self.job, self.book = opened, job, book
        self.sheet = scoped(sheet, words.only_when)
        self.ledger = tracked(job, self.sheet, opened)
        self.data = data_of(job, self.sheet, opened, words)
        orders = [order for top in book.program.orders for order in top.walk()]
        self.moments = Moments(book, self.sheet, orders)
        self.of_entry: dict[tuple[int, str], set[int]] = {}
        for entry in book.entries:
            key = (entry.order, entry.target.name if entry.target else "")
            self.of_entry.setdefault(key, set()).update(self.moments.of[entry.index])

    def question(self, asked: Happened) -> int:
        assert self.ledger is not None
        places = {place for (_, number), place in self.book.questions.items() if number == asked.order.number}
        return next(n for n, each in enumerate(self.ledger.questions) if places & {place for _, place in each.by_lap})

    def go(self, chosen: dict[str, str], random: Random) -> None:
        """Take one walk."""
        assert self.data is not None
        space = self.book.graph.space
        machine = space.both(space.built, space.cube(tuple(chosen.items())))
        done = Walk(space, self.book.program, machine, random).go()
        line = in_line(self.opened, self.job, machine, done, self.book)
        reader, number = Reader(self.data, chosen), 0
        for happened, then in zip_longest(done, done[1:]):
            if happened.answer is not None:
                reader.answer(self.question(happened), yes=happened.answer)
                continue
            moments = self.moments_of(happened, reader)
            for moment in moments:
                reader.tick(moment)
            number += 1
            goes_on = then is not None and then.order is happened.order and then.answer is None
            if moments and not goes_on:  # a step on several things is ticked when all of them are done
                self.compare(reader, line, number, machine, done[:number])
            if happened.back:
                reader.go_back(max(moments))
                self.compare(reader, line, number, machine, done[:number])

    def moments_of(self, happened: Happened, reader: Reader) -> list[int]:
        found = self.of_entry.get((happened.order.number, happened.target), set())
        steps, moments = reader.data["steps"], reader.data["moments"]
        return sorted(each for each in found if reader.holds(steps[moments[each][0]]["set"]) == "yes")

    def compare(self, reader: Reader, line: Any, number: int, machine: Any, done: list[Happened]) -> None:
        known = {account_of(each["kind"], each["key"]): each for each in reader.data["things"]}
        things = self.book.graph.machine.things
        for account, state in states_after(line, number, machine):
            name = account.rpartition(" ")[2]
            thing = things.get(name) if not account.startswith("equipment") else None
            meant = _plain(stands(thing, state))
            if isinstance(thing, Part | Fastener | Line) and account == name and account in known:
                assert reader.counted(known[account]) == counted(line, thing, number, machine), (account, done[-1])
            if account in known:
                assert [_bare(each, self) for each in reader.stands(known[account])] == [meant], (account, done[-1])
            else:
                assert meant["closed"], account


def _plain(how: Any) -> dict[str, Any]:
    return {
        "is": how.how.value, "closed": how.closed, "n": how.pieces, "loose": how.loose, "at": how.at or 0,
        "places": how.places,
    }  # fmt: skip


def _bare(value: dict[str, Any], _of: Followed) -> dict[str, Any]:
    found = {name: value.get(name, 0) for name in ("is", "closed", "n", "loose", "at")}
    return found | {"places": tuple(value.get("places", ()))}


def every_choice(opened: Opened) -> list[dict[str, str]]:
    graph = opened.graph
    assert graph is not None
    options = graph.machine.options
    found = [dict(zip(options, choices, strict=True)) for choices in product(*options.values())]
    space = graph.space
    return [each for each in found if space.both(space.built, space.cube(tuple(each.items()))) != NONE]


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_page_says_what_the_ledger_says_on_every_walk_of_a_shipped_job(folder: Path) -> None:
    opened, random = open_guide(read_guide(folder)), Random(folder.name)
    choices = every_choice(opened)
    for job in opened.guide.jobs.values():
        walk = Followed(opened, job)
        for _ in range(WALKS):
            walk.go(random.choice(choices), random)


@MANY
@given(guides(), st.randoms(use_true_random=False))
def test_page_says_what_the_ledger_says_on_random_machines(drawn: Any, random: Random) -> None:
    walked_at_random(read(*drawn)[0], random)


@MANY
@given(looping_jobs(), st.randoms(use_true_random=False))
def test_page_says_what_the_ledger_says_wherever_a_job_goes_back(drawn: Any, random: Random) -> None:
    machine, steps = drawn
    walked_at_random(read(machine, steps, {})[0], random)


def walked_at_random(guide: Guide, random: Random) -> None:
    opened = open_guide(guide)
    choices = every_choice(opened)
    for job in opened.guide.jobs.values():
        if opened.book_of(job) is None or sheet_of(job, opened) is None or not choices:
            continue
        walk = Followed(opened, job)
        if walk.data is not None:
            for _ in range(3):
                walk.go(random.choice(choices), random)


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_what_depends_on_an_option_that_nobody_chose_is_among_what_the_page_says(folder: Path) -> None:
    opened, random = open_guide(read_guide(folder)), Random(folder.name)
    choices = every_choice(opened)
    for job in opened.guide.jobs.values():
        data = Followed(opened, job).data
        assert data is not None
        unsure, sure = Reader(data, {}), [Reader(data, random.choice(choices)) for _ in range(3)]
        for moment in range(random.randint(0, len(data["moments"]))):
            for reader in (unsure, *sure):
                reader.tick(moment)
        for thing in data["things"]:
            said = unsure.stands(thing)
            for reader in sure:
                [stands] = reader.stands(thing)
                assert stands in said, (job.path, thing["key"])
                assert said == [stands] or data["options"], (job.path, thing["key"])
