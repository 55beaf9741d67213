"""The PDF as a file: valid, the same bytes each time, never half of one, clean messages when there is none."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdf
import pytest
from docutils import nodes

from putback.typstpdf import builder as building
from putback.typstpdf import setup_typst
from putback.typstpdf.builder import slug
from putback.typstpdf.press import Printed, Remark

from .conftest import Build, para, section
from .test_typst_job import job_files, whole_job

SMALL = {"index.rst": "Start\n=====\n\nWords.\n"}


def bookmarks(reader: pypdf.PdfReader) -> list[Any]:
    def titles(entries: Any) -> list[Any]:
        return [titles(entry) if isinstance(entry, list) else entry.title for entry in entries]

    return titles(reader.outline)


def test_it_is_pdf_ua_1_with_title_language_and_tags(manual: Build) -> None:
    book = manual(job_files(), {"job": whole_job}, putback_title="Tarrick D2", putback_authors=["A. Mechanic"])
    reader = pypdf.PdfReader(book.pdf)
    root: Any = reader.trailer["/Root"]
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Tarrick D2", "A. Mechanic")


def test_bookmarks_are_the_headings_without_those_of_the_set_up_block(manual: Build) -> None:
    reader = pypdf.PdfReader(manual(job_files(), {"job": whole_job}).pdf)
    sections = ["Make safe", "Take apart", "Inspect", "Put together", "Prove", "Count back"]
    # The number is that of its tab.
    expected = ["1 Replace the raw-water pump impeller", sections, "2 Fill the coolant", sections]
    assert bookmarks(reader) == expected


def test_the_signs_have_words_for_those_who_cannot_see_them(manual: Build) -> None:
    reader = pypdf.PdfReader(manual(job_files(), {"job": whole_job}).pdf)
    items: list[Any] = [reader.get_object(at) for at in range(1, len(reader.xref[0]) + len(reader.xref_objStm) + 1)]
    figures = [item for item in items if isinstance(item, dict) and item.get("/S") == "/Figure"]
    alts = [figure.get("/Alt") for figure in figures]
    # Four panels a job carry the sign; a notice carries none.
    assert alts == ["safety alert symbol"] * 8


def test_a_book_of_many_chapters_comes_to_rest(manual: Build) -> None:
    """Each is as high as a page and a bit less: set one behind the other, they would end higher and higher up."""
    chapters = [f"c{at}" for at in range(14)]
    files = {"index.rst": "Start\n=====\n\n.. toctree::\n\n   " + "\n   ".join(chapters) + "\n"}
    for at, name in enumerate(chapters):
        words = f"Words of a chapter that are longer than a line, and lead on to :doc:`c{(at * 5 + 3) % 14}`. "
        files[f"{name}.rst"] = f"Chapter {at}\n==========\n\n" + "\n\n".join([words] * 20) + "\n"
    book = manual(files)
    assert (book.status, book.warnings) == (0, "")
    assert len(book.pages) == 2 + len(chapters)


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_paper(manual: Build, paper: str, size: tuple[int, int]) -> None:
    reader = pypdf.PdfReader(manual(SMALL, putback_paper=paper).pdf)
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in reader.pages} == {size}


def test_an_unknown_paper_is_told_of(manual: Build) -> None:
    book = manual(SMALL, putback_paper="foolscap")
    assert book.status == 1
    assert "ERROR: putback_paper is 'foolscap', expected one of a4, letter" in book.warnings


def test_cover_contents_heads_and_feet(manual: Build) -> None:
    book = manual(
        job_files(),
        {"job": whole_job},
        putback_title="Tarrick D2",
        putback_subtitle="Repair jobs",
        putback_edition="Edition 3",
        putback_date="2026-11-25",
        putback_authors=["A. Mechanic", "B. Fitter"],
        putback_licence="CC BY 4.0",
        putback_notice="These jobs can hurt you.",
        putback_draft=True,
    )
    pages = book.pages
    cover, contents, *rest = pages
    for words in (
        "DRAFT, NOT CHECKED",
        "Tarrick D2 Repair jobs",
        "Read this first These jobs can hurt you.",
        "Edition 3 · 2026-11-25 A. Mechanic, B. Fitter Licence: CC BY 4.0",
    ):
        assert words in cover
    assert "page 1" not in cover
    assert contents.index("These jobs can hurt you.") < contents.index("Contents", contents.index("first"))
    start = next(at for at, page in enumerate(pages, 1) if "Fill the coolant Restore" in page)
    assert f". {start}" in contents.replace("\u2060", "").split("Fill the coolant")[1]
    for number, page in enumerate(rest, 3):
        assert page.startswith("Tarrick D2 DRAFT, NOT CHECKED ")
        assert page.endswith(f"page {number} of {len(pages)}")
    assert "Replace the raw-water pump impeller" in rest[1][:90]
    assert "Fill the coolant" in rest[-1][:90]


def test_the_draft_mark_is_only_on_drafts(manual: Build) -> None:
    assert "DRAFT" not in manual(SMALL).text


def test_same_input_same_bytes(manual: Build, monkeypatch: pytest.MonkeyPatch) -> None:
    first = manual(job_files(), {"job": whole_job}, to="one").pdf.read_bytes()
    assert manual(job_files(), {"job": whole_job}, to="two").pdf.read_bytes() == first
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    assert manual(job_files(), {"job": whole_job}, to="three").pdf.read_bytes() != first


@pytest.mark.parametrize(
    ("epoch", "date", "day"),
    [("1700000000", "2026-11-25", "D:20231114"), ("", "2026-11-25", "D:20261125"), ("", "spring", "D:20000101")],
)
def test_the_date_in_the_file(manual: Build, monkeypatch: pytest.MonkeyPatch, epoch: str, date: str, day: str) -> None:
    if epoch:
        monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    reader = pypdf.PdfReader(manual(SMALL, putback_date=date).pdf)
    assert reader.metadata is not None
    assert str(reader.metadata["/CreationDate"]).startswith(day)


def test_language_of_the_pdf(manual: Build) -> None:
    root: Any = pypdf.PdfReader(manual(SMALL, language="en_GB").pdf).trailer["/Root"]
    assert root["/Lang"] == "en-GB"


@pytest.mark.parametrize(
    ("name", "expected"),
    [("Tarrick D2: manual", "tarrick-d2-manual"), ("../../etc/x", "etc-x"), ("", "manual"), ("Ünter 1", "ünter-1")],
)
def test_slug(name: str, expected: str) -> None:
    assert slug(name) == expected


def test_the_name_of_the_file(manual: Build) -> None:
    assert manual(SMALL, putback_pdf_name="Tarrick.pdf").pdf.name == "Tarrick.pdf"
    assert manual(SMALL, to="two").pdf.name == "tarrick-d2.pdf"


def test_a_failed_compile_leaves_the_old_manual_and_no_half_one(manual: Build, monkeypatch: pytest.MonkeyPatch) -> None:
    before = manual(SMALL).pdf.read_bytes()

    def fail(source: Path, output: Path, *rest: object) -> Printed:
        output.write_bytes(b"%PDF-half")
        line = source.read_text(encoding="utf-8").split("\n").index('"Words."') + 1
        return Printed((Remark("it broke", line), Remark("elsewhere", 0)), ())

    monkeypatch.setattr(building, "compile_manual", fail)
    book = manual(SMALL)
    assert book.status == 1
    assert "index.rst:4: ERROR: it broke" in book.warnings
    assert "ERROR: elsewhere" in book.warnings
    assert book.pdf.read_bytes() == before
    assert [path.name for path in book.pdf.parent.iterdir() if path.is_file()] == ["tarrick-d2.pdf"]


def test_a_compiler_that_dies_is_told_of(manual: Build, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    broken = tmp_path / "broken.py"
    broken.write_text("import os; os._exit(9)")
    monkeypatch.setattr("putback.typstpdf.press.PROGRAM", broken)
    book = manual(SMALL)
    assert book.status == 1
    assert (
        "ERROR: the press gave up: it broke down; no single page or picture was found to be the cause" in book.warnings
    )


def test_headings_never_skip_a_level(manual: Build) -> None:
    files = {
        "index.rst": "Start\n=====\n\n.. toctree::\n\n   low\n",
        "low.rst": ".. made:: low\n",
    }

    def low() -> list[nodes.Node]:
        bare = nodes.section(ids=["bare"])
        bare += section("Deep", para("Text."), section("Deeper", para("More.")))
        return [bare, section("Beside", para("Next."))]

    book = manual(files, {"low": low})
    assert (book.status, book.warnings.replace("\n", "")) == (0, "")
    assert bookmarks(pypdf.PdfReader(book.pdf)) == ["1 Deep", ["Deeper"], "2 Beside"]


def test_the_builder_prints_without_anything_of_putback(manual: Build, monkeypatch: pytest.MonkeyPatch) -> None:
    """Alone, it has no words of its own and no looks of jobs; both come from `sphinxext.paper`."""
    monkeypatch.setattr("tests.sphinxext.conftest.setup_paper", setup_typst)
    book = manual(SMALL)
    assert book.status == 0
    assert "contents" in book.text
    assert "Contents" not in book.text
