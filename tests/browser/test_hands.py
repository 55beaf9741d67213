"""What the tests of pages stand on: a browser that forgets, and a finger that waits."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.devtools import Browser, BrowserError
from tests.browser.hands import press_at, wait_until


def test_a_browser_forgets_what_pages_have_kept(browser: Browser, job: Path) -> None:
    kept = "[localStorage.getItem('mine'), sessionStorage.getItem('mine')]"
    browser.open(job, 800)
    browser.run("localStorage.setItem('mine', '1'); sessionStorage.setItem('mine', '1')")
    browser.open(job, 800)
    assert browser.run(kept) == ["1", "1"]
    browser.forget()
    browser.open(job, 800)
    assert browser.run(kept) == [None, None]


def test_a_finger_waits_until_nothing_moves(browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "moving.html"
    page.write_text(
        "<button onclick='window.pressed = true' style='position: absolute; top: 0'>Here</button><script>let at = 0;"
        "setInterval(() => { if (at < 400) document.querySelector('button').style.top = `${at += 20}px` }, 10)</script>"
    )
    browser.open(page, 800)
    press_at(browser, "button")
    wait_until(browser, "window.pressed")


def test_a_finger_presses_nothing_that_is_not_there(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    with pytest.raises(BrowserError, match="is not there"):
        press_at(browser, "#nowhere")
