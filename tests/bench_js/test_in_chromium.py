"""The machinery of the bench page, in the browser that it is made for: from a folder, with a real storage."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.bench_js.machinery import CHECKS, HARNESS, MACHINERY
from tests.browser.conftest import missing
from tests.browser.devtools import Browser, find_chromium


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    program = find_chromium()
    if program is None:
        missing("chromium")
    running = Browser(program)
    yield running
    running.close()


def page_of(folder: Path, *files: Path) -> Path:
    """Make a page that loads some scripts, in a folder of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    scripts = "".join(f'<script src="{file.as_uri()}"></script>' for file in files)
    page = folder / "page.html"
    page.write_text(f'<!doctype html><meta charset="utf-8"><title>x</title>{scripts}', "utf-8")
    return page


@pytest.mark.parametrize("checks", CHECKS, ids=lambda path: path.name)
def test_every_check_holds_in_chromium(checks: Path, chromium: Browser, tmp_path: Path) -> None:
    chromium.open(page_of(tmp_path, *MACHINERY, *HARNESS, checks), 800)
    results = json.loads(chromium.run("JSON.stringify(outcome())"))
    assert results
    assert [(name, error) for name, error in results if error] == []


OPENED = """
var bench = Putback.session.open(example(), {
  storage: function () { return window.localStorage; }, session: function () { return window.sessionStorage; },
  now: Date.now, folder: Putback.store.folderOf(location.href, "")
});
var heard = [];
window.addEventListener("storage", function (event) { bench.heard(event.key); });
bench.subscribe(function (state, notices) { heard.push.apply(heard, notices); });
"""


def opened(chromium: Browser, folder: Path) -> Any:
    """Open the page of the small job in a folder, and return what it says."""
    script = folder / "opened.js"
    folder.mkdir(parents=True, exist_ok=True)
    script.write_text(OPENED, "utf-8")
    chromium.open(page_of(folder, *MACHINERY, *HARNESS, script), 800)
    return said(chromium)


def said(chromium: Browser) -> Any:
    """Return what the page says is done, kept and off."""
    return json.loads(chromium.run("(s => JSON.stringify([s.done, s.kept, s.off.map(o => o.key)]))(bench.state())"))


def test_ticks_are_there_again_after_a_reload_and_stay_in_their_folder(chromium: Browser, tmp_path: Path) -> None:
    assert opened(chromium, tmp_path / "one") == [0, "yes", []]
    chromium.run('bench.tick("k1", true)')
    assert said(chromium) == [1, "yes", ["screws"]]
    assert opened(chromium, tmp_path / "two") == [0, "yes", []]
    assert opened(chromium, tmp_path / "one") == [1, "yes", ["screws"]]


def test_a_full_storage_is_told_and_loses_nothing(chromium: Browser, tmp_path: Path) -> None:
    opened(chromium, tmp_path / "full")
    chromium.run('bench.tick("k1", true)')
    chromium.run("""(() => { let size = 1 << 22;
        for (let turn = 0; size; turn += 1)
          try { localStorage.setItem("fill" + turn, "x".repeat(size)); } catch (error) { size = size >> 1; } })()""")
    try:
        chromium.run('bench.tick("k2", true)')
        assert said(chromium) == [2, "full", ["screws", "cover"]]
        assert chromium.run("heard.map(each => each.code + each.why).join()") == "kept-notfull"
        assert opened(chromium, tmp_path / "full") == [1, "full", ["screws"]]
    finally:
        chromium.run(
            'for (const key of Object.keys(localStorage)) if (key.startsWith("fill")) localStorage.removeItem(key)'
        )
    chromium.run('bench.tick("k2", true)')
    assert said(chromium) == [2, "yes", ["screws", "cover"]]


def test_a_denied_storage_is_told(chromium: Browser, tmp_path: Path) -> None:
    folder = tmp_path / "denied"
    script = folder / "denied.js"
    folder.mkdir()
    deny = 'Object.defineProperty(window, "localStorage", { get() { throw new DOMException("x", "SecurityError"); } });'
    script.write_text(deny + OPENED, "utf-8")
    chromium.open(page_of(folder, *MACHINERY, *HARNESS, script), 800)
    chromium.run('bench.tick("k1", true)')
    assert said(chromium) == [1, "no", ["screws"]]


def test_another_window_hears_what_is_ticked(chromium: Browser, tmp_path: Path) -> None:
    opened(chromium, tmp_path / "shared")
    chromium.run('bench.tick("k1", true)')
    frame = """new Promise(resolve => { const frame = document.createElement("iframe"); frame.src = location.href;
        frame.onload = () => { window.other = frame.contentWindow.bench; resolve(other.state().done); };
        document.body.append(frame); })"""
    assert chromium.run(frame) == 1
    heard = """new Promise(resolve => { window.addEventListener("storage", event => {
        if (event.key.includes("|sheet|"))
          resolve([bench.state().steps.k2.ticked, bench.state().steps.k1.ticked].join()); });
        other.tick("k2", true); })"""
    assert chromium.run(heard) == "true,true"
    assert chromium.run("heard.map(each => each.code).join()") == "other-tab"
