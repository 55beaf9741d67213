"""The sheet of one job: every piece has one place, its steps are those of the sheet, and paper has it at true size."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
import segno
from docutils import nodes
from pypdf import PageObject, PdfReader

from putback.drawings.code import QUIET, code_drawing
from putback.drawings.ruler import ruler_drawing
from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.model.machine import Part
from putback.sheet import CountBack, JobSheet, sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.masthead import address_of
from putback.sphinxext.bench.outlined import outlined
from putback.sphinxext.bench.tables import torque_table
from putback.sphinxext.bench.tray import places_of, tray
from putback.sphinxext.manual import build_manual
from putback.words import catalogue
from tests.conftest import Putback, Write

ROOT = Path(__file__).parents[2]
GUIDES = sorted(path.parent.name for path in ROOT.glob("procedures/*/guide.yaml"))
POINT = 25.4 / 72


@cache
def shipped(name: str) -> Opened:
    return open_guide(read_guide(ROOT / "procedures" / name))


def sheets(name: str) -> Iterator[tuple[Job, JobSheet]]:
    opened = shipped(name)
    for job in opened.guide.jobs.values():
        sheet = sheet_of(job, opened)
        assert sheet is not None
        yield job, sheet


def named_at(sheet: JobSheet, number: str, row: CountBack) -> bool:
    """Tell whether the step of a number names the thing of a row."""
    key = row.thing.of or row.thing.key
    lines = [line for line in sheet.walk() if line.number == number]
    return any(ref.name in (key, row.thing.key) for line in lines for ref in line.step.things)


@pytest.mark.parametrize("guide", GUIDES)
def test_each_piece_that_comes_off_has_its_steps(guide: str) -> None:
    for job, sheet in sheets(guide):
        for row in sheet.each_piece:
            assert all(named_at(sheet, number, row) for number in (*row.off, *row.on)), (job.key, row)
            begun = any(away.what.thing is not None and away.what.thing.key == row.thing.key for away in sheet.begins)
            assert not row.out or row.off or begun, (job.key, row)
            assert bool(row.on) == bool(row.back or row.new) or row.out > row.back, (job.key, row)


@pytest.mark.parametrize("guide", GUIDES)
def test_each_piece_of_the_count_back_has_one_place(guide: str) -> None:
    opened = shipped(guide)
    words = catalogue(opened)
    labels = words.labels.tray
    for job, sheet in sheets(guide):
        place = places_of(sheet, opened, words)
        made = tray(sheet, opened, words, "tray")
        fields = [field for node in made for field in node.findall(own.tray_field)]
        assert [field["number"] for field in fields] == [str(number) for number in range(1, len(fields) + 1)]
        told = [place(row) for row in sheet.count_back]
        numbered = [number for each in told for number in re.findall(r"\d+", each)]
        assert sorted(numbered, key=int) == [field["number"] for field in fields], job.key
        for row, where in zip(sheet.count_back, told, strict=True):
            assert (where == "–") == (row.out == 0), (job.key, row)
            if row.new >= row.out > 0:
                assert where == labels.old, (job.key, row)
        bare = sum(1 for row in sheet.each_piece if row.out) - len(fields)
        elsewhere = [part for node in made for part in node.findall(nodes.Text)]
        assert (
            bare == 0
            or any(labels.old_lead in each or labels.stays_lead in each for each in elsewhere)
            or any(labels.beside_lead in each for each in elsewhere)
        )


def test_fields_are_in_the_order_of_taking_off() -> None:
    opened = shipped("hollin-20")
    sheet = sheet_of(opened.guide.jobs["water-pump"], opened)
    assert sheet is not None
    made = tray(sheet, opened, catalogue(opened), "tray")
    said = [field.astext() for node in made for field in node.findall(own.tray_field)]
    steps = [int(found[1]) for each in said if (found := re.search(r"off at step (\d+)", each))]
    assert steps == sorted(steps)
    assert len(steps) > 15


def test_torques_stand_in_the_order_of_the_steps() -> None:
    opened = shipped("hollin-20")
    words = catalogue(opened)
    sheet = sheet_of(opened.guide.jobs["water-pump"], opened)
    assert sheet is not None
    table = torque_table(sheet, words, [tool for tool in opened.guide.library.tools.values() if tool.range])
    assert table is not None
    rows = [[cell.astext() for cell in row.children] for row in table.findall(nodes.row)][1:]
    assert [int(row[0]) for row in rows] == sorted(int(row[0]) for row in rows)
    assert ["Rear gearcase bolt", "35\xa0N·m", "torque wrench"] in [
        [row[1][:18], row[2][:6], row[3]] for row in rows
    ]  # with the wrench, and what is set


def test_the_code_is_that_of_the_address() -> None:
    opened = shipped("hollin-20")
    address = address_of(opened.guide.jobs["water-pump"], opened)
    assert address == "https://example.org/hollin-20/jobs/water-pump.html"
    svg = code_drawing(address, label="x")
    width = float(re.findall(r'viewBox="0 0 ([\d.]+)', svg)[0])
    expected = [list(map(bool, row)) for row in segno.make_qr(address, error="m").matrix]
    count = len(expected) + 2 * QUIET
    module = width / count
    seen = [[False] * count for _ in range(count)]
    for x, y, long, high in re.findall(r"M([\d.]+),([\d.]+)h([\d.]+)v([\d.]+)h-[\d.]+z", svg):
        assert math.isclose(float(high), module, abs_tol=0.01)
        for across in range(round(float(long) / module)):
            seen[round(float(y) / module)][round(float(x) / module) + across] = True
    assert [row[QUIET:-QUIET] for row in seen[QUIET:-QUIET]] == expected
    assert not any(any(row[:QUIET] + row[-QUIET:]) for row in seen)


@pytest.mark.parametrize(("inches", "long"), [(False, 100.0), (True, 101.6)])
def test_the_line_is_as_long_as_it_says(inches: bool, long: float) -> None:
    svg = ruler_drawing(inches=inches, label="x")
    start, end = re.findall(r'class="ruler" d="M([\d.]+),[\d.]+L([\d.]+),', svg)[0]
    assert math.isclose(float(end) - float(start), long, abs_tol=0.01)


def lines_of(page: PageObject) -> list[float]:
    """Return how long the straight lines of a page are, mm: those of its pictures too."""
    found: list[float] = []
    at: list[tuple[float, float]] = [(0.0, 0.0)]

    def see(operator: bytes, operands: list[float], matrix: list[float], text: list[float]) -> None:
        del text
        if operator in (b"m", b"l"):
            x, y = map(float, operands)
            here = (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
            if operator == b"l":
                found.append(math.dist(at[0], here) * POINT)
            at[0] = here

    page.extract_text(visitor_operand_before=see)
    return found


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_sheet_is_printed_whole_and_at_true_size(tmp_path: Path, paper: str) -> None:
    opened = shipped("tarrick-d2")
    built = build_manual(opened, ["pdf"], tmp_path, paper=paper, jobs=["impeller"])
    assert not built.warnings
    assert [path.name for path in built.files] == [f"tarrick-d2-impeller-{paper}.pdf"]
    pages = PdfReader(built.files[0]).pages
    text = "\n".join(page.extract_text() for page in pages).replace("\u200b", "")
    for wanted in (
        "Job sheet",
        "tarrick-d2/jobs/impeller.html",
        "Torques, in the order",
        "Count back",
        "Sign-off",
    ):
        assert wanted in text
    assert "Contents" not in text
    last = next(page for page in pages if "Parts tray" in page.extract_text())
    # It finds room on the page of what is signed.
    assert "Sign-off" in last.extract_text()
    # The line to measure, and the cover screws and guard bolts from their heads on.
    for long in (100, 12, 16, 55):
        assert any(math.isclose(line, long, abs_tol=0.05) for line in lines_of(last)), long


def test_round_parts_have_their_size() -> None:
    opened = shipped("hollin-20")
    washer = opened.guide.machine.things["lower-washer"] if opened.guide.machine else None
    assert isinstance(washer, Part)
    assert washer.size is not None
    assert washer.size.outside is not None
    (outline,) = outlined(washer, catalogue(opened))
    wide = float(washer.size.outside.to("mm").nominal or 0)
    assert re.findall(r'class="outside" cx="[\d.]+" cy="[\d.]+" rx="([\d.]+)"', outline.svg) == [f"{wide / 2:g}"]
    assert math.isclose(outline.width, wide, abs_tol=0.5)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["--job", "lok"], "there is no job 'lok' in pump; did you mean 'look'?"),
        (["--job", "zebra"], "there is no job 'zebra' in pump; there are look"),
        (["--job", "look", "--to", "html"], "--job makes a PDF: in HTML, each job has a page of its own; "),
        (["--job", "look", "--to", "pdf,html"], "leave html out of --to"),
        (["--job", "../look"], "there is no job '../look' in pump"),
        (["--job", ""], "there is no job '' in pump"),
    ],
)
def test_what_is_asked_wrongly(write_guide: Write, putback: Putback, asked: list[str], said: str) -> None:
    write_guide({})
    answer = putback("build", "pump", *asked)
    assert answer.code == 2
    assert said in answer.err
    assert answer.out == ""


@pytest.mark.parametrize("draft", [[], ["--draft"]])
def test_a_job_whose_file_cannot_be_read_is_there_and_is_not_printed(
    write_guide: Write, putback: Putback, draft: list[str]
) -> None:
    write_guide({"pump/jobs/torn.yaml": "job: [x\n"})
    answer = putback("build", "pump", "--job", "torn", "--out", "made", *draft)
    assert answer.code == 2
    assert "not-yaml at pump/jobs/torn.yaml:1:6" in answer.err
    assert "pump is not printed" in answer.err
    assert not Path("made").exists()


def test_a_sheet_needs_no_book_around_it(write_guide: Write, putback: Putback) -> None:
    # Other jobs are in the book; signs in a name stand for themselves; no address, no code; nothing comes off, no tray.
    text = "job: Look [at] it\nsteps:\n  - act: Do {job look} before. Then look.\n    on: lid\n"
    write_guide(
        {"pump/index.md": None, "pump/jobs/a[b]*.yaml": text, "pump/jobs/look.yaml": "job: Look\nsteps: [{note: x}]\n"}
    )
    answer = putback("build", "pump", "--job", "a[b]*", "--job", "a[b]*", "--draft", "--out", "made")
    assert answer.code == 0, answer.err
    assert answer.out == "made made/pump-a[b]--a4.pdf\n"
    text = " ".join(PdfReader("made/pump-a[b]--a4.pdf").pages[0].extract_text().split())
    assert "Do “Look” in the book before." in text
    assert "page 1 of 1" in text
    assert "Parts tray" not in text
    assert "on screen" not in text
