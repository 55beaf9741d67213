"""What a mechanic looks for stands where they look: waits, follow-ups, the state of threads, a piece left over."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from docutils import nodes

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.model.machine import Part
from putback.sheet import JobSheet, sheet_of
from putback.sphinxext.bench.tables import torque_table
from putback.sphinxext.bench.tray import FEW, by_size
from putback.sphinxext.chained import about, first_done
from putback.sphinxext.later import afterwards
from putback.sphinxext.pointers import Pointers
from putback.sphinxext.together import together
from putback.words import Language, catalogue
from tests.sphinxext.projects import build

ROOT = Path(__file__).parents[2]


@cache
def opened(guide: str) -> Opened:
    return open_guide(read_guide(ROOT / "procedures" / guide))


def of(guide: str, key: str) -> tuple[Job, JobSheet, Language]:
    job = opened(guide).guide.jobs[key]
    sheet = sheet_of(job, opened(guide))
    assert sheet is not None
    return job, sheet, catalogue(opened(guide))


def rows_of(node: nodes.Element) -> list[list[str]]:
    return [[cell.astext() for cell in row.findall(nodes.entry)] for row in node.findall(nodes.row)]


def test_a_piece_of_many_is_found_by_its_size_with_both_its_steps() -> None:
    _, sheet, words = of("ambry-g5", "head-gasket")
    made = by_size(sheet, words)
    heads, *rows = rows_of(made[-1])  # type: ignore[arg-type]
    assert heads == ["Size", "Piece", "Field", "Step off", "Step back"]
    counted = {row.thing.key: row for row in sheet.each_piece if row.out}
    bolts = counted["shroud-bolts"]
    found = [row for row in rows if row[1] == "Shroud bolts × 2"]
    assert [each[3:] for each in found] == [[*bolts.off, *bolts.on]]
    # Those of one size stand together, whatever they hold.
    same = [place for place, row in enumerate(rows) if row[0] == found[0][0]]
    assert same == [same[0], same[0] + 1]


def test_a_few_pieces_are_a_sentence() -> None:
    _, sheet, words = of("tarrick-d2", "impeller")
    (told,) = by_size(sheet, words)
    assert isinstance(told, nodes.paragraph)
    assert told.astext().count(": field ") == FEW


def test_the_list_of_torques_says_what_the_threads_must_be() -> None:
    torques = dict[str, str]()
    for guide, key in (("ambry-g5", "head-gasket"), ("tarrick-d2", "impeller")):
        _, sheet, words = of(guide, key)
        made = torque_table(sheet, words, [])
        assert made is not None
        heads, *rows = rows_of(made)
        torques |= {row[1].partition(":")[0]: row[heads.index("Torque, threads")] for row in rows}
    assert torques["Head bolts × 6"].endswith(", oiled")
    assert torques["Shroud bolts × 2"].endswith("), clean and dry")
    assert torques["Cam screw"].endswith("), with sealant")
    assert torques["Pump-foot bolts × 2"].endswith("lbf·ft)")


def facts(guide: str, key: str) -> dict[str, str]:
    job, sheet, words = of(guide, key)
    after = afterwards(job, sheet, opened(guide), words)
    return {fact["label"]: fact.astext() for fact in about(job, sheet, words, after)}


def test_the_longest_wait_and_what_follows_are_told_before_the_work() -> None:
    told = facts("hollin-20", "gear-oil")
    assert told["Time"].replace("\u00a0", " ") == "100 min; with a wait of 30 min, in step 17"
    assert "Follow-up" not in told
    told = facts("ambry-g5", "head-gasket")
    assert told["Follow-up"].replace("\u00a0", " ") == "After 10 running hours"
    assert told["Time"].replace("\u00a0", " ") == "6 h"


def test_what_is_done_first_is_told_as_the_step_tells_it() -> None:
    _, sheet, words = of("ambry-g5", "head-gasket")
    assert first_done(sheet, words).astext().startswith("Let the set stand overnight")
    _, sheet, words = of("tarrick-d2", "fuel-filter")
    assert "Close the fuel tap. It sits on the tank." in first_done(sheet, words).astext()


def test_a_job_does_not_lead_to_itself() -> None:
    job, sheet, words = of("tarrick-d2", "impeller")
    pointers = Pointers(opened("tarrick-d2"), words, job, sheet)
    found = list(pointers.pieces("As in {job impeller} and {job anode}.", ""))
    assert [piece["reftarget"] for piece in found if isinstance(piece, nodes.Element)] == ["anode"]
    assert "".join(piece.astext() for piece in found).count(job.title) == 1


def test_a_scale_says_of_what_it_is() -> None:
    _, sheet, words = of("tarrick-d2", "impeller")
    things = next(line.step.things for line in sheet.walk() if line.number == "21")
    cam = words.things["cam"]
    assert isinstance(cam, Part)
    assert cam.wear is not None
    assert cam.wear.limit is not None
    said = words.scaled(things, cam.wear.limit, None, wears=True)
    assert said.label == "Scale of the reading: height at the peak of the cam"


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("spits water within 30 s.", "spits water within 30\u00a0s."),
        ("cool for 15 min, then", "cool for 15\u00a0min, then"),
        ("about 2½ l", "about 2½\u00a0l"),
        ("the 13 mm spanner", "the 13\u00a0mm spanner"),
        ("step 3 in the book", "step 3 in the book"),
        ("after step 12 a rag", "after step 12 a rag"),
        ("screws 1 to 6 are long", "screws 1 to 6 are long"),
    ],
)
def test_no_line_ends_between_a_value_and_its_unit(written: str, printed: str) -> None:
    assert together(written) == printed


def test_a_page_is_printed_so(tmp_path: Path) -> None:
    (tmp_path / "index.md").write_text("# Book\n\nLet it cool for 15 min. Write `15 min`.\n", encoding="utf-8")
    build(tmp_path)
    page = (tmp_path / "_build/html/index.html").read_text(encoding="utf-8").replace("&#160;", "\u00a0")
    assert "cool for 15\u00a0min." in page
    assert '>15</span> <span class="pre">min<' in page  # as it is written
