"""A list to tick, printed on sheets of its own: no manual, and nothing of Sphinx."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from putback.typstpdf.escape import one_line, printed, unusual
from putback.typstpdf.press import ManualError, Reason, compile_manual, lay_out_fonts, limits_for, unprintable

TEMPLATE = Path(__file__).with_name("ticklist.typ")
"""The looks."""

MARK = "putback-supplies"
"""A keyword in the properties of the PDF: of it, a list is known again."""

PAPERS = {"a4": "a4", "letter": "us-letter"}
"""What Typst calls the papers."""


class TickRow(NamedTuple):
    """One line to tick."""

    amount: str
    """How many, or how much; may be nothing."""
    name: str
    """What."""
    number: str
    """Its number; may be nothing."""
    remark: str
    """What stands below it, smaller; may be nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TickList:
    """All that is printed."""

    title: str
    """The heading."""
    lines: tuple[str, ...]
    """What stands below it."""
    heads: tuple[str, str, str, str]
    """Over the boxes, the amounts, the names and the numbers."""
    parts: tuple[tuple[str, tuple[TickRow, ...]], ...]
    """Rows, each run of them with its heading."""
    page: tuple[str, str]
    """The words for `page 1 of 2`."""
    language: str
    """Its tag, `en` or `en-us`."""

    def texts(self) -> Iterator[str]:
        """Yield all words."""
        yield from (self.title, *self.lines, *self.heads, *self.page)
        for title, rows in self.parts:
            yield title
            for row in rows:
                yield from row


def print_ticks(wanted: TickList, paper: str, timestamp: int = 0) -> bytes:
    """Return a list as a PDF. Raises `ManualError` when it could not be printed."""
    with TemporaryDirectory() as folder:
        root = Path(folder)
        fonts = lay_out_fonts(root / "fonts")
        lacking = unprintable(unusual(wanted.texts()), fonts)

        def plain(text: str) -> str:
            return one_line(printed(text, lacking)).strip()

        language, _, region = wanted.language.partition("-")
        data = {
            "title": plain(wanted.title),
            "lines": [plain(line) for line in wanted.lines],
            "heads": [plain(head) for head in wanted.heads],
            "parts": [
                {"title": plain(title), "rows": [[plain(cell) for cell in row] for row in rows]}
                for title, rows in wanted.parts
            ],
            "page": [plain(word) for word in wanted.page],
            "language": language,
            "region": region or None,
            "paper": PAPERS[paper],
            "mark": MARK,
        }
        whole = json.dumps(data, ensure_ascii=False)
        (root / "list.json").write_text(whole, encoding="utf-8", newline="\n")
        source, output = root / TEMPLATE.name, root / "list.pdf"
        shutil.copyfile(TEMPLATE, source)
        made = compile_manual(source, output, root, fonts, timestamp, limits_for(len(whole), 0, 0))
        if made.errors:
            raise ManualError(*(Reason(remark.message) for remark in made.errors))
        return output.read_bytes()
