"""The page of a job in greasy hands: where "next" leads, what the list says first, what a phone has room for."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.browser.conftest import ROOT, made
from tests.browser.devtools import Browser
from tests.browser.hands import found, press_at, wait_until
from tests.browser.test_bench_page import PUMP, box, fresh, state, step, told

OFF = ".bench-row .bench-buttons button:nth-child(1)"

WARNED = """
PUTBACK_JOB.steps.find((step, at) => at > 5 && !step.up && !step.boxes && step.set === 1
  && document.getElementById(step.id).previousElementSibling?.matches(".panel-warning"))
"""
"""A step that a warning stands before."""


def seen(browser: Browser, element: str) -> bool:
    """Return whether the first lines of an element are in sight, above the bar."""
    top, bar = browser.run(
        f"[{element}.getBoundingClientRect().top, document.querySelector('.bench-bar').getBoundingClientRect().top]"
    )
    return bool(0 <= top < bar - 40)


def settled(browser: Browser) -> None:
    """Wait until the page no longer moves."""
    browser.run(
        "new Promise(done => { let at = NaN; (function look() {"
        " if (at === scrollY) return done(); at = scrollY; setTimeout(look, 120); })(); })"
    )


def step_key(browser: Browser, number: str) -> str:
    """Return the key of a step by its printed number."""
    key: str = browser.run(f"PUTBACK_JOB.steps.find(step => step.n === {number!r}).key")
    return key


def tick_before(browser: Browser, key: str) -> None:
    """Tick all steps that stand before a step and in no branch."""
    before = f"PUTBACK_JOB.steps.slice(0, PUTBACK_JOB.steps.findIndex(step => step.key === {key!r}))"
    browser.run(f"{before}.forEach(({{key, up}}) => up || Putback.bench.tick(key, true))")


@pytest.mark.parametrize("width", [390, 1400])
def test_next_leads_to_the_warning_before_the_step(browser: Browser, job: Path, width: int) -> None:
    fresh(browser, job, width)
    key, number = browser.run(f"(step => [step.key, step.n])({WARNED})")
    tick_before(browser, key)
    assert state(browser, "next") == key
    press_at(browser, ".bench-next")
    settled(browser)
    place = f"document.getElementById('{PUMP}{number}')"
    assert seen(browser, f"{place}.previousElementSibling")
    assert browser.run(f"{place}.contains(document.activeElement)") is True
    # Where both are higher than the screen, the next press leads to the step.
    press_at(browser, ".bench-next")
    settled(browser)
    assert seen(browser, place)


def test_next_passes_over_nothing_that_the_machine_may_need(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    assert step(browser, "8")["here"] == "perhaps", "nobody has said which machine it is"
    press_at(browser, box("7"))
    assert browser.run(found(".bench-next") + ".textContent") == "Next: 8"
    before = state(browser, "of")
    press_at(browser, box("8"))
    assert (state(browser, "done"), state(browser, "of")) == (2, before + 1)
    # Who has gone on past it is not led back: it may be for another machine.
    press_at(browser, box("8"))
    press_at(browser, box("20"))
    assert step(browser, "8")["skipped"] is False
    while (key := state(browser, "next")) is not None and key != step_key(browser, "1"):
        browser.run(f"Putback.bench.tick({key!r}, true)")
    assert key == step_key(browser, "1")


@pytest.fixture(scope="module")
def diesel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the HTML of a guide that does steps for each cylinder."""
    place = tmp_path_factory.mktemp("diesel")
    guide = place / "procedures" / "tarrick-d2"
    shutil.copytree(ROOT / "procedures" / "tarrick-d2", guide, ignore=shutil.ignore_patterns("build"))
    shutil.copytree(ROOT / "shared", place / "shared")
    return made(guide, place / "out")


def test_next_says_at_which_cylinder_one_goes_on(browser: Browser, diesel: Path) -> None:
    fresh(browser, diesel / "jobs" / "valve-clearances.html", 390)
    tick_before(browser, step_key(browser, "17"))
    for number, place in (("17a", 1), ("17b", 1), ("17c", 1), ("17d", 1), ("17a", 2)):
        assert browser.run(found(".bench-next") + ".textContent") == f"Next: {number} ({place})"
        browser.run(f"Putback.bench.box({step_key(browser, number)!r}, {place - 1}, true)")
        if number == "17d":
            press_at(browser, ".bench-next")
            second = "document.querySelectorAll('#valve-clearances-step-17a > .step-body .grid input')[1]"
            wait_until(browser, f"document.activeElement === {second}")


def test_what_goes_back_next_stands_first(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    tick_before(browser, step_key(browser, "50"))
    press_at(browser, OFF)
    rows = "[...document.querySelectorAll('.bench-list li')]"
    last = f"{rows}.map(row => [...row.querySelectorAll('a')].pop().hash.slice(1))"
    order = browser.run(f"{last}.map(id => PUTBACK_JOB.steps.findIndex(step => step.id === id))")
    assert len(order) > 10
    assert order == sorted(order)
    told = "[...document.querySelectorAll('.bench-where')].flatMap(it => [...it.childNodes].map(each => each.nodeName))"
    assert set(browser.run(told)) == {"SPAN"}, "what is told of a thing stands apart"


def test_a_phone_on_its_side_has_room_for_what_is_off(browser: Browser, job: Path) -> None:
    fresh(browser, job, 844)
    browser.send("Emulation.setDeviceMetricsOverride", width=844, height=390, deviceScaleFactor=1, mobile=True)
    press_at(browser, box("3"))
    press_at(browser, OFF)
    row, bar = browser.run(
        "[document.querySelector('.bench-list li'), document.querySelector('.bench-row')]"
        ".map(it => it.getBoundingClientRect())"
        ".map((it, at) => at ? it.top : it.bottom)"
    )
    assert row <= bar
    browser.run(f"Putback.bench.answer({step_key(browser, '5')!r}, 0)")
    assert "the job ends" in told(browser)
    assert browser.run("document.querySelector('.bench-bar').offsetHeight < 0.8 * innerHeight")


def test_the_button_that_closes_a_message_is_not_broken(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    browser.run(f"Putback.bench.read({step_key(browser, '58')!r}, 0, '0.4')")
    assert "58a" in told(browser)
    one, close = browser.run(f"[{found('.bench-next')}, {found('.bench-close')}].map(it => it.offsetHeight)")
    assert close == one


def test_where_the_job_stops_nobody_is_sent_to_sign_off(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    first = browser.run("PUTBACK_JOB.steps.findIndex(step => step.kind === 'stop')")
    tick_before(browser, browser.run(f"PUTBACK_JOB.steps[{first}].key"))
    browser.run(f"Putback.bench.answer(PUTBACK_JOB.steps[PUTBACK_JOB.steps[{first}].up[0]].key, 0)")
    assert "the job ends" in told(browser)
    browser.run(f"Putback.bench.tick(PUTBACK_JOB.steps[{first}].key, true)")
    assert state(browser, "next") is None
    assert "sign off" not in told(browser)


def test_what_was_told_goes_when_somebody_goes_on_but_not_that_the_job_stops(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    browser.run(f"Putback.bench.read({step_key(browser, '58')!r}, 0, '0.4')")
    assert "58a" in told(browser)
    browser.run("Putback.bench.note('as it was')")
    assert "58a" in told(browser), "nobody has gone on"
    press_at(browser, box("58a"))
    assert told(browser) == ""
    browser.run(f"Putback.bench.answer({step_key(browser, '5')!r}, 0)")
    assert "the job ends" in told(browser)
    press_at(browser, box("1"))
    assert "the job ends" in told(browser)


def test_what_was_brought_to_the_machine_goes_away_and_not_back(browser: Browser, diesel: Path) -> None:
    fresh(browser, diesel / "jobs" / "valve-clearances.html", 390)
    browser.run(f"Putback.bench.tick({step_key(browser, '1')!r}, true)")
    press_at(browser, OFF)
    row = browser.run(found(".bench-list li") + ".innerText")
    assert "tag" in row
    assert "goes away at step 46" in row
