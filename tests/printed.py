"""Where the words of a printed manual stand, as `pdftotext` reads them: from outside Putback."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pypdf import PdfReader


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word stands on its page, pt."""

    left: float
    top: float
    right: float
    bottom: float


def words_of(pdf: Path) -> list[list[tuple[str, Place]]]:
    """Return the words of each page with their places."""
    done = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, check=True)
    words = re.compile(r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>')
    return [
        [(found[5], Place(*map(float, found.groups()[:4]))) for found in words.finditer(page)]
        for page in done.stdout.decode("utf-8").split("<page ")[1:]
    ]


def overlaps(pdf: Path) -> list[str]:
    """Return where words run into each other, with the page."""
    found = []
    for number, page in enumerate(words_of(pdf), 1):
        above: list[tuple[str, Place]] = []
        for other, b in sorted(page, key=lambda word: word[1].top):
            # Lines stand closer than their letters are high with all that could be above and below them.
            above = [(one, a) for one, a in above if a.bottom - b.top > 4]
            for one, a in above:
                across, down = min(a.right, b.right) - max(a.left, b.left), min(a.bottom, b.bottom) - b.top
                if across > 0.5 and down > 4:
                    found.append(f"page {number}: {one} {other}")
            above.append((other, b))
    return found


INSIDE, OUTSIDE, TOP, BOTTOM, TAB = (millimetres * 72 / 25.4 for millimetres in (24, 20, 24, 20, 12))
"""The margins of a page, and how far a tab of the thumb index reaches in from its edge, pt."""

EDGE = 4 * 72 / 25.4
"""What most printers leave unprinted along each edge, pt."""

LEAST = 1 / 3
"""A page of which less is used is nearly empty."""

TITLE = 20
"""The words of the title of a chapter are higher than this, pt, and no others."""

RULE = re.compile(r"q 1 0 0 -1 (\S+) (\S+) cm/c0 CS \S+ SCN 0\.3 w 4 M 0 0 m 0 (\S+) l")
"""A line between two columns, as the press draws it."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page, with what is drawn on it."""

    words: list[tuple[str, Place]]
    """Its words, the head and the foot line among them."""
    width: float
    """Width of the paper, pt."""
    height: float
    """Height of the paper, pt."""
    rules: list[Place]
    """Lines between columns."""
    left: float
    """Its left margin, pt."""
    right: float
    """Its right margin, pt."""
    tab_at_left: bool
    """Whether its outer edge is at the left."""

    @property
    def begins_chapter(self) -> bool:
        """Whether a chapter or job begins on it."""
        return any(at.bottom - at.top > TITLE for _, at in self.body)

    @property
    def for_notes(self) -> bool:
        """Whether it is an empty left-hand page, with lines to write on."""
        return [word for word, _ in self.body] == ["Notes"]

    @property
    def body(self) -> list[tuple[str, Place]]:
        """Its words between the head and the foot line, and between the margins."""
        return [
            (word, at)
            for word, at in self.words
            if at.top > TOP - 6 and at.bottom < self.height - BOTTOM + 6 and not self.is_tab(at)
        ]

    def is_tab(self, at: Place) -> bool:
        """Tell whether a word stands in the tab of the thumb index."""
        return at.right < TAB if self.tab_at_left else at.left > self.width - TAB

    @property
    def filled(self) -> float:
        """How much of its height is used, from 0 to 1."""
        lowest = max((at.bottom for _, at in self.body), default=TOP)
        return (lowest - TOP) / (self.height - TOP - BOTTOM)

    @property
    def lines(self) -> list[list[tuple[str, Place]]]:
        """Its lines, from the top down."""
        found: list[list[tuple[str, Place]]] = []
        for word, at in sorted(self.body, key=lambda item: (item[1].bottom, item[1].left)):
            if found and at.bottom - found[-1][0][1].bottom < 3:
                found[-1].append((word, at))
            else:
                found.append([(word, at)])
        return found


def sheets_of(pdf: Path, *, sided: bool = False) -> list[Sheet]:
    """Return the pages of a manual; with `sided` the even ones are left-hand pages."""
    sheets = []
    for number, (words, page) in enumerate(zip(words_of(pdf), PdfReader(pdf).pages, strict=True), 1):
        contents = page.get_contents()
        drawn = contents.get_data().decode("latin-1") if contents is not None else ""
        height = float(page.mediabox.height)
        rules = [
            Place(float(x), height - float(y), float(x), height - float(y) + float(long))
            for x, y, long in RULE.findall(drawn)
        ]
        verso = sided and number % 2 == 0
        left, right = (OUTSIDE, INSIDE) if verso else (INSIDE, OUTSIDE)
        sheets.append(Sheet(words, float(page.mediabox.width), height, rules, left, right, verso))
    return sheets


def layout_faults(pdf: Path, *, sided: bool = False, ends: bool = False) -> list[str]:
    """Return what is badly placed in a manual, each with its page; with `ends`, no chapter ends on a short page."""
    found = [f"words run into each other: {where}" for where in overlaps(pdf)]
    sheets = sheets_of(pdf, sided=sided)
    following = [sheet.begins_chapter for sheet in sheets[1:]] + [True]
    for number, (sheet, end) in enumerate(zip(sheets, following, strict=True), 1):
        told = [*_outside(sheet), *(_parted(sheet) if number > 1 and sheet.body else ())]
        if number > 2 and sheet.filled < LEAST and not sheet.for_notes and (ends or not end):
            told.append(f"only {sheet.filled:.0%} of the page is used")
        found += [f"page {number}: {fault}" for fault in told]
    return found


def _outside(sheet: Sheet) -> Iterator[str]:
    for word, at in sheet.words:
        inside = at.left >= sheet.left - 2 and at.right <= sheet.width - sheet.right + 2
        if not (inside or sheet.is_tab(at)) or at.top < 0 or at.bottom > sheet.height:
            yield f"'{word}' stands in the margin"
        if at.left < EDGE or at.right > sheet.width - EDGE or at.bottom > sheet.height - EDGE:
            yield f"'{word}' stands where a printer does not print"
        if at.top >= TOP - 6 and at.bottom > sheet.height - BOTTOM + 6 and at.top < sheet.height - BOTTOM - 2:
            yield f"'{word}' stands across the lower margin"
        middle = (at.top + at.bottom) / 2
        if any(
            at.left < rule.left - 1 and at.right > rule.left + 1 for rule in sheet.rules if _is_beside(rule, middle)
        ):
            yield f"'{word}' stands across a line between columns"


def _is_beside(rule: Place, height: float) -> bool:
    return rule.top < height < rule.bottom


def _parted(sheet: Sheet) -> Iterator[str]:
    """Yield what stands apart from what it belongs to."""
    first, last = (" ".join(word for word, _ in line) for line in (sheet.lines[0], sheet.lines[-1]))
    if first == "Sign-off":
        yield "the sign-off stands alone"
    if first.startswith("If ") and first.endswith(":"):
        yield f"'{first}' is parted from its test"
    if last.startswith("If ") and last.endswith(":"):
        yield f"'{last}' is parted from what to do"
    if max(at.bottom - at.top for _, at in sheet.lines[-1]) > 17:
        yield f"the heading '{last}' is parted from what it is of"
