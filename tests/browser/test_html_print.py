"""The page printed from the browser."""

from __future__ import annotations

import io
from pathlib import Path

from pypdf import PdfReader

from tests.browser.devtools import Browser


def sheets(browser: Browser, page: Path) -> list[str]:
    """Return the text of each sheet."""
    browser.open(page, 1400, dark=True)
    reader = PdfReader(io.BytesIO(browser.paper()))
    return [" ".join(sheet.extract_text().split()) for sheet in reader.pages]


def test_paper_has_the_steps_and_not_the_navigation(browser: Browser, job: Path) -> None:
    text = " ".join(sheets(browser, job))
    assert "Renew the water-pump impeller" in text
    assert "Disconnect the spark-plug leads" in text
    assert "Signature" in text
    assert "Contents" not in text
    assert "How to use this book" not in text
    assert "Skip to the page" not in text


def test_a_safety_message_is_on_the_sheet_of_the_step_below_it(browser: Browser, job: Path) -> None:
    printed = sheets(browser, job)
    pairs = browser.run(
        "[...document.querySelectorAll('.panel + .step')].map(it =>"
        " [it.previousElementSibling.querySelector('.hazard'), it.querySelector('.step-text')]"
        ".map(p => p.textContent.trim().replace(/\\s+/g, ' ')))"
    )
    assert pairs
    for hazard, step in pairs:
        assert any(hazard[:40] in sheet and step[:25] in sheet for sheet in printed), (hazard, step)


def test_paper_is_white_even_when_the_screen_is_dark(browser: Browser, job: Path) -> None:
    browser.open(job, 1400, dark=True)
    browser.send("Emulation.setEmulatedMedia", media="print")
    ground = browser.run("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
