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


class Piece(NamedTuple):
    """What is shown of one page."""

    page: int
    """The page, from 1."""
    top: float
    """Points from the top of the page."""
    height: float
    """Points."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a printed guide; lengths in points."""

    folder: Path
    """Where the pages lie, one SVG each."""
    whole: tuple[float, float]
    """Width and height of a page."""
    left: float
    """Of the part, from the left edge of the page."""
    across: float
    """How wide the part is."""
    pieces: tuple[Piece, ...]
    """What is shown, from the top; more than one where the part goes over a page break."""

    @property
    def height(self) -> float:
        """How high the part is."""
        return sum(piece.height for piece in self.pieces)

    def drawing(self, scale: float = 1, folder: str = "") -> str:
        """Return Typst calls that draw the part, with its pages in a folder."""
        width, height = (length * scale for length in self.whole)
        drawn, y = [], 0.0
        for piece in self.pieces:
            page = f'image("{folder}{piece.page}.svg", width: {width}pt, height: {height}pt)'
            shown = f"place(dx: {-self.left * scale}pt, dy: {-piece.top * scale}pt, {page})"
            size = f"width: {self.across * scale}pt, height: {piece.height * scale}pt"
            drawn.append(f"place(dy: {y}pt, block({size}, clip: true, {shown}))")
            y += piece.height * scale
        return "\n".join(drawn)

    def draw(self, ppi: float = PPI) -> bytes:
        """Return the part as a PNG with a thin frame."""
        source = self.folder / f"part-{os.getpid()}.typ"
        source.write_text(
            f"#set page(width: {self.across}pt, height: {self.height}pt, margin: 0pt)\n#{{\n{self.drawing()}\n}}\n"
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
        return Part(self.folder, (width, height), 0, width, (Piece(first + number - 1, 0, height),))

    def between(self, doc: str, first: str, last: str, below: float | None = None) -> Part:
        """Return what stands from the place with the words `first` to that with the words `last`, both included.

        `below` is how much of the last is shown, in points, where nothing after it on its page says how far it goes.
        Raises `NotThereError` when one is missing, or when they are more than one page apart.
        """
        begin = self._find(doc, first, 0)
        end = self._find(doc, last, begin)
        pages = range(self.places[begin].page, self.places[end].page + 1)
        if len(pages) > 2:
            raise NotThereError(f"'{last}' is on page {pages[-1]}, '{first}' on page {pages[0]}")
        width, height, left, right, _ = _margins(self.folder / f"{pages[0]}.svg")
        # On whole points, so that pixels lie on pixels.
        side = math.floor(left - MARGIN)
        pieces = tuple(self._piece(page, begin, end, below) for page in pages)
        return Part(self.folder, (width, height), side, math.ceil(width - right + MARGIN) - side, pieces)

    def _piece(self, page: int, begin: int, end: int, below: float | None) -> Piece:
        """Return what one page has of the places from `begin` to `end`."""
        shown = [place for place in self.places[begin : end + 1] if place.page == page and place.doc]
        bottom = max(place.y for place in shown)
        _, height, _, _, foot = _margins(self.folder / f"{page}.svg")
        after = next((place for place in self.places[end + 1 :] if place.page == page and place.y > bottom), None)
        ends = height - foot if after is None else after.y - MARGIN if after.doc else after.y + MARGIN
        ends = ends if below is None else min(ends, bottom + below)
        top = math.floor(min(place.y for place in shown) - MARGIN)
        return Piece(page, top, math.ceil(ends) - top)

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
