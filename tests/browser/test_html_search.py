"""The page that searches, from a folder: what it finds, where that leads; by keyboard, narrow, dark, without script."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.browser.devtools import Browser
from tests.browser.test_html_rules import AXE, _tool, _vnu

LOOK = """[...document.querySelectorAll('#search-results > li')].map(it => [
    it.querySelector('a').getAttribute('href'), it.querySelector('a').textContent,
    [...it.querySelectorAll('mark')].map(hit => hit.textContent), it.querySelector('.context')?.textContent ?? ''])"""

TYPE = """(words => {
    const box = document.querySelector('#search-box input');
    box.value = words;
    box.dispatchEvent(new Event('input', {bubbles: true}));
    box.form.requestSubmit();
})"""


@pytest.fixture(scope="session")
def search(manual: Path) -> Path:
    """Return the page that searches."""
    return manual / "search.html"


def shown(browser: Browser) -> list[tuple[str, str, list[str], str]]:
    return [(address, title, hits, said) for address, title, hits, said in browser.run(LOOK)]


def test_a_part_number_leads_to_the_steps_that_handle_it(browser: Browser, search: Path, job: Path) -> None:
    browser.open(search, 820, query="?q=hn2205")
    found = shown(browser)
    steps = [(address, title) for address, title, _, _ in found if title.startswith("Step ")]
    assert ("jobs/water-pump.html#water-pump-step-38", "Step 38 Remove the impeller (HN-2205)") in [
        (address.removeprefix("./"), title) for address, title in steps
    ]
    assert all("HN-2205" in hits for _, _, hits, _ in found)
    assert browser.run("document.querySelector('#search-count').textContent") == f"Found: {len(found)}"


def test_every_result_leads_to_an_element_of_its_page(browser: Browser, search: Path) -> None:
    browser.open(search, 820, query="?q=the")
    while not browser.run("document.querySelector('#search-more').hidden"):
        browser.run("document.querySelector('#search-more').click()")
    found = shown(browser)
    assert browser.run("document.querySelector('#search-count').textContent") == f"Found: {len(found)}"
    assert len(found) > 300
    ids: dict[Path, set[str]] = {}
    for address, *_ in found:
        name, _, anchor = address.partition("#")
        page = search.parent / name
        if page not in ids:
            ids[page] = set(re.findall(r' id="([^"]+)"', page.read_text("utf-8")))
        assert not anchor or anchor in ids[page], address


def test_a_result_is_opened_and_the_step_is_seen_and_marked(browser: Browser, search: Path) -> None:
    browser.open(search, 820, query="?q=remove%20impeller")
    address = browser.run("document.querySelector('#search-results a').href")
    assert address.endswith("jobs/water-pump.html#water-pump-step-38")
    page, _, anchor = address.removeprefix("file://").partition("#")
    browser.open(Path(page), 820, query=f"#{anchor}")
    seen = browser.run(
        "new Promise(done => { let left = 50; const look = () => { const it = document.querySelector(':target');"
        " const top = it.getBoundingClientRect().top;"
        " if ((0 <= top && top < 400) || !left--) done([it.id, top, getComputedStyle(it).backgroundColor]);"
        " else setTimeout(look, 50); }; look(); })"
    )
    assert seen[0] == "water-pump-step-38"
    assert 0 <= seen[1] < 400
    assert seen[2] != browser.run("getComputedStyle(document.body).backgroundColor")


def test_every_page_has_a_box_that_leads_here(browser: Browser, pages: list[Path], search: Path) -> None:
    for page in pages:
        if page == search:
            continue
        browser.open(page, 390, touch=True)
        box = browser.run(
            "(it => [it.form.action, it.name, it.form.method, it.getBoundingClientRect().height])"
            "(document.querySelector('.masthead input[type=search]'))"
        )
        assert box[:3] == [search.resolve().as_uri(), "q", "get"], page.name
        assert box[3] >= 44, page.name


def test_the_keyboard_is_enough(browser: Browser, search: Path) -> None:
    browser.open(search, 820)
    assert browser.run("document.activeElement.name") == "q"
    browser.send("Input.insertText", text="gearcase bolts")
    browser.press("Enter", 13)
    at = "[...document.querySelectorAll('#search-results a')].indexOf(document.activeElement)"
    browser.send("Input.dispatchKeyEvent", type="char", text="\r", key="Enter")
    assert browser.run(at) == 0
    browser.press("ArrowDown", 40)
    browser.press("ArrowDown", 40)
    assert browser.run(at) == 2
    browser.press("ArrowUp", 38)
    assert browser.run(at) == 1
    browser.press("Escape", 27)
    assert browser.run("document.activeElement.name") == "q"
    browser.press("ArrowDown", 40)
    assert browser.run(at) == 0
    browser.press("ArrowUp", 38)
    assert browser.run("document.activeElement.name") == "q"


def test_whoever_comes_back_finds_what_was_found(browser: Browser, search: Path) -> None:
    browser.open(search, 820)
    browser.run(f"{TYPE}('milky oil')")
    assert browser.run("location.search") == "?q=milky%20oil"
    before = shown(browser)
    assert before
    browser.open(search, 820, query="?q=milky+oil")
    assert shown(browser) == before


def test_nothing_found_is_said(browser: Browser, search: Path) -> None:
    browser.open(search, 820, query="?q=zeppelin")
    assert shown(browser) == []
    assert browser.run("document.querySelector('#search-count').textContent") == "No place has all of these words."
    browser.run(f"{TYPE}('')")
    assert browser.run("document.querySelector('#search-count').textContent") == ""


def test_what_is_typed_and_what_is_found_stay_text(browser: Browser, manual: Path, tmp_path: Path) -> None:
    place = tmp_path / "hostile"
    shutil.copytree(manual, place)
    hostile = "<img src=x onerror=window.broken=1>impeller <b>bold</b>"
    data = place / "search-data.js"
    text = data.read_text("utf-8").replace('"Remove the impeller (HN-2205)"', f'"{hostile}"', 1)
    assert hostile in text
    data.write_text(text, "utf-8")
    browser.open(place / "search.html", 820, query="?q=impeller+bold%3Cimg%20src=x%20onerror=window.broken=1%3E")
    browser.run(f"{TYPE}('impeller bold <script>')")
    browser.run(f"{TYPE}('impeller bold')")
    (found,) = shown(browser)
    assert hostile in found[1]
    assert found[2] == ["impeller", "bold"] or set(found[2]) == {"impeller", "bold"}
    assert browser.run("document.querySelectorAll('#search-results :is(img, b, script)').length") == 0
    assert browser.run("window.broken === undefined")


@pytest.mark.parametrize("gone", ["search-data.js", "_static/search/find.js"])
def test_without_its_data_the_page_leads_to_the_index(
    browser: Browser, manual: Path, tmp_path: Path, gone: str
) -> None:
    place = tmp_path / "bare"
    shutil.copytree(manual, place)
    (place / gone).unlink()
    browser.open(place / "search.html", 820, query="?q=impeller")
    needs = browser.run("(it => [it.getClientRects().length > 0, it.querySelector('a').href])"
                        "(document.querySelector('#search-needs'))")  # fmt: skip
    assert needs == [True, (place / "index-of-things.html").resolve().as_uri()]


def test_without_script_the_page_leads_to_the_index_and_with_it_says_nothing_of_that(
    browser: Browser, search: Path
) -> None:
    visible = "document.querySelector('#search-needs').getClientRects().length > 0"
    browser.open(search, 820)
    assert browser.run(visible) is False
    browser.send("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.open(search, 820)
        assert browser.run(visible) is True
    finally:
        browser.send("Emulation.setScriptExecutionDisabled", value=False)


@pytest.mark.parametrize("query", ["impeller", "the", "zeppelin"])
def test_no_width_scrolls_sideways(browser: Browser, search: Path, query: str) -> None:
    for width in (320, 390, 820, 1400):
        browser.open(search, width, touch=width < 1024, query=f"?q={query}")
        assert browser.run("document.documentElement.scrollWidth") == width
        small = browser.run(
            "[...document.querySelectorAll('#search-results a, #search-more, #search-box :is(input, button)')]"
            ".filter(it => it.getClientRects().length && it.getBoundingClientRect().height < 44)"
            ".map(it => it.outerHTML.slice(0, 80))"
        )
        assert small == [], width


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1400])
def test_results_break_no_rule_of_axe(browser: Browser, search: Path, width: int, scheme: str) -> None:
    rules = _tool("PUTBACK_AXE").read_text("utf-8")
    found: list[Any] = []
    for query in ("hn220", "the engine", "zeppelin"):
        browser.open(search, width, dark=scheme == "dark", query=f"?q={query}")
        browser.run(f"{rules};0")
        found += browser.run(AXE)
    assert found == []


def test_results_are_valid_html(browser: Browser, search: Path, tmp_path: Path) -> None:
    browser.open(search, 820, query="?q=gearcase+bolts")
    assert len(shown(browser)) > 5
    page = "<!DOCTYPE html>\n" + browser.run("document.documentElement.outerHTML")
    (tmp_path / "results.html").write_text(page, "utf-8")
    assert _vnu("--skip-non-html", str(tmp_path)) == ""
