"""What stands beside each other on paper has room, and what belongs together stays together."""

from __future__ import annotations

from collections.abc import Sequence

from docutils import nodes
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from putback.drawings.canvas import Canvas
from putback.drawings.ruler import ruler_drawing
from putback.drawings.stack import StackPiece, stack_drawings
from putback.model.forms import PartShape
from putback.sphinxext import nodes as own
from tests.printed import overlaps, words_of

from .conftest import Build, section, setup_block, step, steps, table

LABELS = ("Front end along the rod", "Back, outside", "Difference: largest minus smallest")
ROWS = range(32, 42)
"""Rows of tables: of one of these, the last row would find no room on the page of the others."""


def _readings() -> Sequence[nodes.Node]:
    scale = own.drawing("", svg=ruler_drawing(inches=False, label="scale"), alt="scale", beside="blank")
    lines = [own.blank(label=label, unit="mm") for label in LABELS]
    return [section("Measure", steps(step("1", "Measure the crankpin.", *lines, scale)))]


def test_lines_to_write_on_stand_below_each_other(manual: Build) -> None:
    book = manual({"index.rst": "Job\n===\n\n.. made:: job\n"}, {"job": _readings})
    assert (book.status, book.warnings) == (0, "")
    words = [word for page in words_of(book.pdf) for word in page]
    for label in LABELS:
        places = [next(at for word, at in words if word == part) for part in (label.split()[0], label.split()[-1])]
        assert abs(places[0].top - places[1].top) < 1, label
    assert len({round(at.left) for word, at in words if word == "mm" and at.left > 200}) == 1


def _tables() -> Sequence[nodes.Node]:
    def made(count: int) -> nodes.section:
        rows = [[f"T{count}R{number}", "one"] for number in range(count)]
        return section(f"Table {count}", table(["What", "Many"], rows))

    return [made(count) for count in ROWS]


def test_no_last_row_stands_alone_overleaf(manual: Build) -> None:
    files: dict[str, str | bytes] = {
        f"c{count}.rst": f"Rows {count}\n=======\n\n.. made:: t{count}\n" for count in ROWS
    }
    files["index.rst"] = "Guide\n=====\n\n.. toctree::\n\n" + "".join(f"   c{count}\n" for count in ROWS)
    parts = dict(zip(ROWS, _tables(), strict=True))
    # Each job begins a page.
    made = {f"t{count}": lambda part=part: [setup_block({"Purpose": "Try."}), part] for count, part in parts.items()}
    book = manual(files, made)
    assert (book.status, book.warnings) == (0, "")
    on_pages = {count: [shown for page in book.pages if (shown := page.count(f"T{count}R"))] for count in ROWS}
    assert any(len(pages) > 1 for pages in on_pages.values())
    assert [count for count, pages in on_pages.items() if pages[-1] == 1] == []


def test_a_head_with_nothing_in_it_is_not_printed(manual: Build) -> None:
    for heads, many in ((["", ""], 0), (["What", ""], 2)):
        made = table(heads, [["pull", "6 kN"], ["mass", "6 kg"]])
        book = manual({"index.rst": "Guide\n=====\n\n.. made:: t\n"}, {"t": lambda made=made: [made]})
        assert book.status == 0
        reader = PdfReader(book.pdf)
        items = [reader.get_object(at) for at in range(1, len(reader.xref[0]) + len(reader.xref_objStm) + 1)]
        assert sum(isinstance(item, DictionaryObject) and item.get("/S") == "/TH" for item in items) == many


def _foreign() -> Sequence[nodes.Node]:
    canvas = Canvas(40, 10)
    canvas.words((1, 6), "liner 水 no 4", 4)
    return [section("Pump", own.drawing("", svg=canvas.svg("Pump", "liner 水"), alt="liner 水"))]


def test_a_letter_that_no_font_has_is_a_question_mark_in_a_drawing(manual: Build) -> None:
    book = manual({"index.rst": "Job\n===\n\n.. made:: job\n"}, {"job": _foreign})
    assert book.status == 0
    assert "liner ? no 4" in " ".join(word for page in words_of(book.pdf) for word, _ in page)


def _long_stack() -> Sequence[nodes.Node]:
    pieces = [
        StackPiece(number=turn, shape=PartShape.COVER, name=f"piece-{turn}", told=f"piece {turn}")
        for turn in range(1, 61)
    ]
    first, *more = stack_drawings(pieces, label="Stack", lead="Off:")
    told = nodes.paragraph("", "", nodes.Text("All of it."))
    drawn = own.drawing("", told, svg=first.svg, alt=first.alt, more=more)
    return [section("Strip", steps(step("1", "Take off the first cover.", drawn), step("2", "Go on.")))]


def test_a_stack_that_is_higher_than_a_page_goes_on_on_the_next(manual: Build) -> None:
    book = manual({"index.rst": "Job\n===\n\n.. made:: job\n"}, {"job": _long_stack})
    assert (book.status, book.warnings) == (0, "")
    assert overlaps(book.pdf) == []
    places = [at for page in words_of(book.pdf) for word, at in page if word.startswith("piece-")]
    assert len(places) == 60
    assert all(at.bottom < 800 for at in places)
