"""Walks through jobs on the page: at each step of each walk, the page says what the ledger of that walk alone says."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.sheet import sheet_of
from putback.sheet.tracked.standing import stands
from tests.bench_js.machinery import HARNESS, HERE, MACHINERY
from tests.bench_js.test_in_node import in_node
from tests.laws.drawing import guides, read
from tests.sheet.tracked import test_walks as on_data
from tests.sheet.tracked.reader import Reader
from tests.sheet.tracked.test_walks import Followed, every_choice
from tests.sheet.tracked.walking import account_of, states_after

ROOT = Path(__file__).parents[2]
GUIDES = sorted(path.parent for path in (ROOT / "procedures").glob("*/guide.yaml"))
WALKS = 3
"""Walks of each shipped job."""
MACHINES = 150
"""Random guides."""


class Told(Reader):
    """Writes down what is done on the page, instead of looking anything up."""

    events: list[dict[str, Any]]

    def __init__(self, data: dict[str, Any], chosen: dict[str, str]) -> None:
        super().__init__(data, chosen)
        self.events = []

    def tick(self, moment: int) -> None:
        self.events.append({"tick": moment})

    def answer(self, question: int, *, yes: bool) -> None:
        self.events.append({"answer": question, "yes": yes})

    def go_back(self, moment: int) -> None:
        """On the page, the tick has done it."""


@dataclass
class Walked:
    """Jobs, and walks through them, as `walks.js` takes them."""

    jobs: list[Any] = field(default_factory=list)
    walks: list[Any] = field(default_factory=list)

    def add(self, opened: Opened, random: Random, times: int) -> None:
        """Walk through each job of a guide."""
        choices = every_choice(opened)
        for job in opened.guide.jobs.values():
            if opened.book_of(job) is None or sheet_of(job, opened) is None or not choices:
                continue
            page = OnPage(opened, job)
            if page.data is None:
                continue
            self.jobs.append(page.data)
            for _ in range(times):
                chosen, page.told = random.choice(choices), []
                with patch.object(on_data, "Reader", Told):
                    page.go(chosen, random)
                self.walks.append({"job": len(self.jobs) - 1, "chosen": chosen, "events": page.told})

    def script(self, place: Path, then: str) -> Path:
        """Write them as a script that ends with a call."""
        place.write_text(f"var JOBS = {json.dumps(self.jobs)}, WALKS = {json.dumps(self.walks)};\n", "utf-8")
        call = place.with_suffix(".then.js")
        call.write_text(then, "utf-8")
        return call


class OnPage(Followed):
    """A walk, with what its ledger says is off after each step."""

    told: list[dict[str, Any]]

    def compare(self, reader: Any, line: Any, number: int, machine: Any, done: Any) -> None:
        del done
        known = {account_of(each["kind"], each["key"]): each for each in reader.data["things"]}
        off = {}
        for account, state in states_after(line, number, machine):
            if account not in known:
                continue
            thing = known[account]
            how = stands(
                self.book.graph.machine.things.get(thing["key"]) if thing["kind"] != "equipment" else None, state
            )
            if not how.closed:
                off[f"{thing['kind']} {thing['key']}"] = {
                    "is": how.how.value, "closed": False, "n": how.pieces, "loose": how.loose, "at": how.at or 0,
                    "places": how.places,
                }  # fmt: skip
        reader.events.append({"off": off})
        self.told = reader.events


@pytest.fixture(scope="module")
def shipped() -> Walked:
    """Walks of all shipped jobs."""
    found = Walked()
    for folder in GUIDES:
        found.add(open_guide(read_guide(folder)), Random(folder.name), WALKS)
    return found


def wrong(walked: Walked, folder: Path, *scripts: str, then: str) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with the page on these walks."""
    data = folder / "walks.js"
    call = walked.script(data, then)
    results = in_node(*MACHINERY, *HARNESS, data, *(HERE / script for script in scripts), call)
    assert results
    yield from ((name, error) for name, error in results if error)


def test_page_says_what_the_ledger_says_on_every_walk_of_a_shipped_job(shipped: Walked, tmp_path: Path) -> None:
    assert len(shipped.walks) > 100
    assert any("laps" in thing for job in shipped.jobs for thing in job["things"])
    assert any(job["joins"] for job in shipped.jobs)
    assert list(wrong(shipped, tmp_path, "walks.js", then="walkAll();")) == []


def test_page_says_what_the_ledger_says_on_random_machines(tmp_path: Path) -> None:
    found = Walked()

    @settings(max_examples=MACHINES, derandomize=True, database=None, deadline=None,
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(guides(), st.randoms(use_true_random=False))
    def gathered(drawn: Any, random: Random) -> None:
        found.add(open_guide(read(*drawn)[0]), random, 3)

    gathered()
    assert len(found.walks) > MACHINES
    assert list(wrong(found, tmp_path, "walks.js", then="walkAll();")) == []


def test_a_page_that_says_something_else_is_seen(shipped: Walked, tmp_path: Path) -> None:
    place = next(n for n, walk in enumerate(shipped.walks) if any(event.get("off") for event in walk["events"]))
    walk = json.loads(json.dumps(shipped.walks[place]))
    event = next(event for event in walk["events"] if event.get("off"))
    event["off"].popitem()
    assert list(wrong(Walked(shipped.jobs, [walk]), tmp_path, "walks.js", then="walkAll();"))


LAWS = """
JOBS.forEach(function (job, place) {
  check("good way of " + job.guide + ", " + job.job, () => goodWay(job, place + 1));
  check("any way of " + job.guide + ", " + job.job, () => anyWay(job, 7 * place + 1));
});
"""


def test_every_shipped_job_can_be_worked_through_and_whatever_is_done_raises_nothing(
    shipped: Walked, tmp_path: Path
) -> None:
    assert list(wrong(shipped, tmp_path, "laws.js", then=LAWS)) == []
