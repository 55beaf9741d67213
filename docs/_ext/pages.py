"""The pages of a printed guide, made once for each state of it, and the parts of them that a picture shows."""

from __future__ import annotations

import hashlib
import json
import math
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

import typst

ROOT = Path(__file__).resolve().parents[2]
"""The folder of the source."""

PROGRAM = Path(__file__).with_name("printing.py")
"""What prints a guide."""

SOURCES = ("src", "shared", "schema", "docs/_ext")
"""What the look of a page depends on, beside the guide."""

PPI = 144
"""Pixels in one inch of paper: two in a point."""

MARGIN = 8.0
"""Points of paper around a part of a page."""


class Place(NamedTuple):
    """Where a step or a heading stands in a printed guide, or where a chapter ends."""

    page: int
    """The page, from 1."""
    y: float
    """Points from the top of the page."""
    doc: str
    """The document that it belongs to: `jobs/water-pump`; empty for the end of a chapter."""
    words: str
    """The words of the heading, or the number and the sentence of the step."""


class NotThereError(LookupError):
    """What is to be shown is not in the guide."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a printed page; lengths in points."""

    page: Path
    """The page, an SVG."""
    whole: tuple[float, float]
    """Width and height of the page."""
    left: float
    """Of the part, from the left edge of the page."""
    top: float
    """Of the part, from the top edge of the page."""
    across: float
    """How wide the part is."""
    height: float
    """How high the part is."""

    def draw(self, ppi: float = PPI) -> bytes:
        """Return the part as a PNG with a thin frame."""
        source = self.page.with_name(f"part-{os.getpid()}.typ")
        width, height = self.whole
        size = f"width: {width}pt, height: {height}pt"
        source.write_text(
            f"#set page(width: {self.across}pt, height: {self.height}pt, margin: 0pt)\n"
            f'#place(dx: {-self.left}pt, dy: {-self.top}pt, image("{self.page.name}", {size}))\n'
            "#place(rect(width: 100%, height: 100%, stroke: 0.8pt + luma(150)))\n",
            encoding="utf-8",
        )
        try:
            drawn = typst.compile(str(source), format="png", ppi=ppi, ignore_system_fonts=True)
        finally:
            source.unlink()
        assert isinstance(drawn, bytes)
        return drawn


@dataclass(frozen=True, slots=True)
class Printed:
    """A guide that was printed."""

    folder: Path
    """Where its pages lie, one SVG each."""
    places: tuple[Place, ...]
    """Where its steps and headings stand, from the front to the back."""

    def page(self, doc: str, number: int = 1) -> Part:
        """Return a whole page, counted from the first of a document, or of the book. Raises `NotThereError`."""
        first = next((place.page for place in self.places if place.doc == doc), None) if doc else 1
        if first is None:
            raise NotThereError(f"the guide has no page '{doc}'")
        path = self.folder / f"{first + number - 1}.svg"
        if not path.is_file():
            raise NotThereError(f"the guide ends before page {number} of '{doc or 'the book'}'")
        width, height, *_ = _margins(path)
        return Part(path, (width, height), 0, 0, width, height)

    def between(self, doc: str, first: str, last: str, below: float | None = None) -> Part:
        """Return a page from the place with the words `first` to that with the words `last`, both with what is below.

        `below` is how much of the last is shown, in points, where nothing after it says how far it goes. Raises
        `NotThereError` when one is missing, or when they are not on one page.
        """
        begin = self._find(doc, first, 0)
        end = self._find(doc, last, begin)
        top, bottom = self.places[begin], self.places[end]
        if top.page != bottom.page:
            raise NotThereError(f"'{last}' is on page {bottom.page}, '{first}' on page {top.page}")
        path = self.folder / f"{top.page}.svg"
        width, height, left, right, foot = _margins(path)
        after = next((place for place in self.places[end + 1 :] if place.page == top.page and place.y > bottom.y), None)
        ends = height - foot if after is None else after.y - MARGIN if after.doc else after.y + MARGIN
        ends = ends if below is None else min(ends, bottom.y + below)
        # On whole points, so that pixels lie on pixels.
        side, head = math.floor(left - MARGIN), math.floor(top.y - MARGIN)
        across, high = math.ceil(width - right + MARGIN) - side, math.ceil(ends) - head
        return Part(path, (width, height), side, head, across, high)

    def _find(self, doc: str, words: str, start: int) -> int:
        for at, place in enumerate(self.places[start:], start):
            if place.doc == doc and _plain(words) in _plain(place.words):
                return at
        raise NotThereError(f"'{doc}' has no step or heading '{words}'")


def _plain(words: str) -> str:
    return " ".join(words.split()).casefold()


_SIZE = re.compile(rb'viewBox="0 0 ([\d.]+) ([\d.]+)"')

_MM = 72 / 25.4


@cache
def _margins(page: Path) -> tuple[float, float, float, float, float]:
    """Return width and height of a page, and its left, right and lower margin, in points."""
    found = _SIZE.search(page.read_bytes())
    assert found is not None
    return float(found[1]), float(found[2]), 24 * _MM, 18 * _MM, 22 * _MM


def printed(guide: Path, paper: str, store: Path) -> Printed:
    """Return a guide as printed pages; printed anew only when it, or what prints it, has changed.

    Raises `RuntimeError` when it cannot be printed.
    """
    folder = store / f"{guide.name}-{paper}-{_state(guide)}"
    if not (folder / "places.json").is_file():
        folder.mkdir(parents=True, exist_ok=True)
        ran = subprocess.run(
            [sys.executable, str(PROGRAM), str(guide), paper, str(folder)],
            env={**os.environ, "PYTHONPATH": os.pathsep.join(map(str, filter(None, sys.path)))},
            capture_output=True, text=True, check=False,
        )  # fmt: skip
        if ran.returncode:
            raise RuntimeError(ran.stderr.strip()[-2000:])
    places = json.loads((folder / "places.json").read_text(encoding="utf-8"))
    ordered = sorted((Place(**place) for place in places), key=lambda place: (place.page, place.y))
    return Printed(folder, tuple(ordered))


def _state(guide: Path) -> str:
    """Return a name for what a guide is now, and for what prints it."""
    found = hashlib.sha256(_program().encode())
    for path in sorted(guide.rglob("*")):
        if path.is_file():
            found.update(f"{path.relative_to(guide)}\0".encode() + path.read_bytes() + b"\0")
    return found.hexdigest()[:16]


@cache
def _program() -> str:
    found = hashlib.sha256(typst.__version__.encode())
    for path in sorted(path for folder in SOURCES for path in (ROOT / folder).rglob("*")):
        if path.is_file() and path.suffix != ".pyc":
            found.update(path.read_bytes())
    return found.hexdigest()
