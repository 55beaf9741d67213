"""What the script of a page is given: steps, limits, times, keys, and nothing that ends it."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Job
from putback.sheet import sheet_of
from putback.sheet.scoped import scoped
from putback.sphinxext.escaped import as_script
from putback.sphinxext.tracked import data_of, script_of
from putback.sphinxext.tracked import script as shipped
from putback.translation.guide import translated
from putback.words import catalogue
from tests.sphinxext.projects import GUIDE, build, write

MACHINE = """\
machine: Trial pump
options: {drive: [belt, gear]}
how-to-tell: {drive: {gear: A wheel turns it.}}
places: {cylinder: 2}
parts:
  lid: {}
  guard: {when: {drive: belt}}
  rocker: {each: cylinder}
fasteners:
  screws: {name: screw, count: 4, thread: M5 x 0.8, torque: 4 N·m, class: 8.8, order: crosswise, secures: lid}
"""

JOB = """\
job: Look under the lid
steps:
  - measure: gap
    limit: 0.10 to 0.20 mm
    name: gap-again
    outcomes:
      - found: "> 0.20 mm"
        steps:
          - act: Take a shim out.
          - back-to: gap-again
      - found: "< 0.10 mm"
        steps:
          - stop: Ask.
  - measure: bore
    readings: [along, across]
    limit: 40.0 to 40.1 mm
    difference: "<= 0.02 mm"
    otherwise:
      - stop: Renew it.
  - check: water
    limit: comes within 20 s
    otherwise:
      - stop: Look for the fault.
  - wait: 10 min
  - run: engine
    for: at most 10 s
  - inspect: rocker
  - act: Sweep.
  - act: Sweep.
  - inspect: guard
"""


def opened(tmp_path: Path, job: str = JOB, machine: str = MACHINE, **only: str) -> Opened:
    write(tmp_path, {"guide.yaml": "title: Trial\n", "machine.yaml": machine, "jobs/look.yaml": job})
    return open_guide(read_guide(tmp_path), tuple(only.items()))


def data(guide: Opened) -> dict[str, Any]:
    job = guide.guide.jobs["look"]
    sheet, words = sheet_of(job, guide), catalogue(guide)
    assert sheet is not None
    found = data_of(job, scoped(sheet, words.only_when), guide, words)
    assert found is not None
    return found


def step(data: dict[str, Any], number: str) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in data["steps"] if each["n"] == number)
    return found


def test_a_reading_has_its_limit_in_each_unit_that_the_page_prints(tmp_path: Path) -> None:
    found = step(data(opened(tmp_path)), "1")
    [blank] = found["blanks"]
    assert found["kind"] == "reading"
    assert [(each["unit"], each["limit"]) for each in blank["units"]] == [
        ("mm", [0.1, 0.2, False, False]),
        ("in", [0.0039, 0.0079, False, False]),
    ]
    for number in blank["units"][1]["limit"][:2]:
        assert f"{number}" in found["good"], "the script judges by another number than the page prints"


def test_a_unit_has_the_name_that_the_page_prints(tmp_path: Path) -> None:
    job = "job: Look under the lid\nsteps:\n  - measure: idle speed\n    limit: 850 to 950 rpm\n"
    [english], [german] = (
        step(data(open_guide(guide)), "1")["blanks"][0]["units"]
        for guide in (opened(tmp_path, job).guide, translated(opened(tmp_path, job).guide, "de"))
    )
    assert english == {"unit": "rpm", "limit": [850, 950, False, False]}
    assert german == english | {"shown": "1/min"}


def test_outcomes_say_which_values_lead_to_each(tmp_path: Path) -> None:
    found = step(data(opened(tmp_path)), "1")
    assert [branch["words"].replace("\u00a0", " ") for branch in found["branches"]] == [
        "If the value is more than 0.20 mm (0.0079 in):", "If the value is less than 0.10 mm (0.0039 in):",
    ]  # fmt: skip
    assert found["blanks"][0]["units"][0]["branches"] == [[0.2, None, True, False], [None, 0.1, False, True]]


def test_what_is_worked_out_of_readings_is_judged_by_its_own_limit(tmp_path: Path) -> None:
    blanks = step(data(opened(tmp_path)), "2")["blanks"]
    assert [blank["role"] for blank in blanks] == ["reading", "reading", "worked"]
    assert blanks[2]["of"] == "difference"
    assert blanks[0]["units"][0]["limit"] == [40.0, 40.1, False, False]
    assert blanks[2]["units"][0]["limit"] == [None, 0.02, False, False]


def test_times_are_waited_for_or_are_the_most_that_is_allowed(tmp_path: Path) -> None:
    found = data(opened(tmp_path))
    assert step(found, "3")["timer"] == {"seconds": 20.0, "most": True, "text": "20\u00a0s"}
    assert step(found, "4")["timer"] == {"seconds": 600.0, "most": False, "text": "10\u00a0min"}
    assert step(found, "5")["timer"] == {"seconds": 10.0, "most": True, "text": step(found, "5")["timer"]["text"]}


def test_a_back_to_names_its_step_and_what_hangs_on_it_names_what_it_hangs_on(tmp_path: Path) -> None:
    found = data(opened(tmp_path))
    back = step(found, "1b")
    assert (back["kind"], back["to"], back["up"]) == ("back", 0, [0, 0])
    assert step(found, "1c")["up"] == [0, 1]
    assert step(found, "1c")["kind"] == "stop"
    [row] = found["back"]
    assert row[5] == 0, "it goes on from the first moment"


def test_a_step_for_each_place_has_a_box_for_each(tmp_path: Path) -> None:
    found = data(opened(tmp_path))
    assert step(found, "6")["boxes"] == ["1", "2"]
    place = found["steps"].index(step(found, "6"))
    assert [boxes for at, *boxes in found["moments"] if at == place] == [[0], [1]]


def test_options_are_those_on_which_something_hangs_with_how_to_tell(tmp_path: Path) -> None:
    guide = opened(tmp_path)
    [option] = data(guide)["options"]
    assert (option["key"], option["title"]) == ("drive", "Drive")
    assert [(choice["key"], choice["tell"]) for choice in option["choices"]] == [
        ("belt", ""), ("gear", "A wheel turns it."),
    ]  # fmt: skip


def test_a_chosen_option_is_none_of_the_page(tmp_path: Path) -> None:
    found = data(opened(tmp_path, drive="gear"))
    assert found["options"] == []
    assert found["fixed"] == {"drive": "gear"}
    assert not [var for var in found["vars"] if var[0] == "o"]


def test_equal_steps_are_told_apart_by_which_they_are_and_of_how_many(tmp_path: Path) -> None:
    one, other = (step(data(opened(tmp_path)), number)["key"] for number in ("7", "8"))
    assert (one[-4:], other[-4:]) == (".1-2", ".2-2")
    assert one[:-4] == other[:-4]


@pytest.mark.parametrize(
    ("old", "new", "kept"),
    [
        ("  - wait: 10 min\n", "", True),
        ("job: Look under", "job: Look well under", True),
        ("  - measure: gap\n", "  - act: First.\n  - measure: gap\n", True),
        ("limit: 0.10 to 0.20 mm", "limit: 0.10 to 0.25 mm", False),
        ("  - measure: gap\n", "  - measure: gap\n    note: At the top.\n", False),
    ],
)
def test_a_step_keeps_its_key_while_it_says_the_same(tmp_path: Path, old: str, new: str, kept: bool) -> None:
    before = step(data(opened(tmp_path / "a")), "1")["key"]
    assert old in JOB
    steps = data(opened(tmp_path / "b", JOB.replace(old, new)))["steps"]
    assert (before in [each["key"] for each in steps]) is kept


def test_another_torque_in_the_machine_file_is_another_step(tmp_path: Path) -> None:
    job = "job: Tighten\nsteps:\n  - tighten: screws\n"
    one = data(opened(tmp_path / "a", job))
    other = data(opened(tmp_path / "b", job, MACHINE.replace("4 N·m", "5 N·m")))
    assert one["steps"][0]["key"] != other["steps"][0]["key"]
    assert one["digest"] != other["digest"]


def test_the_digest_is_that_of_what_the_page_does_and_not_of_its_words(tmp_path: Path) -> None:
    one = data(opened(tmp_path / "a"))
    again = data(opened(tmp_path / "b", JOB.replace("Look under the lid", "See under the lid")))
    other = data(opened(tmp_path / "c", JOB.replace("10 min", "12 min")))
    assert one["digest"] == again["digest"] != other["digest"]


def test_the_same_guide_gives_the_same_data(tmp_path: Path) -> None:
    assert as_script("PUTBACK_JOB", data(opened(tmp_path))) == as_script("PUTBACK_JOB", data(opened(tmp_path)))


def test_no_text_ends_the_script(tmp_path: Path) -> None:
    hostile = "</script><script>alert(1)</script><!--\u2028\u2029&amp;]]>"
    guide = opened(tmp_path)
    job = guide.guide.jobs["look"]
    named = replace(guide, guide=replace(guide.guide, jobs={"look": replace(job, title=hostile)}))
    text = as_script("PUTBACK_JOB", data(named))
    assert not re.search("[<>&\u2028\u2029]", text)
    assert json.loads(text.removeprefix("window.PUTBACK_JOB=").removesuffix(";\n"))["title"] == hostile


def test_the_script_stands_beside_its_page_and_only_there_where_a_job_is(tmp_path: Path) -> None:
    write(tmp_path, GUIDE)
    app, warnings = build(tmp_path)
    assert not warnings
    assert script_of(app, "jobs/seal") == "seal.job.js"
    text = (Path(app.outdir) / "jobs" / "seal.job.js").read_text(encoding="utf-8")
    assert json.loads(text.removeprefix("window.PUTBACK_JOB=").removesuffix(";\n"))["job"] == "seal"
    assert script_of(app, "index") is None
    assert script_of(app, "machine") is None


def test_a_block_of_the_same_name_as_a_job_keeps_sheets_of_its_own(tmp_path: Path) -> None:
    block = "block: Look\nown-page: true\nsteps:\n  - inspect: lid\n"
    write(tmp_path, {"blocks/look.yaml": block})
    guide = opened(tmp_path)
    sheet, words = sheet_of(guide.guide.blocks["look"], guide), catalogue(guide)
    assert sheet is not None
    found = data_of(guide.guide.blocks["look"], scoped(sheet, words.only_when), guide, words)
    assert found is not None
    assert found["job"] != data(guide)["job"]


def test_data_that_are_too_large_are_not_shipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, GUIDE)
    app, _ = build(tmp_path)
    monkeypatch.setattr(shipped, "LARGEST", 1_000)
    assert script_of(app, "jobs/seal") is None


def test_a_page_in_another_language_has_the_same_steps_and_digest() -> None:
    guide = read_guide(Path("procedures/sessel-w15"))
    pages: list[dict[str, Any]] = [{}, {}]
    for place, each in enumerate((guide, translated(guide, "de"))):
        made = open_guide(each)
        words = catalogue(made)
        for name, job in each.jobs.items():
            sheet = sheet_of(job, made)
            assert sheet is not None
            pages[place][name] = data_of(job, scoped(sheet, words.only_when), made, words)
    for name in guide.jobs:
        english, german = pages[0][name], pages[1][name]
        assert (english["decimal"], german["decimal"]) == (".", ",")
        assert english["title"] != german["title"]
        assert [step["key"] for step in english["steps"]] == [step["key"] for step in german["steps"]]
        assert english["digest"] == german["digest"]


def test_every_shipped_job_has_data_of_at_most_120_kilobytes() -> None:
    for folder in sorted(path.parent for path in Path("procedures").glob("*/guide.yaml")):
        guide = open_guide(read_guide(folder))
        words = catalogue(guide)
        for job in guide.guide.jobs.values():
            sheet = sheet_of(job, guide)
            assert sheet is not None
            found = data_of(job, scoped(sheet, words.only_when), guide, words)
            assert found is not None, job.path
            assert len(as_script("PUTBACK_JOB", found).encode()) <= 120_000, job.path
            _assert_whole(found, job)


def _assert_whole(found: dict[str, Any], job: Job) -> None:
    """Every number in the data is that of something there, and rows ask what lies higher before what lies lower."""
    sets, rows = len(found["rows"]) + 2, found["rows"]
    for number, (var, *children) in enumerate(rows):
        assert all(child < number + 2 for child in children), job.path
        assert all(rows[child - 2][0] < var for child in children if child > 1), job.path
    for thing in found["things"]:
        for _, changes in [row for rows in (thing["rows"], *thing.get("laps", {}).values()) for row in rows]:
            assert all(change[0] < sets and change[1] < len(found["values"]) for change in changes), job.path
    assert all(step < len(found["steps"]) for step, *_ in found["moments"]), job.path
    assert len({each["key"] for each in found["steps"]}) == len(found["steps"]), job.path
