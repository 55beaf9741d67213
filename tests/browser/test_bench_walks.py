"""Random walks through every shipped job, in the page: after each step it says what the ledger of that walk says.

`tests/bench_js/test_walks.py` takes many more of them, without a page.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from tests.bench_js.test_walks import GUIDES, Walked
from tests.browser.conftest import ROOT, made, started
from tests.browser.devtools import Browser
from tests.browser.faces import SHIPPED

WALK = """
(({chosen, events}) => {
  const job = PUTBACK_JOB, page = Putback.bench;
  const bare = ({is, closed, n, loose, at, places}) =>
    ({is, closed, n: n || 0, loose: loose || 0, at: at || 0, places: places || []});
  const known = step => page.state().steps[job.steps[step].key];
  const press = (it, what) => {
    if (!it) throw new Error(what + " is not there");
    if (!it.checkVisibility()) throw new Error(what + " cannot be seen");
    it.click();
  };
  const at = step => document.getElementById(job.steps[step].id);
  page.newSheet("");
  job.options.forEach((option, place) => {
    const group = document.querySelectorAll(".bench-machine fieldset")[place];
    const choice = option.choices.findIndex(each => each.key === chosen[option.key]);
    group.querySelectorAll("input")[choice < 0 ? option.choices.length : choice].click();
  });
  const wrong = [];
  events.forEach((event, place) => {
    const told = `event ${place} ${JSON.stringify(event)}`;
    if (event.tick !== undefined) {
      const [step, ...boxes] = job.moments[event.tick];
      const grid = [...at(step).querySelectorAll(":scope > .step-body .grid input")];
      if (!grid.length) {
        const box = at(step).querySelector(":scope > .tick input");
        if (!box.checked) press(box, told);
      } else for (const box of boxes) if (!grid[box].checked) press(grid[box], told);
    } else if (event.answer !== undefined) {
      const {step, also, branch, box} = job.questions[event.answer];
      const here = [step, ...(also || [])].find(each => known(each).here !== "no") ?? step;
      const asked = box === undefined ? null : box;
      const {branches} = known(here).answers.find(each => each.box === asked);
      // A walk answers too what no such machine is asked.
      if (known(here).here !== "yes" && (!event.yes || known(here).why === "variant")) return;
      if (!event.yes && branches !== null) return;
      const groups = at(here).querySelectorAll(":scope > .step-body > .bench-answers");
      if (!groups.length) page.answer(job.steps[here].key, event.yes ? branch : "good", asked);
      else {
        const places = [...new Set(job.questions.filter(each => [each.step, ...(each.also || [])].includes(here))
          .map(each => each.box ?? null))];
        const buttons = groups[places.indexOf(asked)].querySelectorAll("button");
        press(buttons[event.yes ? branch + 1 : 0], told);
      }
    } else if (event.off) {
      const found = {}, wanted = {};
      for (const each of page.state().off) found[`${each.kind} ${each.key}`] = each.states.map(bare);
      for (const key of Object.keys(event.off)) wanted[key] = [bare(event.off[key])];
      const order = all => JSON.stringify(Object.entries(all).sort());
      if (order(found) !== order(wanted)) wrong.push([told, found]);
      const rows = document.querySelectorAll(".bench-panel li").length;
      if (rows !== Object.keys(wanted).length) wrong.push([told, `${rows} rows are shown`]);
    }
  });
  return wrong.slice(0, 3);
})
"""
"""Takes a walk by pressing what is on the page; returns where what it says is off differs from the ledger."""


@pytest.fixture(scope="module")
def tablet(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    yield from started(SHIPPED, tmp_path_factory)


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_the_page_says_what_the_ledger_says_on_random_walks(tablet: Browser, tmp_path: Path, folder: Path) -> None:
    guide = tmp_path / "procedures" / folder.name
    shutil.copytree(folder, guide, ignore=shutil.ignore_patterns("build"))
    shutil.copytree(ROOT / "shared", tmp_path / "shared")
    out = made(guide, tmp_path / "out")
    walked = Walked()
    walked.add(open_guide(read_guide(guide)), Random(f"{folder.name} on the page"), 1)
    assert walked.walks
    for walk in walked.walks:
        data = walked.jobs[walk["job"]]
        tablet.open(out / "jobs" / f"{data['job']}.html", 820)
        assert tablet.run("PUTBACK_JOB.digest") == data["digest"]
        tablet.run("document.querySelector('.bench-row .bench-buttons button').click()")
        tablet.run("document.querySelectorAll('.bench-machine').forEach(it => { it.open = true })")
        assert tablet.run(f"{WALK}({json.dumps(walk)})") == [], data["job"]
