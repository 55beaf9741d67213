"""What the page says to those who do not see it, and in which order."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from typing import Any

from tests.browser.devtools import Browser


def names(browser: Browser, role: str) -> list[str]:
    """Return the accessible names of all elements of a role, as the browser works them out."""
    tree = browser.send("Accessibility.getFullAXTree")["nodes"]
    return [
        node.get("name", {}).get("value", "")
        for node in tree
        if not node.get("ignored") and node.get("role", {}).get("value") == role
    ]


def test_every_box_says_which_step_it_ticks(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    browser.run("document.querySelectorAll('.bench-branch').forEach(it => { it.hidden = false })")
    named = names(browser, "checkbox")
    steps = [name for name in named if name.startswith("Step ")]
    numbers = browser.run("[...document.querySelectorAll('.step > .tick .number')].map(it => it.textContent)")
    # A branch may be read out behind the steps around it.
    assert sorted(f"Step {number} done" for number in numbers) == sorted(steps)
    counted = [name for name in named if not name.startswith("Step ")]
    assert "Impeller: counted" in counted
    assert len(set(named)) == len(named), "two boxes have the same name"


def test_every_place_to_write_has_a_name_of_its_own(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    named = names(browser, "textbox")
    assert any(re.fullmatch(r"Measured in mm, step [0-9]+[a-z]?", name) for name in named)
    assert "Signature" in named
    assert "" not in named
    assert len(set(named)) == len(named)


def test_a_safety_message_stands_before_the_steps_that_it_warns_of(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    order = browser.run(
        "[...document.querySelectorAll('.panel, .step')].map(it => it.matches('.panel')"
        " ? it.querySelector('.hazard').textContent.trim() : it.querySelector('.step-text').textContent.trim())"
    )
    running = next(i for i, text in enumerate(order) if text.startswith("A running outboard"))
    run = next(i for i, text in enumerate(order) if re.match(r"Run |Pull the starter rope", text))
    assert running < run
    last = browser.run(
        "[...document.querySelectorAll('.steps')].filter(it => it.lastElementChild.matches('.panel')).length"
    )
    assert last == 0, "a message ends a section: nothing follows that it warns of"


def test_a_safety_message_is_announced_with_its_signal_word(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    found = names(browser, "note")
    words = browser.run("[...document.querySelectorAll('.panel .signal')].map(it => it.textContent)")
    assert found == words
    assert {"Danger", "Warning", "Caution", "Notice"} == set(found)


def test_headings_begin_with_one_h1_and_skip_no_level(browser: Browser, pages: list[Path]) -> None:
    for page in pages:
        browser.open(page, 800)
        levels = browser.run("[...document.querySelectorAll('main :is(h1,h2,h3,h4,h5,h6)')].map(it => +it.tagName[1])")
        assert levels[0] == 1, page.name
        assert levels.count(1) == 1, page.name
        assert all(after <= before + 1 for before, after in pairwise(levels)), (page.name, levels)


def test_the_set_up_block_has_headings_one_below_the_job(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    assert set(browser.run("[...document.querySelectorAll('.set-up-list > :first-child')].map(it => it.tagName)")) == {
        "H2"
    }


def test_every_page_has_its_landmarks_its_language_and_a_way_past_the_masthead(
    browser: Browser, pages: list[Path]
) -> None:
    for page in pages:
        browser.open(page, 800)
        counts = browser.run(
            "['header', 'main', 'footer', 'nav'].map(it => document.querySelectorAll('body ' + it).length)"
        )
        assert counts[:3] == [1, 1, 1], page.name
        assert counts[3] >= 1, page.name
        assert browser.run("document.documentElement.lang") == "en-US"
        link = browser.run("(it => [it.className, it.getAttribute('href')])(document.querySelector('a[href]'))")
        assert link == ["skip-link", "#page"], page.name


def test_the_title_names_the_page_and_then_the_book(browser: Browser, manual: Path, job: Path) -> None:
    browser.open(job, 800)
    assert browser.run("document.title") == "Renew the water-pump impeller – Hollin 20"
    browser.open(manual / "index.html", 800)
    assert browser.run("document.title") == "Hollin 20"


def test_the_contents_mark_the_current_page_once(browser: Browser, pages: list[Path]) -> None:
    for page in pages:
        if page.name == "search.html":
            continue
        browser.open(page, 1400)
        # The index is also marked at the top of the page, where it is while the contents are closed.
        for part, most in ((".contents", 1), (".to-index", 1), ("", 2)):
            found = f"[...document.querySelectorAll('{part}[aria-current=page], {part} [aria-current=page]')]"
            current = browser.run(f"{found}.map(it => it.href.split('#')[0])")
            assert set(current) <= {page.resolve().as_uri()}, (page.name, part)
            assert len(current) <= most, (page.name, part)
        assert current, page.name


def test_what_to_read_first_is_on_the_first_page_and_on_each_job(browser: Browser, manual: Path) -> None:
    browser.open(manual / "index.html", 800)
    assert "Do not use it on a real motor." in browser.run("document.querySelector('.read-first').innerText")
    jobs = sorted((manual / "jobs").glob("*.html"))
    assert jobs
    for page in jobs:
        browser.open(page, 800)
        below = browser.run("document.querySelector('h1').nextElementSibling.className")
        assert below == "notice-line", page.name
    browser.open(manual / "safety.html", 800)
    assert browser.run("document.querySelector('.notice-line')") is None


def test_heads_of_tables_say_what_they_are_heads_of(browser: Browser, pages: list[Path]) -> None:
    seen = 0
    for page in pages:
        browser.open(page, 800)
        scopes: list[Any] = browser.run("[...document.querySelectorAll('th')].map(it => it.scope)")
        seen += len(scopes)
        assert set(scopes) <= {"col", "row"}, page.name
    assert seen


def test_pages_turn_back_and_forth(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    turn = browser.run("[...document.querySelectorAll('.turn a')].map(it => [it.rel, it.href])")
    assert [rel for rel, _ in turn] == ["prev", "next"]
    for _, href in turn:
        assert Path(href.split("#")[0].removeprefix("file://")).is_file()


def test_only_the_search_and_jobs_run_scripts_none_is_in_a_page_and_nothing_comes_from_the_network(
    browser: Browser, pages: list[Path]
) -> None:
    for page in pages:
        browser.open(page, 800)
        asked = browser.requested()
        assert asked, page.name
        assert [url for url in asked if not url.startswith("file:")] == [], page.name
        # The data of a job are a script only by name: nothing in them is run.
        run = "[...document.scripts].filter(it => it.type !== 'application/ld+json').map(it => it.getAttribute('src'))"
        scripts = browser.run(run)
        assert None not in scripts, page.name
        assert page.name == "search.html" or page.parent.name == "jobs" or scripts == [], page.name


def test_names_of_things_are_underlined_only_when_they_are_pointed_at(browser: Browser, job: Path) -> None:
    browser.open(job, 800)
    look = (
        "(it => [getComputedStyle(it).textDecorationLine, (it.focus({focusVisible: true}),"
        " getComputedStyle(it).textDecorationLine), getComputedStyle(it).outlineStyle])"
        "(document.querySelector('.step-text a'))"
    )
    assert browser.run(look) == ["none", "underline", "solid"]
