"""Walks on the pages of jobs in Chromium: after each tick, the page says what the ledger of that walk alone says.

The boxes of the page are pressed, and its panel is read. What is answered is told to the page: numbers would say it
for some steps, and buttons for others.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from tests.bench_js.test_walks import GUIDES, Walked
from tests.browser.conftest import ROOT, made, missing
from tests.browser.devtools import Browser, find_chromium

WALKS = 2
"""Walks on each page."""

WALK = """
(function (walk) {
  const job = PUTBACK_JOB, bench = Putback.bench;
  document.querySelector("#bench-off").hidden = false;
  for (const option of Object.keys(walk.chosen)) bench.choose(option, walk.chosen[option]);
  const stateOf = (step) => bench.state().steps[job.steps[step].key];
  const wrong = [];

  function press(box, what) {
    if (!box) wrong.push(what + " has no box");
    else if (!box.checked) box.click();
  }

  function answer(event) {
    const { step, also, branch, box } = job.questions[event.answer];
    const here = [step, ...(also || [])].find((each) => stateOf(each).here !== "no") || step;
    const at = box === undefined ? null : box;
    const { branches } = stateOf(here).answers.find((each) => each.box === at);
    if (event.yes) bench.answer(job.steps[here].key, branch, at);
    else if (branches === null) bench.answer(job.steps[here].key, "good", at);
  }

  function tick(event) {
    const [number, ...boxes] = job.moments[event.tick];
    const step = job.steps[number], it = document.getElementById(step.id);
    if (it.hidden || it.closest("[hidden]")) wrong.push(step.n + " cannot be seen");
    if (!step.boxes) return press(it.querySelector(":scope > .tick > input"), step.n);
    const places = it.querySelectorAll(":scope > .step-body .grid input");
    for (const box of boxes) press(places[box], step.n);
  }

  function compare(event, place) {
    const off = bench.state().off;
    const found = {};
    for (const each of off)
      found[each.kind + " " + each.key] = each.states.map((value) => [value.is, value.n || 0, value.places || []]);
    const wanted = {};
    for (const key of Object.keys(event.off))
      wanted[key] = [[event.off[key].is, event.off[key].n, event.off[key].places]];
    const sorted = (all) => JSON.stringify(Object.keys(all).sort().map((key) => [key, all[key]]));
    if (sorted(found) !== sorted(wanted)) wrong.push(place + ": " + sorted(found) + " and not " + sorted(wanted));
    const rows = document.querySelectorAll("#bench-off .bench-list > li").length;
    if (rows !== off.length) wrong.push(place + ": the panel has " + rows + " rows, and " + off.length + " are off");
  }

  walk.events.forEach((event, place) => {
    if (event.off) compare(event, place);
    else if (event.answer !== undefined) answer(event);
    else tick(event);
  });
  return JSON.stringify(wrong.slice(0, 5));
})
"""


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Start one browser: letters do not matter here."""
    program = find_chromium()
    if program is None:
        missing("chromium")
    running = Browser(program)
    yield running
    running.close()


@pytest.fixture(scope="module", params=GUIDES, ids=lambda folder: folder.name)
def walked(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Walked]:
    """Make the pages of a guide, and walks through its jobs."""
    place = tmp_path_factory.mktemp("walks")
    guide = place / "procedures" / request.param.name
    shutil.copytree(request.param, guide, ignore=shutil.ignore_patterns("build"))
    shutil.copytree(ROOT / "shared", place / "shared")
    walks = Walked()
    walks.add(open_guide(read_guide(guide)), Random(guide.name), WALKS)
    return made(guide, place / "out"), walks


def test_the_page_says_what_the_ledger_says_after_each_tick(walked: tuple[Path, Walked], chromium: Browser) -> None:
    pages, walks = walked
    wrong: dict[str, Any] = {}
    for number, walk in enumerate(walks.walks):
        job = walks.jobs[walk["job"]]["job"]
        chromium.open(pages / "jobs" / f"{job}.html", 820)
        chromium.run("localStorage.clear(); sessionStorage.clear()")
        chromium.open(pages / "jobs" / f"{job}.html", 820)
        found = json.loads(chromium.run(f"{WALK}({json.dumps(walk)})"))
        if found:
            wrong[f"walk {number} of {job}"] = found
    assert len(walks.walks) >= len(walks.jobs)
    assert wrong == {}


def test_a_page_that_says_something_else_is_seen(walked: tuple[Path, Walked], chromium: Browser) -> None:
    pages, walks = walked
    walk = next(walk for walk in walks.walks if any(event.get("off") for event in walk["events"]))
    told = next(event for event in walk["events"] if event.get("off"))
    other = {"off": dict(list(told["off"].items())[1:])}
    chromium.open(pages / "jobs" / f"{walks.jobs[walk['job']]['job']}.html", 820)
    chromium.run("localStorage.clear(); sessionStorage.clear()")
    chromium.open(pages / "jobs" / f"{walks.jobs[walk['job']]['job']}.html", 820)
    events = [other if event is told else event for event in walk["events"]]
    [found] = json.loads(chromium.run(f"{WALK}({json.dumps({**walk, 'events': events})})"))
    assert "and not" in found
