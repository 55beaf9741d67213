"""The page printed from the browser."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest
from pypdf import PdfReader

from tests.browser.devtools import Browser

SIZES = ("a4", "letter")


def sheets(browser: Browser, page: Path, size: str = "a4") -> list[str]:
    """Return the text of each sheet."""
    browser.open(page, 1400, dark=True)
    reader = PdfReader(io.BytesIO(browser.paper(size)))
    # Some faces have one letter for "fi" or "ff".
    return [" ".join(normalize("NFKC", sheet.extract_text()).split()) for sheet in reader.pages]


def test_paper_has_the_steps_and_not_the_navigation(browser: Browser, job: Path) -> None:
    text = " ".join(sheets(browser, job))
    assert "Renew the water-pump impeller" in text
    assert "Pull both spark-plug wires off" in text
    assert "Signature" in text
    assert "Contents" not in text
    assert "How to use this book" not in text
    assert "Skip to the page" not in text


@pytest.mark.parametrize("page", ["manual/jobs/water-pump.html", "long_manual/jobs/haul.html"])
def test_a_safety_message_is_on_the_sheet_of_the_step_below_it(
    browser: Browser, request: pytest.FixtureRequest, page: str
) -> None:
    folder, _, file = page.partition("/")
    printed = sheets(browser, request.getfixturevalue(folder) / file)
    pairs = browser.run(
        "[...document.querySelectorAll('.panel + .step')].map(it =>"
        " [it.previousElementSibling.querySelector('.hazard'), it.querySelector('.step-text')]"
        ".map(p => p.textContent.trim().replace(/\\s+/g, ' '))"
        ".concat(it.querySelector('.number').textContent))"
    )
    assert pairs
    for hazard, step, number in pairs:
        begins = f"{number} {step[:25]}"
        assert any(hazard[:40] in sheet and begins in sheet for sheet in printed), (hazard, begins)


@pytest.mark.parametrize(
    ("name", "before"), [("daily-checks", "Cowl"), ("water-pump", "F1"), ("anodes", "Anode plate")]
)
def test_the_block_to_sign_is_not_alone_on_a_sheet(browser: Browser, job: Path, name: str, before: str) -> None:
    last = sheets(browser, job.with_name(f"{name}.html"))[-1]
    assert before in last
    assert last.index(before) < last.index("Signature")


def fonts_of(sheet: Any) -> dict[str, Any]:
    """Return the fonts of a sheet of a PDF."""
    fonts: dict[str, Any] = sheet["/Resources"].get("/Font", {})
    return fonts


def faces_of(browser: Browser, page: Path) -> set[str]:
    """Return the faces that a page is printed in."""
    browser.open(page, 1400)
    return {
        str(font.get_object()["/BaseFont"]).partition("+")[2].partition("-")[0]
        for sheet in PdfReader(io.BytesIO(browser.paper())).pages
        for font in fonts_of(sheet).values()
    }


def test_paper_is_set_in_the_face_of_the_screen(browser: Browser, job: Path, request: pytest.FixtureRequest) -> None:
    faces = faces_of(browser, job)
    shipped = request.node.callspec.params["browser"].shipped
    assert faces == {"SourceSansPro" if shipped else "DejaVuSans"}


def test_paper_is_white_even_when_the_screen_is_dark(browser: Browser, job: Path) -> None:
    browser.open(job, 1400, dark=True)
    browser.send("Emulation.setEmulatedMedia", media="print")
    ground = browser.run("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"


@pytest.mark.parametrize("size", SIZES)
def test_a_job_takes_about_as_many_sheets_as_in_the_printed_manual(browser: Browser, job: Path, size: str) -> None:
    """The PDF of this job has 22 pages on A4; a face that is wider takes more."""
    shipped = "SourceSans" in "".join(faces_of(browser, job))
    assert len(sheets(browser, job, size)) <= (23 if shipped else 27)


@pytest.mark.parametrize("size", SIZES)
def test_each_sheet_says_which_it_is_of_how_many(browser: Browser, job: Path, size: str) -> None:
    printed = sheets(browser, job, size)
    for at, sheet in enumerate(printed, 1):
        assert f"{at} / {len(printed)}" in sheet


STEPS = """[...document.querySelectorAll('.step:not(.step .step)')].map(it => [
  it.querySelector('.number').textContent,
  it.querySelectorAll('.step').length,
  [...it.querySelectorAll('.step-text, .note, .tool, .because')].map(p => p.textContent)])"""
"""Each step that is in no branch: its number, how many steps its branches have, and its sentences."""


@pytest.mark.parametrize("size", SIZES)
def test_no_step_is_torn_but_one_with_a_long_branch(browser: Browser, job: Path, size: str) -> None:
    text = sheets(browser, job, size)
    found = [step for step in browser.run(STEPS) if step[1] < 5]
    assert len(found) > 100
    for number, _, sentences in found:
        # A line may end within a word.
        whole = ["".join(words.split())[:24] for words in sentences]
        assert any(all(part in "".join(sheet.split()) for part in whole) for sheet in text), (number, sentences)


@pytest.mark.parametrize("size", SIZES)
def test_the_head_of_a_table_is_on_each_of_its_sheets(browser: Browser, job: Path, size: str) -> None:
    rows = ("Shift-rod clip 1 1", "Impeller 1 1 1", "Housing seal 1 1 1")
    with_rows = [sheet for sheet in sheets(browser, job, size) if any(row in sheet for row in rows)]
    assert with_rows
    for sheet in with_rows:
        assert "Piece Out Back New Counted" in sheet


def test_a_scale_stands_beside_its_line_on_paper_and_a_high_drawing_is_smaller(browser: Browser, job: Path) -> None:
    browser.open(job, 680)
    browser.send("Emulation.setEmulatedMedia", media="print")
    beside = browser.run(
        "[...document.querySelectorAll('.blank + figure.small')].map(it => [it.getBoundingClientRect(),"
        " it.previousElementSibling.querySelector('input').getBoundingClientRect()])"
        ".map(([scale, line]) => [scale.top < line.bottom, scale.left >= line.right])"
    )
    assert beside
    assert {tuple(each) for each in beside} == {(True, True)}
    highs = browser.run(
        "[...document.querySelectorAll('figure.drawing:not(.true-size) svg')]"
        ".map(it => it.getBoundingClientRect().height * 25.4 / 96)"
    )
    assert 100 < max(highs) <= 136
    browser.send("Emulation.setEmulatedMedia", media="")
