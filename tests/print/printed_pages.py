"""A manual that was made, and what can be read on its pages."""

from __future__ import annotations

import re
import subprocess
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, NullObject, PdfObject

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.sphinxext.manual import build_manual


def flat(text: str) -> str:
    """Return text without blanks, hyphens and dots that a line's end may bring, in small letters."""
    return re.sub(r"[\s\u00a0\u202f\u00ad\u200b\u2060\u2010-]+", "", text).casefold()


class _Reader(HTMLParser):
    """Takes the words of the main part of a page, with the texts that are read aloud for pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.hidden += tag in ("script", "style", "head", "nav")
        self.words += [value for name, value in attrs if name == "alt" and value]

    def handle_endtag(self, tag: str) -> None:
        self.hidden -= tag in ("script", "style", "head", "nav")

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.words.append(data)


def words_of(page: Path) -> str:
    """Return the words of a page of HTML."""
    reader = _Reader()
    reader.feed(page.read_text(encoding="utf-8"))
    return " ".join(" ".join(reader.words).split())


def alternatives(tag: PdfObject) -> Iterator[str]:
    """Yield what is read aloud for the pictures below a tag of a PDF."""
    waiting = [tag]
    while waiting:
        tag = waiting.pop().get_object() or NullObject()
        if isinstance(tag, ArrayObject):
            waiting += tag
        elif isinstance(tag, DictionaryObject):
            if "/Alt" in tag:
                yield str(tag["/Alt"])
            waiting += [tag["/K"]] if "/K" in tag else []


@dataclass(frozen=True)
class Printed:
    """A guide on screen and on paper."""

    opened: Opened
    """The guide."""
    html: Path
    """The folder of its pages."""
    pdf: Path
    """Its PDF."""

    @property
    def guide(self) -> Guide:
        """What was printed."""
        return self.opened.guide

    @cached_property
    def pages(self) -> dict[str, str]:
        """The words of each page of HTML, by its name."""
        return {
            file.relative_to(self.html).with_suffix("").as_posix(): words_of(file)
            for file in sorted(self.html.rglob("*.html"))
        }

    @cached_property
    def screen(self) -> dict[str, str]:
        """The pages of HTML without blanks."""
        return {name: flat(words) for name, words in self.pages.items()}

    @cached_property
    def sheets(self) -> list[str]:
        """The words of each page of the PDF."""
        done = subprocess.run(["pdftotext", "-enc", "UTF-8", str(self.pdf), "-"], check=True, capture_output=True)
        return [" ".join(page.split()) for page in done.stdout.decode("utf-8").split("\f")]

    @cached_property
    def paper(self) -> list[str]:
        """The pages of the PDF without blanks, and what is read aloud for its pictures as a last one."""
        aloud = alternatives(PdfReader(self.pdf).root_object["/StructTreeRoot"])
        # Read across, the lines of one cell are parted by those beside it; read as it was written, they are not.
        command = ["pdftotext", "-raw", "-enc", "UTF-8", str(self.pdf), "-"]
        written = subprocess.run(command, check=True, capture_output=True).stdout.decode("utf-8").split("\f")
        return [flat(page) for page in (*self.sheets, " ".join(aloud), *written)]

    def on_screen(self, words: str, page: str = "") -> bool:
        """Tell whether words stand on a page of HTML, or on any."""
        sought = flat(words)
        return sought in self.screen[page] if page else any(sought in text for text in self.screen.values())

    def on_paper(self, words: str) -> bool:
        """Tell whether words stand in the PDF: on one page, or begun on one and ended on the next."""
        sought = flat(words)
        if any(sought in page for page in self.paper):
            return True
        cuts = range(_PIECE, len(sought) - _PIECE)
        return any(
            sought[:cut] in page and sought[cut:] in after
            for page, after in pairwise(self.paper)
            if sought[:_PIECE] in page
            for cut in cuts
        )


_PIECE = 4
"""Letters that a text has at least on each of two pages."""


def printed(root: Path, out: Path) -> Printed:
    """Make the manual of a guide."""
    opened = open_guide(read_guide(root))
    assert not opened.guide.faults, opened.guide.faults
    with warnings.catch_warnings():
        # MyST-Parser 5 still uses a name that Sphinx 9 calls old.
        warnings.filterwarnings("ignore", message=".*myst_parser.*")
        build_manual(opened, ("html", "pdf"), out)
    return Printed(opened, out / "html", next(out.glob("*.pdf")))
