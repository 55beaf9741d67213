"""The page printed from the browser."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest
from pypdf import PdfReader

from tests.browser.devtools import Browser


def sheets(browser: Browser, page: Path) -> list[str]:
    """Return the text of each sheet."""
    browser.open(page, 1400, dark=True)
    reader = PdfReader(io.BytesIO(browser.paper()))
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


def test_paper_is_set_in_the_face_of_the_screen(browser: Browser, job: Path, request: pytest.FixtureRequest) -> None:
    browser.open(job, 1400)
    reader = PdfReader(io.BytesIO(browser.paper()))
    faces = {
        str(font.get_object()["/BaseFont"]).partition("+")[2].partition("-")[0]
        for sheet in reader.pages
        for font in fonts_of(sheet).values()
    }
    shipped = request.node.callspec.params["browser"].shipped
    assert faces == {"SourceSansPro" if shipped else "DejaVuSans"}


def test_paper_is_white_even_when_the_screen_is_dark(browser: Browser, job: Path) -> None:
    browser.open(job, 1400, dark=True)
    browser.send("Emulation.setEmulatedMedia", media="print")
    ground = browser.run("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
