"""Which type the pages are set in: the face that they bring, for every letter; and what is to be without it is."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from sphinx.application import Sphinx
from sphinx.util.docutils import docutils_namespace, patch_docutils

import putback.sphinxext
from tests.browser.conftest import ROOT, made
from tests.browser.devtools import Browser

FONTS = Path(putback.sphinxext.__file__).parent / "theme" / "static" / "fonts"
OTHERS = sorted(path.parent for path in (ROOT / "procedures").glob("*/guide.yaml"))

LETTERS = """
(() => {
  const found = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const style = getComputedStyle(walker.currentNode.parentElement);
    if (style.fontFamily.startsWith('"DejaVu Sans Mono"')) continue;
    for (const letter of walker.currentNode.data) if (letter.trim()) found.add(letter);
  }
  for (const it of document.querySelectorAll('body *'))
    for (const part of ['::before', '::after', '::marker']) {
      const style = getComputedStyle(it, part);
      for (const letter of style.content + getComputedStyle(it).listStyleType) if (letter.trim()) found.add(letter);
    }
  return [...found];
})()
"""
"""Every letter of a page that is not in a face for code, with those that the style sheets add."""


def families(browser: Browser, selector: str) -> set[tuple[str, bool]]:
    """Return the faces in which the first such element's own letters are set, and whether the page brought each."""
    browser.send("DOM.enable")
    browser.send("CSS.enable")
    root = browser.send("DOM.getDocument", depth=0)["root"]["nodeId"]
    node = browser.send("DOM.querySelector", nodeId=root, selector=selector)["nodeId"]
    assert node, selector
    fonts: list[dict[str, Any]] = browser.send("CSS.getPlatformFontsForNode", nodeId=node)["fonts"]
    return {(font["postScriptName"], font["isCustomFont"]) for font in fonts}


@pytest.mark.parametrize(
    ("selector", "cut"),
    [
        ("h1", "Bold"),
        (".step-text", "Regular"),
        (".step-text a", "Semibold"),
        (".because", "It"),
        (".panel-notice .signal span", "BoldIt"),
        (".tick .number", "Bold"),
        ("figure.drawing .bolt + .turn", "Bold"),
        (".notice-line", "Regular"),
    ],
)
def test_a_machine_without_any_face_shows_the_pages_own(
    bare_browser: Browser, job: Path, selector: str, cut: str
) -> None:
    bare_browser.open(job, 800)
    assert families(bare_browser, selector) == {(f"SourceSansPro-{cut}", True)}


def test_letters_that_the_italics_lack_come_from_the_upright_cuts(bare_browser: Browser, job: Path) -> None:
    bare_browser.open(job, 800)
    bare_browser.run("document.querySelector('.because').textContent = 'above 2 MΩ → ☐'")
    bare_browser.run("document.fonts.ready.then(() => new Promise(done => setTimeout(done, 200)))")
    assert families(bare_browser, ".because") == {("SourceSansPro-It", True), ("SourceSansPro-Regular", True)}


def test_the_browser_that_is_to_be_without_the_face_is(browser: Browser, job: Path, request: Any) -> None:
    browser.open(job, 800)
    found = families(browser, "h1")
    if request.node.callspec.params["browser"].shipped:
        assert found == {("SourceSansPro-Bold", True)}
    else:
        assert found == {("DejaVuSans-Bold", False)}


@pytest.fixture(scope="session")
def documentation(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the documentation's HTML."""
    place = tmp_path_factory.mktemp("docs")
    with warnings.catch_warnings(), patch_docutils(), docutils_namespace():
        warnings.simplefilter("ignore")
        Sphinx(ROOT / "docs", ROOT / "docs", place / "html", place / "doctrees", "html", status=None).build()
    return place / "html"


def lacking(browser: Browser, folder: Path) -> list[tuple[str, str]]:
    """Return the letters of pages that the pages' own face does not have."""
    has = TTFont(FONTS / "SourceSansPro-Regular.woff2").getBestCmap() or {}
    found: list[tuple[str, str]] = []
    for page in sorted(folder.rglob("*.html")):
        browser.open(page, 1400)
        letters = browser.run(LETTERS)
        assert len(letters) > 20, page.name
        found += [(page.name, letter) for letter in letters if ord(letter) not in has]
    return found


@pytest.mark.parametrize("guide", OTHERS, ids=lambda guide: guide.name)
def test_every_letter_of_a_guide_is_in_the_pages_own_face(bare_browser: Browser, guide: Path, tmp_path: Path) -> None:
    assert lacking(bare_browser, made(guide, tmp_path)) == []


def test_every_letter_of_the_documentation_is_in_the_pages_own_face(bare_browser: Browser, documentation: Path) -> None:
    assert lacking(bare_browser, documentation) == []


def test_a_letter_that_the_face_lacks_is_found(bare_browser: Browser, tmp_path: Path) -> None:
    words = "".join(chr(ord("a") + at) for at in range(26))
    (tmp_path / "page.html").write_text(f"<meta charset=utf-8><p>{words} \N{LEFT RIGHT ARROW}", "utf-8")
    assert lacking(bare_browser, tmp_path) == [("page.html", "\N{LEFT RIGHT ARROW}")]


def test_no_page_of_the_documentation_scrolls_sideways(browser: Browser, documentation: Path) -> None:
    assert browser.sideways(sorted(documentation.rglob("*.html")), [390, 768, 1024, 1400]) == []


def test_the_numbers_of_a_drawing_stay_in_their_bolts(browser: Browser, manual: Path) -> None:
    seen = 0
    for page in sorted(manual.rglob("*.html")):
        browser.open(page, 800)
        for bolt, number in browser.run(
            "[...document.querySelectorAll('figure.drawing .bolt + .turn')].map(it =>"
            " [it.previousElementSibling.getBoundingClientRect(), it.getBoundingClientRect()]"
            ".map(box => [box.left, box.right]))"
        ):
            seen += 1
            assert bolt[0] <= number[0]
            assert number[1] <= bolt[1]
    assert seen
