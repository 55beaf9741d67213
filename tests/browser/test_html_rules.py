"""The pages as two judges from outside see them: the HTML checker of the W3C's Nu, and the accessibility rules of axe.

`PUTBACK_VNU` is the path of `vnu.jar` (npm package `vnu-jar`, needs Java), `PUTBACK_AXE` that of `axe.min.js` (npm
package `axe-core`).
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import missing
from tests.browser.devtools import Browser

AXE = """
axe.run(document, {resultTypes: ["violations"]}).then(result => result.violations.map(
  found => [found.id, found.help, found.nodes.map(node => node.html.slice(0, 120))]))
"""


def _tool(variable: str) -> Path:
    named = os.environ.get(variable, "")
    if not named or not Path(named).is_file():
        missing(f"the file of {variable} ({named or 'not set'})")
    return Path(named)


def _vnu(*args: str) -> str:
    jar = _tool("PUTBACK_VNU")
    java = shutil.which("java")
    if java is None:
        missing("java")
    command = [java, "-jar", str(jar), "--errors-only", "--format", "gnu", *args]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=300).stderr


def test_every_page_is_valid_html(manual: Path) -> None:
    assert _vnu("--skip-non-html", str(manual)) == ""


def without_containers(css: str) -> str:
    """Return a style sheet as one that the checker knows: it has not heard of container queries (CSS Conditional 5).

    What they ask is what `@media` may ask of a screen, and so is checked, as is all that stands in them. Nor has it
    heard of `paint-order` (SVG 2).
    """
    css = re.sub(r"^  paint-order: stroke;$", "", css, flags=re.MULTILINE)
    asked = re.sub(r"@container (?:[a-z]+ )?(?=\()", "@media ", css)
    return re.sub(r"^  container(?:-type)?: (?:[a-z]+ / )?inline-size;$", "", asked, flags=re.MULTILINE)


def test_the_style_sheets_are_valid(manual: Path, tmp_path: Path) -> None:
    sheets = []
    for name in ("manual.css", "putback.css", "putback-drawings.css", "putback-print.css", "putback-bench.css"):
        css = (manual / "_static" / name).read_text("utf-8")
        assert "@container" in css or name in ("putback-drawings.css", "putback-print.css", "putback-bench.css")
        (tmp_path / name).write_text(without_containers(css), "utf-8")
        sheets.append(str(tmp_path / name))
    assert _vnu("--css", *sheets) == ""


@pytest.mark.parametrize("fault", ["color: 3px", "wdith: 3px"])
def test_the_style_checker_finds_a_fault_in_a_container_query(tmp_path: Path, fault: str) -> None:
    css = f"@container ours (max-width: 3em) {{ p {{ {fault}; }} }}"
    (tmp_path / "bad.css").write_text(without_containers(css), "utf-8")
    assert "error" in _vnu("--css", str(tmp_path / "bad.css"))


def test_the_html_checker_finds_a_fault(tmp_path: Path) -> None:
    (tmp_path / "bad.html").write_text("<!DOCTYPE html><html lang=en><title>x</title><p id=a><p id=a>", "utf-8")
    assert "Duplicate ID" in _vnu("--skip-non-html", str(tmp_path))


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1400])
def test_no_page_breaks_a_rule_of_axe(browser: Browser, pages: list[Path], width: int, scheme: str) -> None:
    rules = _tool("PUTBACK_AXE").read_text("utf-8")
    broken: list[Any] = []
    for page in pages:
        browser.open(page, width, dark=scheme == "dark")
        browser.run(f"{rules};0")
        broken += [(page.name, *found) for found in browser.run(AXE)]
    assert broken == []


def test_axe_finds_a_fault(browser: Browser, job: Path) -> None:
    rules = _tool("PUTBACK_AXE").read_text("utf-8")
    browser.open(job, 800)
    browser.run("document.querySelector('.tick input').removeAttribute('aria-label')")
    browser.run("document.querySelector('.tick .number').remove()")
    browser.run(f"{rules};0")
    assert "label" in [found[0] for found in browser.run(AXE)]
