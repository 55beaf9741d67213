"""A job that is wholly for some variants says so once."""

from __future__ import annotations

from pathlib import Path

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sheet import JobSheet, sheet_of
from putback.sheet.scoped import scoped
from putback.words import catalogue

MACHINE = """
machine: Bench machine (invented)
options: {drive: [belt, gear], heater: [none, fitted]}
parts:
  cover: {when: {drive: gear}}
  valve: {when: {heater: fitted}}
"""
STEPS = """
job: Look at the gear
sections:
  - title: Open
    when: {drive: gear}
    steps:
      - remove: cover
      - inspect: valve
        for: [a leak]
        when: {heater: fitted}
        tools: [torch]
  - title: Close
%s    steps:
      - install: cover
        tools: [mallet]
"""
TOOLS = "torch: {name: torch}\nmallet: {name: mallet}\n"


def sheet(folder: Path, last: str) -> JobSheet:
    (folder / "jobs").mkdir(parents=True)
    (folder / "guide.yaml").write_text("title: Bench\n", encoding="utf-8")
    (folder / "machine.yaml").write_text(MACHINE, encoding="utf-8")
    (folder / "tools.yaml").write_text(TOOLS, encoding="utf-8")
    (folder / "jobs" / "look.yaml").write_text(STEPS % last, encoding="utf-8")
    guide = read_guide(folder)
    opened = open_guide(guide)
    found = sheet_of(guide.jobs["look"], opened)
    assert found is not None
    return scoped(found, catalogue(opened).only_when)


def limits(of: JobSheet) -> dict[str, bool]:
    return {str(row.what): row.when is not None for row in of.set_up.tools}


def test_what_all_of_the_job_is_for_is_said_once(tmp_path: Path) -> None:
    made = sheet(tmp_path, "    when: {drive: gear}\n")
    assert made.only is not None
    assert limits(made) == {"torch": True, "mallet": False}
    assert [part.when for part in made.sections] == [None, None]
    assert [row.when for row in made.count_back] == [None]


def test_a_job_that_only_in_part_is_for_some_says_it_at_each_row(tmp_path: Path) -> None:
    made = sheet(tmp_path, "")
    assert made.only is None
    assert limits(made) == {"torch": True, "mallet": True}
    assert [part.when is None for part in made.sections] == [False, True]
