"""Numbers, words and tables that are longer than usual: nothing runs into anything, in any face, on any screen."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any

import pytest
from sphinx.application import Sphinx
from sphinx.util.docutils import docutils_namespace, patch_docutils

from tests.browser.devtools import Browser
from tests.browser.long_guide import write_long_guide

WIDTHS = (320, 390, 768, 820, 1024, 1280, 1400)
"""Phones, tablets, desks, CSS pixels. At 1024 the contents take their room, and the page has least of a desk."""

MARKS = """
(() => {
  const letters = node => {
    const range = document.createRange();
    range.selectNodeContents(node);
    return range.getBoundingClientRect();
  };
  const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 0.5
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 0.5;
  const faults = [];
  for (const step of document.querySelectorAll('.step')) {
    const number = step.querySelector(':scope > .tick .number');
    const box = step.querySelector(':scope > .tick input');
    const others = [...step.querySelectorAll(
      ':scope > .step-body > *, :scope > .otherwise > :not(.step, [id*=branch]), :scope > .otherwise .tick > *')];
    for (const mark of [letters(number), box.getBoundingClientRect()])
      for (const other of others)
        if (meet(mark, other.matches('p, span') ? letters(other) : other.getBoundingClientRect()))
          faults.push([number.textContent, 'meets', other.className || other.tagName]);
    if (meet(letters(number), box.getBoundingClientRect())) faults.push([number.textContent, 'meets its box']);
    const one = document.createElement('span');
    one.textContent = '0';
    number.append(one);
    const line = one.getBoundingClientRect().height;
    one.remove();
    if (letters(number).height > 1.5 * line) faults.push([number.textContent, 'is broken']);
  }
  return faults;
})()
"""
"""What a number or its box runs into."""

OUTSIDE = """
[...document.querySelectorAll('main *')].filter(it => {
  const box = it.getBoundingClientRect();
  const scrolls = it.closest('.table-box, pre, .highlight');
  return !scrolls && box.width && (box.right > document.documentElement.clientWidth + 0.5 || box.left < -0.5);
}).map(it => [it.tagName, it.className])
"""
"""What sticks out of the page, even where no scroll bar shows it."""

NARROWEST = """
Math.min(...[...document.querySelectorAll('.step-text')].map(it => {
  const ch = document.createElement('span');
  ch.textContent = '0';
  it.append(ch);
  const width = ch.getBoundingClientRect().width;
  ch.remove();
  return it.getBoundingClientRect().width / width;
}))
"""
"""The width of the narrowest sentence of a step, digits of its own size of type."""


WITHIN = """
[...document.querySelectorAll('.set-up, .steps, .sign-off')].flatMap(own => {
  const room = own.getBoundingClientRect();
  return [...own.querySelectorAll('*')].filter(it => {
    const box = it.getBoundingClientRect();
    if (!box.width || it.parentElement.closest('.table-box')) return false;
    return box.right > room.right + 1 || box.left < room.left - 1;
  }).map(it => [it.tagName, it.className]);
})
"""
"""What sticks out of our blocks."""


@pytest.fixture(scope="session")
def haul(long_manual: Path) -> Path:
    """Return the page of the job with 120 steps."""
    return long_manual / "jobs" / "haul.html"


def open_whole(browser: Browser, page: Path, width: int, *, touch: bool = False) -> None:
    """Open a page with all branches of its steps open."""
    browser.open(page, width, touch=touch)
    browser.run("document.querySelectorAll('[hidden=until-found]').forEach(it => it.removeAttribute('hidden'))")


def test_the_page_has_what_is_to_be_tried(browser: Browser, haul: Path) -> None:
    open_whole(browser, haul, 800)
    numbers = browser.run("[...document.querySelectorAll('.step .number')].map(it => it.textContent)")
    assert {"100", "120", "26ca", "101m", "101w", "101wa", "101wbc"} <= set(numbers)


@pytest.mark.parametrize("width", WIDTHS)
def test_a_number_runs_into_nothing(browser: Browser, haul: Path, width: int) -> None:
    open_whole(browser, haul, width, touch=width < 1024)
    assert browser.run(MARKS) == []


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_sticks_out_of_the_page(browser: Browser, long_manual: Path, width: int) -> None:
    found: list[Any] = []
    for page in sorted(long_manual.rglob("*.html")):
        browser.open(page, width, touch=width < 1024)
        found += [(page.name, *what) for what in browser.run(OUTSIDE)]
    assert found == []


@pytest.mark.parametrize("width", WIDTHS)
def test_a_sentence_three_branches_down_has_room(browser: Browser, haul: Path, width: int) -> None:
    open_whole(browser, haul, width, touch=width < 1024)
    assert browser.run(NARROWEST) >= (12 if width > 320 else 8)


@pytest.mark.parametrize("width", WIDTHS)
def test_the_sentences_of_a_section_begin_in_one_line(browser: Browser, haul: Path, width: int) -> None:
    open_whole(browser, haul, width, touch=width < 1024)
    lefts: list[list[float]] = browser.run(
        "[...document.querySelectorAll('.steps, .otherwise')].map(list => [...new Set("
        "[...list.querySelectorAll(':is(:scope, :scope > [id*=branch]) > .step > .step-body')]"
        ".map(it => Math.round(it.getBoundingClientRect().left)))])"
    )
    # A number with the widest letters may take more room than is kept.
    assert [places for places in lefts if max(places) - min(places) > 12] == []


def test_a_face_that_comes_late_moves_nothing_into_anything(browser: Browser, haul: Path) -> None:
    """The column is as wide as the face asks that is there in the end, not as that of the first moment."""
    open_whole(browser, haul, 800)
    browser.run("document.fonts.ready.then(() => 0)")
    column, digit = browser.run(
        "(it => { const ch = document.createElement('span'); ch.textContent = '0'.repeat(100);"
        " ch.style.whiteSpace = 'nowrap'; it.querySelector('.step-body').append(ch);"
        " const width = ch.getBoundingClientRect().width / 100; ch.remove();"
        " return [parseFloat(getComputedStyle(it).gridTemplateColumns), width]; })"
        "(document.querySelector('.steps[style*=\": 3\"] > .step'))"
    )
    rem = browser.run("parseFloat(getComputedStyle(document.documentElement).fontSize)")
    assert column == pytest.approx(max(5.9 * rem, 3.1 * rem + 6 * digit), abs=0.5)


@pytest.mark.parametrize("width", WIDTHS)
def test_a_table_that_scrolls_can_be_scrolled_by_keyboard(browser: Browser, long_manual: Path, width: int) -> None:
    for page in sorted(long_manual.rglob("*.html")):
        browser.open(page, width, touch=width < 1024)
        boxes = browser.run(
            "[...document.querySelectorAll('main table')].map(it => it.closest('.table-box'))"
            ".map(it => it && [it.tabIndex, getComputedStyle(it).overflowX])"
        )
        assert all(box == [0, "auto"] for box in boxes), page.name


@pytest.fixture(scope="session")
def other_theme(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the page of the same job in a project with a theme that knows nothing of us."""
    place = tmp_path_factory.mktemp("other")
    guide = write_long_guide(place)
    settings = {"extensions": ["myst_parser", "putback.sphinxext"], "html_theme": "alabaster", "project": "Other"}
    with warnings.catch_warnings(), patch_docutils(), docutils_namespace():
        warnings.simplefilter("ignore")
        Sphinx(guide, None, place / "out", place / "trees", "html", settings, status=None, warning=None).build()
    return place / "out" / "jobs" / "haul.html"


def test_another_theme_keeps_its_own_face(browser: Browser, other_theme: Path) -> None:
    browser.open(other_theme, 1280)
    look = "getComputedStyle(document.querySelector('{}')).fontFamily"
    assert browser.run(look.format(".step-text")) == browser.run(look.format("div.body"))
    assert "Source Sans" not in browser.run(look.format(".step-text"))


@pytest.mark.parametrize("width", WIDTHS)
def test_our_nodes_hold_in_another_theme(browser: Browser, other_theme: Path, width: int) -> None:
    browser.open(other_theme, width, touch=width < 1024)
    assert browser.run(MARKS) == []
    assert browser.run(NARROWEST) >= 8
    assert browser.run(WITHIN) == []
