"""The page of a job as a tool: ticks, what is off, variants, readings, branches, timers; kept whatever happens."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import missing
from tests.browser.devtools import Browser, find_chromium
from tests.browser.hands import found, press_at, reload, wait_until, write_in

SCREENS = (390, 820, 1400)

PUMP = "water-pump-step-"


def state(browser: Browser, *path: str) -> Any:
    """Return what the page knows, or a part of it."""
    inner = "".join(f"[{name!r}]" for name in path)
    return json.loads(browser.run(f"JSON.stringify(Putback.bench.state(){inner}) ?? 'null'"))


def step(browser: Browser, number: str) -> dict[str, Any]:
    """Return what the page knows of a step, by its printed number."""
    key = browser.run(f"PUTBACK_JOB.steps.find(step => step.n === {number!r}).key")
    known: dict[str, Any] = state(browser, "steps")[key]
    return known


def box(number: str) -> str:
    """Return the selector of a step's box on the page of the water pump."""
    return f"#{PUMP}{number} > .tick input"


def fresh(browser: Browser, page: Path, width: int, *, dark: bool = False) -> None:
    """Open the page of a job on a screen, in a browser that has kept nothing."""
    browser.open(page, width, dark=dark, touch=width < 1024)
    browser.run("localStorage.clear(); sessionStorage.clear()")
    reload(browser)


def choose(browser: Browser, option: str, choice: str) -> None:
    """Choose how the machine is built."""
    place = (
        f"PUTBACK_JOB.options.find(each => each.key === {option!r}).choices.findIndex(each => each.key === {choice!r})"
    )
    nth = browser.run(f"{place} + 1")
    group = browser.run(f"PUTBACK_JOB.options.findIndex(each => each.key === {option!r}) + 1")
    press_at(browser, f".bench-machine fieldset:nth-of-type({group}) .bench-choice:nth-child({nth}) input")


def told(browser: Browser) -> str:
    """Return what the page tells now."""
    words: str = browser.run(found(".bench-told") + ".hidden ? '' : " + found(".bench-words") + ".textContent")
    return words


@pytest.fixture
def visitor(tmp_path: Path) -> Iterator[Any]:
    """Return what starts a browser with a profile that outlives it; all are closed at the end."""
    program = find_chromium()
    if program is None:
        missing("chromium")
    started: list[Browser] = []

    def start(name: str, *flags: str) -> Browser:
        profile = tmp_path / name
        profile.mkdir(exist_ok=True)
        started.append(Browser(program, *flags, profile=profile))
        return started[-1]

    yield start
    for browser in started:
        browser.close()


@pytest.mark.parametrize("width", SCREENS)
def test_a_job_is_ticked_through_step_by_step(browser: Browser, manual: Path, width: int) -> None:
    fresh(browser, manual / "jobs" / "propeller.html", width)
    # Else the mouse would press where a box was a moment ago.
    browser.send("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
    assert state(browser, "done") == 0
    seen: list[str] = []
    while (key := state(browser, "next")) is not None:
        known = browser.run(f"PUTBACK_JOB.steps.find(step => step.key === {key!r})")
        seen.append(known["n"])
        assert len(seen) < 200, seen
        press_at(browser, ".bench-next")
        wait_until(browser, f"document.activeElement.closest('.step')?.id === {known['id']!r}")
        grid = f"[...document.querySelectorAll('#{known['id']} > .step-body .grid input')]"
        boxes = browser.run(f"{grid}.filter(it => it.offsetParent).length")
        for nth in range(boxes):
            browser.run(f"{grid}[{nth}].click()")
        if not boxes:
            press_at(browser, f"#{known['id']} > .tick input", touch=width < 1024)
    now = state(browser)
    assert now["done"] == now["of"] == len(seen) > 5
    assert now["skipped"] == []
    assert browser.run(found(".bench-next") + ".disabled") is True
    assert "Count back" in told(browser)
    assert not any(row["counted"] for row in now["count"]), "only a person says that something was counted"


def test_the_bar_says_what_is_off_and_where_it_goes_back(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    press_at(browser, box("3"), touch=True)
    press_at(browser, ".bench-row .bench-buttons button:nth-child(1)", touch=True)
    off = browser.run(found(".bench-panel") + ".innerText")
    assert "Cowl" in off
    assert "since step 3" in off
    back = state(browser, "off")[0]["back"]
    number = browser.run(f"PUTBACK_JOB.steps.find(step => step.key === {back!r}).n")
    assert f"back at step {number}" in off
    press_at(browser, ".bench-panel li span:nth-of-type(2) > a", touch=True)
    wait_until(browser, f"document.activeElement.closest('.step')?.id === '{PUMP}{number}'")
    press_at(browser, box("3"), touch=True)
    assert state(browser, "off") == []
    assert "Nothing is off" in browser.run(found(".bench-panel") + ".innerText")


def test_escape_closes_the_list_and_leads_back_to_its_button(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    opener = ".bench-row .bench-buttons button:nth-child(1)"
    press_at(browser, opener)
    assert browser.run(found(opener) + ".ariaExpanded") == "true"
    browser.press("Escape", 27)
    assert browser.run(found(".bench-panel") + ".hidden") is True
    assert browser.run(f"document.activeElement === {found(opener)}") is True


@pytest.mark.parametrize("width", SCREENS)
def test_what_is_for_other_machines_folds_away_on_every_page_and_can_be_shown(
    browser: Browser, manual: Path, job: Path, width: int
) -> None:
    shown = f"document.getElementById('{PUMP}8').getClientRects().length > 0"
    rows = "[...document.querySelectorAll('table.count-back tbody tr')].filter(it => it.getClientRects().length).length"
    fresh(browser, job, width)
    before = browser.run(rows)
    assert browser.run(shown) is True
    choose(browser, "trim-tab", "none")
    assert browser.run(shown) is False
    assert browser.run(rows) < before
    reload(browser)
    assert browser.run(shown) is False, "the choice is forgotten"
    assert "none" in browser.run(found(".bench-summary") + ".textContent")
    browser.open(manual / "jobs" / "propeller.html", width)
    browser.open(manual / "jobs" / "anodes.html", width)
    assert {"key": "trim-tab", "choice": "none"}.items() <= next(
        option for option in state(browser, "options") if option["key"] == "trim-tab"
    ).items()
    browser.open(job, width, touch=width < 1024)
    browser.run(found(".bench-machine") + ".open = true")
    press_at(browser, ".bench-folded input")
    assert browser.run(shown) is True
    assert browser.run(f"getComputedStyle(document.getElementById('{PUMP}8'), '::before').content") == (
        '"not for your machine"'
    )


@pytest.mark.parametrize("width", SCREENS)
def test_a_reading_is_judged_and_opens_its_branch(browser: Browser, job: Path, width: int) -> None:
    fresh(browser, job, width)
    place = f"#{PUMP}58 .blank input"
    branch = f"document.getElementById('{PUMP}58a').checkVisibility({{contentVisibilityAuto: true}})"
    shut = f"document.querySelector('#{PUMP}58 .bench-branch').hidden"
    assert browser.run(shut) == "until-found"
    write_in(browser, place, "0.2")
    assert browser.run(found(f"#{PUMP}58 .bench-verdict") + ".textContent") == "good"
    assert browser.run(shut) == "until-found"
    write_in(browser, place, "0.4")
    verdict = browser.run(found(f"#{PUMP}58 .bench-verdict") + ".textContent")
    assert verdict.startswith("above the limit")
    assert "0.3" in verdict
    assert not browser.run(shut)
    assert browser.run(branch) is True
    assert "58a" in told(browser)
    press_at(browser, box("58a"))
    write_in(browser, place, "twenty")
    assert browser.run(found(f"#{PUMP}58 .bench-verdict") + ".textContent") == "not a number"
    assert browser.run(found(place) + ".ariaInvalid") == "true"
    write_in(browser, place, "0.4")
    reload(browser)
    assert browser.run(found(place) + ".value") == "0.4"
    assert browser.run(found(box("58a")) + ".checked") is True
    assert not browser.run(shut)


def test_a_reading_in_the_second_unit_is_judged_in_it(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    browser.run(
        f"(it => {{ it.value = 'in'; it.dispatchEvent(new Event('change')) }})({found(f'#{PUMP}58 .blank select')})"
    )
    write_in(browser, f"#{PUMP}58 .blank input", "0.011")
    assert browser.run(found(f"#{PUMP}58 .bench-verdict") + ".textContent") == "good"
    write_in(browser, f"#{PUMP}58 .blank input", "0.02")
    assert browser.run(found(f"#{PUMP}58 .bench-verdict") + ".dataset.is") == "bad"
    reload(browser)
    assert browser.run(found(f"#{PUMP}58 .blank select") + ".value") == "in"


def test_no_branch_opens_while_somebody_still_types(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    place = f"#{PUMP}58 .blank input"
    shut = f"document.querySelector('#{PUMP}58 .bench-branch').hidden"
    press_at(browser, place)
    browser.send("Input.insertText", text="4")
    assert browser.run(shut) == "until-found"
    assert browser.run(found(f"#{PUMP}58 .bench-verdict") + ".textContent") == ""
    reload(browser)
    assert browser.run(found(place) + ".value") == "4", "what is typed is kept from its first letter"


def test_a_check_without_a_reading_has_buttons_that_open_its_branch(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    shut = f"document.querySelector('#{PUMP}7 .bench-branch').hidden"
    good, bad = (f"#{PUMP}7 .bench-answers button:nth-child({nth})" for nth in (1, 2))
    press_at(browser, bad, touch=True)
    assert not browser.run(shut)
    assert browser.run(found(bad) + ".ariaPressed") == "true"
    press_at(browser, good, touch=True)
    assert browser.run(shut) == "until-found"
    press_at(browser, good, touch=True)
    assert browser.run(found(good) + ".ariaPressed") == "false", "an answer can be taken back"


def test_a_branch_can_be_read_by_who_ticks_nothing(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    press_at(browser, f"#{PUMP}7 .otherwise-label button", touch=True)
    assert not browser.run(f"document.querySelector('#{PUMP}7 .bench-branch').hidden")
    assert state(browser, "done") == 0
    browser.run(f"location.hash = '{PUMP}58a'")
    wait_until(browser, f"!document.querySelector('#{PUMP}58 .bench-branch').hidden")
    fresh(browser, job.parent / "propeller.html", 390)
    browser.open(job, 390, touch=True, query=f"#{PUMP}58a")
    assert not browser.run(f"document.querySelector('#{PUMP}58 .bench-branch').hidden"), "a link leads to a shut branch"


def test_ticks_are_undone_by_unticking(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    for number in ("1", "2", "3"):
        press_at(browser, box(number))
    before = state(browser, "off")
    press_at(browser, box("4"))
    press_at(browser, box("4"))
    assert state(browser, "off") == before
    assert state(browser, "done") == 3


def test_steps_left_out_are_named_and_block_nothing(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    press_at(browser, box("1"))
    press_at(browser, box("4"))
    assert step(browser, "2")["skipped"] is True
    press_at(browser, ".bench-row .bench-buttons button:nth-child(1)")
    left_out = browser.run(found(".bench-skips") + ".innerText")
    assert "2" in left_out
    assert "3" in left_out


def test_a_timer_ends_by_the_clock_and_survives_a_reload(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    press_at(browser, f"#{PUMP}150 .bench-timer button:nth-of-type(1)")
    clock = found(f"#{PUMP}150 .bench-clock") + ".textContent"
    assert "to go" in browser.run(clock)
    ends = step(browser, "150")["timer"]["ends"]
    reload(browser)
    assert step(browser, "150")["timer"]["ends"] == ends
    assert "Step 150" in browser.run(found(".bench-timers") + ".textContent")
    # Five minutes later: the clock of the page is put on, as if the tablet had lain there.
    browser.run("(now => { Date.now = () => now() + 300000 })(Date.now.bind(Date))")
    browser.run("document.dispatchEvent(new Event('visibilitychange'))")
    assert "Time is up" in browser.run(clock) or "over" in browser.run(clock)
    assert "150" in told(browser)
    press_at(browser, f"#{PUMP}150 .bench-timer button:nth-of-type(2)")
    assert browser.run(clock) == ""


def test_the_count_back_fills_itself_and_never_ticks_itself(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    press_at(browser, box("3"))
    row = "[...document.querySelectorAll('table.count-back tr')].find(it => it.cells[0].innerText.startsWith('Cowl'))"
    assert "1 out, 0 back" in browser.run(f"{row}.querySelector('.bench-count').textContent")
    back = state(browser, "off")[0]["back"]
    number = browser.run(f"PUTBACK_JOB.steps.find(step => step.key === {back!r}).n")
    press_at(browser, box(number))
    assert "1 out, 1 back" in browser.run(f"{row}.querySelector('.bench-count').textContent")
    assert browser.run(f"{row}.querySelector('input').checked") is False
    browser.run(f"{row}.querySelector('input').click()")
    reload(browser)
    assert browser.run(f"{row}.querySelector('input').checked") is True


def test_what_is_signed_is_kept(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    write_in(browser, ".sign-off .blank:nth-child(1) input", "HN20 <b>0042</b>")
    write_in(browser, ".sign-off .blank:nth-child(4) input", 'Zoë O\'Neill & "Co"')
    reload(browser)
    assert browser.run(found(".sign-off .blank:nth-child(1) input") + ".value") == "HN20 <b>0042</b>"
    assert browser.run(found(".sign-off .blank:nth-child(4) input") + ".value") == 'Zoë O\'Neill & "Co"'


def test_boxes_of_follow_ups_are_kept(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    write_in(browser, ".follow-up .blank input", "12.5")
    press_at(browser, ".follow-up .step > .tick input")
    reload(browser)
    assert browser.run(found(".follow-up .blank input") + ".value") == "12.5"
    assert browser.run(found(".follow-up .step > .tick input") + ".checked") is True


def test_everything_survives_the_kill_of_the_browser(visitor: Any, job: Path) -> None:
    first = visitor("tablet")
    first.open(job, 820, touch=True)
    choose(first, "shaft", "long")
    for number in ("1", "2", "3", "4"):
        press_at(first, box(number), touch=True)
    write_in(first, f"#{PUMP}58 .blank input", "0.4")
    write_in(first, ".sign-off .blank:nth-child(4) input", "Ines")
    # What a page has written, the browser puts on the disk a few seconds later at the most.
    first.run("new Promise(done => setTimeout(done, 6000))")
    first.kill()
    again = visitor("tablet")
    again.open(job, 820, touch=True)
    now = state(again)
    assert now["done"] == 4
    assert next(option["choice"] for option in now["options"] if option["key"] == "shaft") == "long"
    assert again.run(found(f"#{PUMP}58 .blank input") + ".value") == "0.4"
    assert again.run(found(".sign-off .blank:nth-child(4) input") + ".value") == "Ines"


def test_nothing_is_asked_of_the_network_and_nothing_breaks_the_policy(browser: Browser, pages: list[Path]) -> None:
    browser.send("Log.enable")
    for page in pages:
        browser.open(page, 820)
        browser.run("new Promise(done => setTimeout(done, 50))")
        assert all(address.startswith(("file:", "data:")) for address in browser.requested()), page.name
        said = [event["params"] for event in browser.events if event.get("method") == "Log.entryAdded"]
        assert said == [], page.name
        thrown = [event["params"] for event in browser.events if event.get("method") == "Runtime.exceptionThrown"]
        assert thrown == [], page.name
    assert browser.run("document.querySelector('meta[http-equiv]').content").startswith("default-src 'none'")


def test_a_script_in_a_page_is_not_run(browser: Browser, job: Path, tmp_path: Path) -> None:
    html = job.read_text("utf-8").replace("</h1>", "</h1><script>window.BAD = 1</script>", 1)
    (job.parent / "hostile.html").write_text(html, "utf-8")
    try:
        browser.open(job.parent / "hostile.html", 820)
        assert browser.run("[typeof BAD, typeof Putback.bench]") == ["undefined", "object"]
    finally:
        (job.parent / "hostile.html").unlink()


def test_without_scripts_the_page_is_what_it_was(browser: Browser, job: Path) -> None:
    browser.send("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.open(job, 390, touch=True)
        assert browser.run(found(".bench-bar")) is None
        assert browser.run("[...document.querySelectorAll('.step')].every(it => it.getClientRects().length)") is True
        press_at(browser, box("1"))
        assert browser.run(found(box("1")) + ".checked") is True
    finally:
        browser.send("Emulation.setScriptExecutionDisabled", value=False)


def test_where_nothing_can_be_kept_the_page_works_and_says_so(visitor: Any, job: Path) -> None:
    denied = visitor("denied")
    denied.send(
        "Page.addScriptToEvaluateOnNewDocument",
        source="for (const name of ['localStorage', 'sessionStorage']) Object.defineProperty(window, name,"
        " {get() { throw new DOMException('denied', 'SecurityError') }})",
    )
    denied.open(job, 390, touch=True)
    assert "keeps nothing" in told(denied)
    press_at(denied, box("3"), touch=True)
    assert state(denied, "done") == 1
    assert state(denied, "off")[0]["name"] == "Cowl"


def test_when_the_room_is_full_the_page_works_and_says_so(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    browser.run("try { for (let n = 0; ; n += 1) localStorage.setItem('fill' + n, 'x'.repeat(100000)) } catch (e) {}")
    browser.run("try { for (let n = 0; ; n += 1) localStorage.setItem('f' + n, 'x'.repeat(50)) } catch (e) {}")
    press_at(browser, box("3"), touch=True)
    assert "no more room" in told(browser)
    assert step(browser, "3")["ticked"] is True
    browser.run("localStorage.clear()")


def test_paper_has_empty_boxes_and_nothing_of_the_tool(browser: Browser, job: Path) -> None:
    fresh(browser, job, 820)
    press_at(browser, box("1"))
    choose(browser, "trim-tab", "none")
    browser.send("Emulation.setEmulatedMedia", media="print")
    try:
        seen = "it => [...document.querySelectorAll(it)].filter(one => one.checkVisibility()).length"
        assert browser.run(f"({seen})('.bench-bar, .bench-machine, .bench-answers, .bench-timer')") == 0
        assert browser.run(f"document.getElementById('{PUMP}8').checkVisibility()") is True, "paper is for all machines"
        assert browser.run(f"document.getElementById('{PUMP}58a').getBoundingClientRect().height > 10") is True
        assert browser.run(f"getComputedStyle({found(box('1'))}, '::before').content") == "none"
    finally:
        browser.send("Emulation.setEmulatedMedia", media="")


def test_what_somebody_does_keeps_the_screen_on_and_nothing_else_does(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    ask = "() => { window.asked = (window.asked || 0) + 1; return Promise.reject(new Error('no')); }"
    browser.run(f"Object.defineProperty(navigator, 'wakeLock', {{value: {{request: {ask}}}}})")
    browser.run("Putback.bench.refresh()")
    assert browser.run("window.asked || 0") == 0, "a timer that runs for a day would empty the battery"
    press_at(browser, box("1"), touch=True)
    assert browser.run("window.asked || 0") > 0
