"""The pages by keyboard alone, at three widths: past the masthead, in the order that is seen, and seen where one is."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from tests.browser.devtools import Browser

WIDTHS = (390, 820, 1400)

PAGES = ("index.html", "jobs/water-pump.html", "index-of-things.html", "search.html", "machine.html")

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; style-src-elem 'self'; "
    "style-src-attr 'unsafe-inline'; img-src 'self' data:; font-src 'self'; form-action 'self'; base-uri 'none'"
)
"""The strictest that the pages are made for: files of their own folder, and nothing written into the page is run."""

WHERE = """(() => {
    const it = document.activeElement, box = it.getBoundingClientRect(), look = getComputedStyle(it);
    return {name: it.tagName + '.' + it.className, top: box.top, bottom: box.bottom, left: box.left,
        width: box.width, height: box.height, outline: look.outlineStyle, masthead: !!it.closest('.masthead'),
        line: parseFloat(look.outlineWidth), inside: it.closest('header, nav, main, footer')?.tagName ?? 'BODY'};
})()"""


def tabbed(browser: Browser, times: int) -> list[dict[str, Any]]:
    """Press the tabulator so often, and return where that leads."""
    places = []
    for _ in range(times):
        browser.press("Tab", 9)
        places.append(browser.run(WHERE))
    return places


def opened(browser: Browser, page: Path, width: int) -> None:
    browser.open(page, width)
    # Smooth scrolling would still be on its way when the place is asked for.
    browser.run("document.documentElement.style.scrollBehavior = 'auto'; document.activeElement.blur()")


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", PAGES)
def test_wherever_the_keyboard_is_it_is_seen(browser: Browser, manual: Path, name: str, width: int) -> None:
    opened(browser, manual / name, width)
    places = [place for place in tabbed(browser, 14) if place["name"] != "BODY."]  # after the last comes the browser
    assert len(places) >= 5
    for place in places:
        assert place["width"] > 0, place
        assert place["height"] > 0, place
        assert place["bottom"] > 0, place
        assert place["top"] < 900, place
        assert (place["outline"], place["line"] >= 2) == ("solid", True), place


@pytest.mark.parametrize("width", WIDTHS)
def test_the_keyboard_goes_the_way_of_the_eye(browser: Browser, job: Path, width: int) -> None:
    opened(browser, job, width)
    places = tabbed(browser, 8)
    assert places[0]["name"] == "A.skip-link"
    head = [place for place in places if place["masthead"]]
    assert len(head) >= 4
    for before, after in pairwise(head):
        assert after["top"] > before["top"] + 8 or after["left"] > before["left"], (before, after)


@pytest.mark.parametrize("width", WIDTHS)
def test_the_first_key_leads_past_the_masthead(browser: Browser, job: Path, width: int) -> None:
    opened(browser, job, width)
    browser.press("Tab", 9)
    browser.send("Input.dispatchKeyEvent", type="keyDown", key="Enter", text="\r", windowsVirtualKeyCode=13)
    browser.send("Input.dispatchKeyEvent", type="keyUp", key="Enter", windowsVirtualKeyCode=13)
    assert browser.run("document.activeElement.id") == "page"
    (place,) = tabbed(browser, 1)
    assert place["inside"] == "MAIN"


@pytest.mark.parametrize("width", [390, 820])
def test_the_contents_open_and_close_by_keyboard(browser: Browser, job: Path, width: int) -> None:
    opened(browser, job, width)
    browser.run("document.querySelector('.open-contents').focus()")
    is_open = "document.querySelector('#contents').matches(':popover-open')"
    browser.send("Input.dispatchKeyEvent", type="keyDown", key="Enter", text="\r", windowsVirtualKeyCode=13)
    browser.send("Input.dispatchKeyEvent", type="keyUp", key="Enter", windowsVirtualKeyCode=13)
    assert browser.run(is_open) is True
    places = tabbed(browser, 3)
    assert {place["inside"] for place in places} == {"NAV"}
    browser.press("Escape", 27)
    assert browser.run(is_open) is False
    assert browser.run("document.activeElement.className") == "open-contents"


@pytest.mark.parametrize("name", ["search.html", "jobs/water-pump.html", "index.html"])
def test_pages_work_under_a_strict_policy(browser: Browser, manual: Path, name: str) -> None:
    page = manual / name
    text = page.read_text("utf-8")
    policy = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)"', text)
    if policy is None:
        page = page.with_name(f"strict-{page.name}")
        page.write_text(
            text.replace("<head>", f'<head><meta http-equiv="Content-Security-Policy" content="{POLICY}">', 1), "utf-8"
        )
    try:
        browser.send("Log.enable")
        browser.open(page, 820, query="?q=impeller" if name == "search.html" else "")
        assert browser.run("getComputedStyle(document.querySelector('h1')).borderBottomStyle") == "solid"
        if name == "search.html":
            assert browser.run("document.querySelectorAll('#search-results li').length") > 10
        refused = [event["params"] for event in browser.events if event.get("method") == "Log.entryAdded"]
        assert refused == []
    finally:
        browser.send("Log.disable")
        if policy is None:
            page.unlink()


def test_where_one_is_and_what_was_found_stand_out_when_the_system_chooses_the_colours(
    browser: Browser, manual: Path
) -> None:
    browser.open(manual / "search.html", 820, query="?q=impeller")
    browser.send("Emulation.setEmulatedMedia", features=[{"name": "forced-colors", "value": "active"}])
    try:
        mark = browser.run("(it => [it.backgroundColor, it.color])(getComputedStyle(document.querySelector('mark')))")
        paper = browser.run("getComputedStyle(document.body).backgroundColor")
        assert mark[0] != paper
        assert mark[0] != mark[1]
    finally:
        browser.send("Emulation.setEmulatedMedia", features=[])
