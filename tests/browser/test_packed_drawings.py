"""A drawing looks in a page as it does alone, whatever was left out of it for the page."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import pytest
from PIL import Image, ImageChops

import putback.sphinxext
from putback.drawings.packed import packed
from tests.browser.devtools import Browser
from tests.drawings.shipped import GUIDES, drawings

STATIC = Path(putback.sphinxext.__file__).parent / "static"


def shot(browser: Browser, svgs: Sequence[str], page: Path) -> Image.Image:
    """Return the picture of a page with drawings, in shades of grey."""
    styles = "".join(
        f'<link rel="stylesheet" href="{(STATIC / name).as_uri()}">' for name in ("putback.css", "putback-drawings.css")
    )
    shown = "".join(f'<figure class="drawing"><div class="drawn">{svg}</div></figure>' for svg in svgs)
    page.write_text(f'<!doctype html><html lang="en"><meta charset="utf-8">{styles}{shown}</html>', "utf-8")
    browser.open(page, 820)
    return Image.open(io.BytesIO(browser.picture())).convert("L")


@pytest.mark.parametrize("guide", GUIDES)
def test_a_drawing_in_a_page_looks_as_it_does_alone(browser: Browser, guide: str, tmp_path: Path) -> None:
    """Only the edge of a line differs, where it meets another: a pixel here and there, and a little."""
    every = drawings(guide)
    for at in range(0, len(every), 20):
        some = every[at : at + 20]
        alone = shot(browser, some, tmp_path / "alone.html")
        in_page = shot(browser, [packed(svg) for svg in some], tmp_path / "page.html")
        assert alone.size == in_page.size
        shades = ImageChops.difference(alone, in_page).histogram()
        assert max(shade for shade, many in enumerate(shades) if many) < 128, (guide, at)
        assert sum(shades[32:]) < 40, (guide, at)
        # The page is not empty.
        assert sum(alone.histogram()[:64]) > 5000
