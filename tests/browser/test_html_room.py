"""Nothing is wider than the screen, and what a finger has to hit is large enough."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.browser.devtools import Browser

WIDTHS = {"phone": 360, "tablet": 800, "desk": 1400}

MORE_WIDTHS = (320, 390, 639, 704, 768, 820, 1023, 1024, 1280)
"""Other screens, and both sides of where the layout changes, CSS pixels."""

TARGETS = """
[...document.querySelectorAll(
  "label.tick, .blank input, .masthead button, .masthead .to-index, .search-box input, .search-box button, "
  + ".contents a, .contents button, .turn a, .letters a, table.jobs th a")]
  .map(it => [it.outerHTML.slice(0, 90), it.getBoundingClientRect()])
  .filter(([, box]) => box.width > 0)
  .map(([html, box]) => [html, box.width, box.height])
"""


def test_no_page_scrolls_sideways(browser: Browser, pages: list[Path], long_manual: Path) -> None:
    every = [*pages, *sorted(long_manual.rglob("*.html"))]
    assert browser.sideways(every, [*WIDTHS.values(), *MORE_WIDTHS]) == []


def test_a_page_that_scrolls_sideways_is_found(browser: Browser, tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text(
        "<!DOCTYPE html><meta name=viewport content='width=device-width'><p style='width: 500px'>x", "utf-8"
    )
    found = browser.sideways([tmp_path / "page.html"], [390, 800])
    assert [(name, width) for name, width, _ in found] == [("page.html", 390)]


def test_a_wide_table_scrolls_in_its_own_box(browser: Browser, manual: Path) -> None:
    browser.open(manual / "workshop-notes.html", WIDTHS["phone"])
    box = browser.run("(it => [it.scrollWidth, it.clientWidth, it.tabIndex])(document.querySelector('.table-box'))")
    assert box[0] > box[1]
    assert box[2] == 0, "the box cannot be scrolled with the keyboard"
    browser.run("document.querySelector('.table-box').focus()")
    browser.press("ArrowRight", 39)
    moved = (
        "new Promise(done => { const start = Date.now(); const look = () => {"
        " const at = document.querySelector('.table-box').scrollLeft;"
        " if (at > 0 || Date.now() - start > 3000) done(at); else setTimeout(look, 20); }; look(); })"
    )
    assert browser.run(moved) > 0


def test_our_tables_do_not_scroll_in_the_pages_own_face(browser: Browser, pages: list[Path], request: Any) -> None:
    """Where columns have no room, rows are blocks; a table of ours scrolls in a face wider than the usual ones only."""
    columns = set()
    for page in pages:
        browser.open(page, 1400)
        for width in [*WIDTHS.values(), *MORE_WIDTHS]:
            browser.resize(width, touch=width < 1024)
            for scroll, room, display in browser.run(
                "[...document.querySelectorAll('.table-box[style]')].map(it =>"
                " [it.scrollWidth, it.clientWidth, getComputedStyle(it.firstElementChild).display])"
            ):
                columns.add((display, width in (320, 360, 390)))
                if request.node.callspec.params["browser"].shipped:
                    assert scroll <= room, (page.name, width)
                else:
                    assert scroll <= 1.25 * room, (page.name, width)
    assert columns == {("block", True), ("block", False), ("table", False)}


def test_rows_of_our_tables_become_labelled_values_on_a_phone(browser: Browser, manual: Path) -> None:
    browser.open(manual / "specifications.html", WIDTHS["phone"])
    first = "document.querySelector('table.torques td')"
    assert browser.run(f"getComputedStyle({first}, '::before').content") == '"Size, drive"'
    assert browser.run("getComputedStyle(document.querySelector('table.torques thead')).display") == "none"
    browser.open(manual / "specifications.html", WIDTHS["desk"])
    assert browser.run("getComputedStyle(document.querySelector('table.torques thead')).display") != "none"


@pytest.mark.parametrize("screen", WIDTHS)
def test_what_is_touched_is_44_pixels_high_and_wide(browser: Browser, pages: list[Path], screen: str) -> None:
    small: list[Any] = []
    for page in pages:
        browser.open(page, WIDTHS[screen], touch=screen != "desk")
        if screen != "desk":
            browser.run("document.querySelector('.open-contents').click()")
        targets = browser.run(TARGETS)
        assert targets
        small += [(page.name, *target) for target in targets if target[1] < 44 or target[2] < 44]
    assert small == []


def test_the_contents_open_and_close_by_touch_and_stand_open_on_a_desk(browser: Browser, job: Path) -> None:
    shown = "document.querySelector('#contents').getBoundingClientRect().width > 0"
    browser.open(job, WIDTHS["phone"], touch=True)
    assert browser.run(shown) is False
    browser.run("document.querySelector('.open-contents').click()")
    assert browser.run(shown) is True
    browser.run("document.querySelector('.close-contents').click()")
    assert browser.run(shown) is False
    browser.open(job, WIDTHS["desk"])
    assert browser.run(shown) is True


def test_a_tablet_turned_with_open_contents_keeps_its_page(browser: Browser, job: Path) -> None:
    browser.open(job, WIDTHS["tablet"], touch=True)
    browser.run("document.querySelector('.open-contents').click()")
    browser.send("Emulation.setDeviceMetricsOverride", width=1280, height=800, deviceScaleFactor=1, mobile=True)
    assert browser.run("document.querySelector('main').clientWidth") > 700
    assert browser.run("document.documentElement.scrollWidth") <= 1280


def test_pictures_are_no_wider_than_the_page(browser: Browser, pages: list[Path]) -> None:
    seen = 0
    for page in pages:
        browser.open(page, WIDTHS["phone"], touch=True)
        for width, natural in browser.run(
            "[...document.querySelectorAll('main img')].map(i => [i.width, i.naturalWidth])"
        ):
            seen += 1
            assert 0 < width <= WIDTHS["phone"], page.name
            assert natural > 0, f"{page.name}: a picture was not loaded"
    assert seen


def test_set_up_lists_stand_in_columns_where_they_fit(browser: Browser, job: Path) -> None:
    lefts = "new Set([...document.querySelectorAll('.set-up-list')].map(it => it.getBoundingClientRect().left)).size"
    browser.open(job, WIDTHS["phone"], touch=True)
    assert browser.run(lefts) == 1
    browser.open(job, WIDTHS["tablet"], touch=True)
    assert browser.run(lefts) > 1


LONG_WORDS = """
(() => {
  document.documentElement.lang = "de";
  const lists = [...document.querySelectorAll(".set-up-list:not(.safety-messages-in-this-job)")];
  return lists.flatMap(list => [...list.querySelectorAll("li")].map(item => {
    item.textContent = "lösungsmittelbeständige Handschuhe";
    const word = document.createRange();
    word.setStart(item.firstChild, 0);
    word.setEnd(item.firstChild, 23);
    return word.getClientRects().length;
  }));
})()
"""


def test_a_long_word_of_a_list_is_not_parted(browser: Browser, job: Path) -> None:
    for width in (360, 390, 500, 600, 700, 820, 1280):
        browser.open(job, width)
        lines = browser.run(LONG_WORDS)
        assert lines
        assert set(lines) == {1}, width


def test_text_of_a_step_is_large_enough_for_arm_s_length(browser: Browser, job: Path) -> None:
    browser.open(job, WIDTHS["tablet"], touch=True)
    size = browser.run("parseFloat(getComputedStyle(document.querySelector('.step-text')).fontSize)")
    assert size >= 20


DRAWINGS = """
[...document.querySelectorAll("figure.drawing svg")].filter(it => it.getClientRects().length).map(it => [
  it.querySelector("title").textContent,
  it.getBoundingClientRect().width / it.viewBox.baseVal.width
    * Math.min(...[...it.querySelectorAll("text")].map(text => parseFloat(getComputedStyle(text).fontSize))),
  it.parentElement.scrollWidth > it.parentElement.clientWidth && it.parentElement.tabIndex < 0,
  it.closest(".step")?.querySelector(".tick").getBoundingClientRect().bottom > it.getBoundingClientRect().top
    && it.getBoundingClientRect().left < it.closest(".step").querySelector(".step-text").getBoundingClientRect().left])
"""


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_drawings_can_be_read_and_stand_clear_of_the_number(browser: Browser, pages: list[Path], width: int) -> None:
    titles: list[str] = []
    for page in pages:
        browser.open(page, width, touch=width < 1024)
        for title, type_size, out_of_reach, over_number in browser.run(DRAWINGS):
            titles.append(title)
            assert type_size is None or type_size >= 9, (page.name, title, type_size)
            assert not out_of_reach, (page.name, title)
            assert not over_number, (page.name, title)
    assert any("true size" in title for title in titles)


def test_a_long_bolt_is_drawn_once_on_each_screen(browser: Browser, job: Path) -> None:
    shown = "[...document.querySelectorAll('figure.true-size .drawn')].map(it => it.getClientRects().length)"
    browser.open(job, 390, touch=True)
    phone = browser.run(shown)
    browser.open(job, 1280)
    desk = browser.run(shown)
    narrow = browser.run("[...document.querySelectorAll('figure.true-size .drawn')].map(it => it.matches('.narrow'))")
    assert any(narrow)
    assert [not here for here, small in zip(desk, narrow, strict=True) if small] == [True] * sum(narrow)
    assert sum(map(bool, phone)) == sum(map(bool, desk)) == len(narrow) - sum(narrow)
    assert phone != desk
