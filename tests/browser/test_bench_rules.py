"""The tool at the bench for everybody: rules of accessibility and of HTML in each of its states, room for fingers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.devtools import Browser
from tests.browser.hands import found, press_at, write_in
from tests.browser.test_bench_files import DIALOG, SHEET, button
from tests.browser.test_bench_page import PUMP, box, choose, fresh
from tests.browser.test_html_rules import AXE, _tool, _vnu

PANEL = ".bench-row .bench-buttons button:nth-child(1)"


def work_begun(browser: Browser) -> None:
    """Tick, choose, read, answer, start a timer: then most of what the tool can show is on the page."""
    choose(browser, "trim-tab", "none")
    for number in ("1", "3", "4"):
        press_at(browser, box(number))
    write_in(browser, f"#{PUMP}58 .blank input", "0.4")
    write_in(browser, f"#{PUMP}59 .blank input", "none")
    press_at(browser, f"#{PUMP}7 .bench-answers button:nth-child(2)")
    press_at(browser, f"#{PUMP}150 .bench-timer button:nth-of-type(1)")


def list_open(browser: Browser) -> None:
    """Open the list of what is off."""
    press_at(browser, PANEL)


def dialog_open(browser: Browser) -> None:
    """Close that list, and open the dialog of sheets."""
    press_at(browser, PANEL)
    press_at(browser, SHEET)


def asked(browser: Browser) -> None:
    """Let the dialog ask something."""
    button(browser, "Delete this sheet")


STATES: tuple[Callable[[Browser], None], ...] = (work_begun, list_open, dialog_open, asked)
"""What is done one after the other."""

TARGETS = """
[...document.querySelectorAll(".bench-bar :is(button, a), .bench-machine :is(label, summary), .bench-answers button, "
  + "select.unit, .bench-timer button, .otherwise-label button, label.tick, "
  + ".bench-dialog :is(button, input, textarea)")]
  .map(it => [it.outerHTML.slice(0, 120), it.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0 && (box.width < 44 || box.height < 44))
  .map(([html, box]) => [html, box.width, box.height])
"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1400])
def test_no_state_of_the_tool_breaks_a_rule_of_axe(browser: Browser, job: Path, width: int, scheme: str) -> None:
    rules = _tool("PUTBACK_AXE").read_text("utf-8")
    fresh(browser, job, width, dark=scheme == "dark")
    browser.run(f"{rules};0")
    broken: list[Any] = [("at first", *rule) for rule in browser.run(AXE)]
    for state in STATES:
        state(browser)
        broken += [(state.__name__, *rule) for rule in browser.run(AXE)]
    assert broken == []


def test_every_state_of_the_tool_is_valid_html(browser: Browser, job: Path, tmp_path: Path) -> None:
    fresh(browser, job, 820)
    for number, state in enumerate((lambda _: None, *STATES)):
        state(browser)
        html = browser.run("document.documentElement.outerHTML")
        (tmp_path / f"{number}.html").write_text(f"<!DOCTYPE html>{html}", "utf-8")
    assert _vnu("--skip-non-html", str(tmp_path)) == ""


@pytest.mark.parametrize("width", [320, 390, 820, 1400])
def test_the_tool_has_room_and_what_is_touched_is_44_pixels(browser: Browser, job: Path, width: int) -> None:
    fresh(browser, job, width)
    for state in (lambda _: None, *STATES):
        state(browser)
        assert browser.run(TARGETS) == []
        assert browser.run("document.documentElement.scrollWidth") <= width
        assert browser.run(f"{found(DIALOG)}.scrollWidth <= {found(DIALOG)}.clientWidth") is True


UNDER = """
[...document.querySelectorAll(".step > .tick > input")].filter(it => it.checkVisibility()).slice(0, 40).filter(it => {
  it.focus();
  const bar = document.querySelector(".bench-bar").getBoundingClientRect().top;
  const box = it.getBoundingClientRect();
  return box.bottom > bar || box.top < 0;
}).length
"""


def test_the_focus_is_never_under_the_bar(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    browser.send("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
    press_at(browser, PANEL)
    browser.press("Tab", 9)  # from now on, the keyboard leads
    assert browser.run(UNDER) == 0
    browser.send("Emulation.setEmulatedMedia", features=[])


def test_the_whole_tool_is_worked_with_the_keyboard(browser: Browser, job: Path) -> None:
    fresh(browser, job, 1400)
    browser.run(found(box("1")) + ".focus()")
    browser.send("Input.dispatchKeyEvent", type="keyDown", key=" ", code="Space", windowsVirtualKeyCode=32, text=" ")
    browser.send("Input.dispatchKeyEvent", type="keyUp", key=" ", code="Space", windowsVirtualKeyCode=32)
    assert browser.run(found(box("1")) + ".checked") is True
    browser.run(found(".bench-next") + ".focus()")
    browser.send("Input.dispatchKeyEvent", type="keyDown", key="Enter", windowsVirtualKeyCode=13, text="\r")
    browser.send("Input.dispatchKeyEvent", type="keyUp", key="Enter", windowsVirtualKeyCode=13)
    assert browser.run("document.activeElement.closest('.step')?.id") == f"{PUMP}2"
    reached = browser.run(
        "[...document.querySelectorAll('.bench-bar button, .bench-answers button, .bench-machine :is(input, summary)')]"
        ".filter(it => it.offsetParent && it.tabIndex < 0).length"
    )
    assert reached == 0


def test_motion_is_only_for_who_wants_it(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    browser.send("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
    browser.run(
        "window.asked = []; const plain = Element.prototype.scrollIntoView;"
        "Element.prototype.scrollIntoView = function (how) { asked.push(how.behavior); plain.call(this, how); }; 0"
    )
    browser.run(found(".bench-next") + ".click()")
    assert browser.run("asked") == ["auto"]
    browser.send("Emulation.setEmulatedMedia", features=[])


def test_in_forced_colours_what_is_chosen_and_next_still_shows(browser: Browser, job: Path) -> None:
    fresh(browser, job, 390)
    press_at(browser, f"#{PUMP}7 .bench-answers button:nth-child(2)")
    browser.send("Emulation.setEmulatedMedia", features=[{"name": "forced-colors", "value": "active"}])
    try:
        pressed, other = (f"#{PUMP}7 .bench-answers button:nth-child({nth})" for nth in (2, 1))
        widths = [browser.run(f"getComputedStyle({found(it)}).borderTopWidth") for it in (pressed, other)]
        assert widths == ["5px", "2px"]
        assert browser.run(f"getComputedStyle({found('.step[aria-current]')}).outlineStyle") == "solid"
    finally:
        browser.send("Emulation.setEmulatedMedia", features=[])
