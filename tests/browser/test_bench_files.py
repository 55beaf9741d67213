"""Sheets of a job: several of them, as files, in another profile, in another folder, in two tabs."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.devtools import Browser
from tests.browser.hands import choose_file, downloaded, downloads_to, found, press_at, reload, wait_until, write_in
from tests.browser.test_bench_page import PUMP, box, choose, fresh, state, told, visitor

__all__ = ["visitor"]

SHEET = ".bench-row .bench-buttons button:nth-child(2)"
DIALOG = "dialog.bench-dialog"
ASKED = f"{DIALOG} .bench-asked"


@pytest.fixture
def filled(browser: Browser, job: Path, tmp_path: Path) -> Iterator[Path]:
    """Return a file of a sheet with ticks, a reading and a name, and leave it open in the browser."""
    fresh(browser, job, 820)
    for number in ("1", "2", "3"):
        press_at(browser, box(number))
    choose(browser, "shaft", "long")
    write_in(browser, f"#{PUMP}58 .blank input", "0.4")
    press_at(browser, SHEET)
    write_in(browser, f"{DIALOG} .bench-field:nth-of-type(1) input", "Anna")
    (tmp_path / "down").mkdir()
    downloads_to(browser, tmp_path / "down")
    press_at(browser, f"{DIALOG} h3 ~ .bench-buttons button")
    yield downloaded(tmp_path / "down")
    browser.send("Browser.setDownloadBehavior", behavior="default")


def button(browser: Browser, words: str, within: str = DIALOG) -> None:
    """Press the button with some words."""
    place = f"[...document.querySelectorAll('{within} button')].findIndex(it => it.textContent === {words!r})"
    nth = browser.run(place)
    assert nth >= 0, f"no button {words}"
    browser.run(f"document.querySelectorAll('{within} button')[{nth}].dataset.pressed = '1'")
    press_at(browser, "[data-pressed]")
    browser.run("document.querySelectorAll('[data-pressed]').forEach(it => it.removeAttribute('data-pressed'))")


def offered(browser: Browser, file: Path) -> str:
    """Choose a file in the open dialog, and return what is said of it."""
    choose_file(browser, f"{DIALOG} input[type=file]", file)
    wait_until(browser, f"document.querySelector({ASKED!r}).childElementCount > 0")
    words: str = browser.run(found(ASKED) + ".textContent")
    return words


def test_a_sheet_goes_to_a_fresh_profile_as_a_file(filled: Path, visitor: Any, job: Path) -> None:
    assert filled.name.startswith("putback-hollin-20-water-pump-anna-")
    other = visitor("other")
    other.open(job, 820)
    press_at(other, SHEET)
    assert "Anna" in offered(other, filled)
    assert state(other, "done") == 0, "nothing is taken before somebody says so"
    button(other, "Take it as a sheet of its own")
    now = state(other)
    assert now["sheet"]["name"] == "Anna"
    assert now["done"] == 3
    assert other.run(found(f"#{PUMP}58 .blank input") + ".value") == "0.4"
    reload(other)
    assert state(other, "done") == 3


def test_a_file_of_a_sheet_that_is_here_already_overwrites_nothing(browser: Browser, filled: Path) -> None:
    said = offered(browser, filled)
    assert "here already" in said
    button(browser, "Keep as it is")
    assert len(json.loads(browser.run("JSON.stringify(Putback.bench.sheets())"))) == 1
    offered(browser, filled)
    button(browser, "Take it as a sheet of its own")
    assert len(json.loads(browser.run("JSON.stringify(Putback.bench.sheets())"))) == 2


@pytest.mark.parametrize(
    ("text", "told_so"),
    [
        ("", "nothing in this file"),
        ("certainly not", "no JSON"),
        ('{"a": 1}', "not a sheet of a job"),
        ('{"__proto__": {"polluted": true}, "format": "putback-sheet"}', "sheet"),
        ("[" * 5000, "no JSON"),
    ],
)
def test_a_wrong_file_is_told_and_nothing_is_lost(
    browser: Browser, filled: Path, tmp_path: Path, text: str, told_so: str
) -> None:
    (tmp_path / "wrong.json").write_text(text, "utf-8")
    assert told_so in offered(browser, tmp_path / "wrong.json")
    assert state(browser, "done") == 3
    assert browser.run("({}).polluted") is None


def test_a_sheet_of_another_job_is_told_by_its_title_as_text(browser: Browser, filled: Path, tmp_path: Path) -> None:
    record = json.loads(filled.read_text("utf-8"))
    record["job"] = "another"
    record["title"] = "<img src=x onerror='window.BAD=1'>Other"
    (tmp_path / "other.json").write_text(json.dumps(record), "utf-8")
    assert "<img src=x" in offered(browser, tmp_path / "other.json")
    assert browser.run("typeof BAD") == "undefined"
    assert state(browser, "sheet")["name"] == "Anna"


def test_two_people_take_a_sheet_each(browser: Browser, filled: Path) -> None:
    button(browser, "New sheet")
    write_in(browser, f"{DIALOG} .bench-field:nth-of-type(1) input", "<b>Ben</b>")
    button(browser, "Close")
    assert state(browser, "done") == 0
    press_at(browser, box("1"))
    reload(browser)
    assert state(browser, "sheet")["name"] == "<b>Ben</b>"
    press_at(browser, SHEET)
    assert "<b>Ben</b>" in browser.run(found(DIALOG) + ".innerText")
    button(browser, "Open Anna")
    assert state(browser, "done") == 3
    button(browser, "Put this sheet away")
    assert state(browser, "sheet")["away"]
    button(browser, "Delete this sheet")
    assert "cannot be undone" in browser.run(found(ASKED) + ".textContent")
    button(browser, "Keep as it is")
    assert len(json.loads(browser.run("JSON.stringify(Putback.bench.sheets())"))) == 2
    button(browser, "Delete this sheet")
    button(browser, "Delete it")
    assert [each["name"] for each in json.loads(browser.run("JSON.stringify(Putback.bench.sheets())"))] == [
        "<b>Ben</b>"
    ]


def test_two_folders_of_one_guide_never_mix(browser: Browser, manual: Path, job: Path, tmp_path: Path) -> None:
    shutil.copytree(manual, tmp_path / "copy")
    fresh(browser, job, 820)
    press_at(browser, box("3"))
    choose(browser, "shaft", "long")
    browser.open(tmp_path / "copy" / "jobs" / job.name, 820)
    assert state(browser, "done") == 0
    assert all(option["choice"] is None for option in state(browser, "options"))
    press_at(browser, box("1"))
    browser.open(job, 820)
    assert browser.run(found(box("3")) + ".checked") is True
    assert browser.run(found(box("1")) + ".checked") is False


def test_what_another_tab_ticks_is_shown_and_nothing_is_lost(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    press_at(browser, box("1"))
    first = browser.send("Target.getTargetInfo")["targetInfo"]["targetId"]
    made = browser.send("Target.createTarget", url=job.resolve().as_uri())["targetId"]
    session = browser.send("Target.attachToTarget", targetId=made, flatten=True)["sessionId"]
    own, browser._session = browser._session, session
    try:
        wait_until(browser, "Boolean(window.Putback && Putback.bench)")
        wait_until(browser, f"{found(box('1'))}.checked")
        browser.run(f"{found(box('2'))}.click()")
    finally:
        browser._session = own
    wait_until(browser, f"{found(box('2'))}.checked")
    assert state(browser, "done") == 2
    browser.send("Target.closeTarget", targetId=made)
    browser.send("Target.activateTarget", targetId=first)


def test_a_changed_guide_keeps_ticks_of_steps_that_are_the_same(browser: Browser, manual: Path, tmp_path: Path) -> None:
    shutil.copytree(manual, tmp_path / "book")
    page = tmp_path / "book" / "jobs" / "water-pump.html"
    data = page.with_name("water-pump.job.js")
    fresh(browser, page, 820)
    for number in ("1", "2", "3"):
        press_at(browser, box(number))
    text = data.read_text("utf-8")
    job = json.loads(text[text.index("=") + 1 :].rstrip().rstrip(";"))
    job["digest"] = "0" * 16
    job["steps"][next(at for at, each in enumerate(job["steps"]) if each["n"] == "2")]["key"] = "ffffffffff"
    data.write_text(f"window.PUTBACK_JOB={json.dumps(job)};", "utf-8")
    browser.open(page, 820)
    assert [browser.run(found(box(number)) + ".checked") for number in ("1", "2", "3")] == [True, False, True]
    assert "changed since" in told(browser)
