"""Published procedures, written as guides in `tests/real/`: their faults are found, and nothing else is.

The sources are technical manuals of the US Army, works of the US government. Facts and figures only were taken. Beside
each guide stands its sheet, `tests/real/GUIDE.yaml`: the faults of the source by number, what is found of each, and
what is not found and why.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from ruamel.yaml import YAML

from putback.lint.run import check_guide
from putback.model.setting import Setting
from putback.units import Kind, disagreement, parse, parse_any

REAL = Path(__file__).parent / "real"
SHARED = Path(__file__).parent.parent / "shared"


class Expected(NamedTuple):
    """One finding."""

    at: str
    """File and line, as `machine.yaml:12`."""
    check: str
    message: str


@dataclass(frozen=True)
class Sheet:
    """What is known of one published procedure."""

    name: str
    """The guide's folder."""
    numbers: set[int]
    """Of the faults and good parts that were noted in the source."""
    good: set[int]
    """Of the good parts."""
    found: list[Expected]
    accounts: list[int]
    """Numbers of what is found, is not found yet, is said openly, or cannot be written, each as often as it is told."""
    reasons: list[str]
    """For findings that were not noted in the source, and for faults that are not found."""
    mends: list[dict[str, str]]
    """Changes after which nothing is found: `new` for `old`, or at the end of the file where `old` is not given."""


KINDS = ("fault", "also-right", "false-alarm")


def read_sheet(path: Path) -> Sheet:
    raw: dict[str, Any] = YAML(typ="safe").load(path)
    silent = {**raw.get("later", {}), **raw.get("said", {}), **raw.get("cannot-be-written", {})}
    assert all(len([kind for kind in KINDS if kind in each]) == 1 for each in raw["found"])
    return Sheet(
        name=path.stem,
        numbers={*raw["faults"], *raw.get("good", {})},
        good=set(raw.get("good", {})),
        found=[Expected(each["at"], each["check"], each["message"]) for each in raw["found"]],
        accounts=[each["fault"] for each in raw["found"] if "fault" in each] + list(silent),
        reasons=[*silent.values(), *(each[kind] for each in raw["found"] for kind in KINDS[1:] if kind in each)],
        mends=raw["mends"],
    )


SHEETS = [read_sheet(path) for path in sorted(REAL.glob("*.yaml"))]
each_sheet = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)


def found_in(folder: Path) -> list[Expected]:
    guide, findings, _ = check_guide(folder)
    assert not guide.unreadable
    return [
        Expected(
            f"{finding.span.path.removeprefix(f'{guide.shown}/')}:{finding.span.line}", finding.check, finding.message
        )
        for finding in findings
    ]


def test_every_guide_has_its_sheet() -> None:
    assert [sheet.name for sheet in SHEETS] == sorted(path.name for path in REAL.iterdir() if path.is_dir())
    assert len(SHEETS) == 10


@each_sheet
def test_the_faults_of_the_source_are_found_and_nothing_else(sheet: Sheet) -> None:
    assert found_in(REAL / sheet.name) == sheet.found


@each_sheet
def test_every_fault_of_the_source_is_accounted_for(sheet: Sheet) -> None:
    assert set(sheet.accounts) == sheet.numbers - sheet.good
    assert all(reason.endswith(".") for reason in sheet.reasons)


def copied(sheet: Sheet, folder: Path) -> Path:
    shutil.copytree(SHARED, folder / "shared")
    return Path(shutil.copytree(REAL / sheet.name, folder / sheet.name))


def mend(guide: Path, change: dict[str, str]) -> None:
    path = guide / change["file"]
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    old = change.get("old")
    assert old is None or old in text, f"{change['file']} has no {old!r}"
    path.write_text(text + change["new"] if old is None else text.replace(old, change["new"]), encoding="utf-8")


@each_sheet
def test_the_mended_guide_gives_nothing(sheet: Sheet, tmp_path: Path) -> None:
    guide = copied(sheet, tmp_path)
    for change in sheet.mends:
        mend(guide, change)
    assert found_in(guide) == []


@each_sheet
def test_every_mend_is_needed(sheet: Sheet, tmp_path: Path) -> None:
    """Without one of its mends a guide has a finding, or the mend does not fit: none is there for nothing."""
    for number in range(len(sheet.mends)):
        guide = copied(sheet, tmp_path / str(number))
        for change in sheet.mends[:number] + sheet.mends[number + 1 :]:
            mend(guide, change)
        assert found_in(guide) != [], sheet.mends[number]


@each_sheet
def test_the_page_says_what_it_is(sheet: Sheet) -> None:
    page = (REAL / sheet.name / "index.md").read_text(encoding="utf-8")
    source = re.search(r"^Source\n: US Army (TM [\w-]+(?:&P)?)", page, re.MULTILINE)
    assert source is not None
    assert source[1] in (REAL / sheet.name / "guide.yaml").read_text(encoding="utf-8")
    assert source[1] in (REAL / f"{sheet.name}.yaml").read_text(encoding="utf-8")
    assert all(f"\n{head}\n: " in page for head in ("Status", "Read", "Ours"))


def cells(page: str) -> list[list[str]]:
    lines = [line for line in page.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def test_the_published_belt_tensions_agree_in_both_units() -> None:
    rows = cells((REAL / "loader-alternator" / "index.md").read_text(encoding="utf-8"))
    assert [row[0] for row in rows] == ["3/8", "1/2", "5V", "11/16", "3/4", "15/16"]
    quantities = [parse_any(cell) for row in rows for cell in row[1:]]
    assert [quantity.kind for quantity in quantities] == [Kind.LENGTH, Kind.LENGTH, Kind.FORCE, Kind.FORCE] * 6
    assert [disagreement(quantity) for quantity in quantities] == [None] * 24


def test_a_belt_tension_that_slipped_a_line_is_seen() -> None:
    assert disagreement(parse("534 ± 22 N (90 ± 5 lbf)", Kind.FORCE)) is not None


def test_the_belt_tensions_of_the_machine_are_those_of_the_table() -> None:
    folder = REAL / "loader-alternator"
    rows = cells((folder / "index.md").read_text(encoding="utf-8"))
    guide, _, _ = check_guide(folder)
    assert guide.machine is not None
    settings = [thing for thing in guide.machine.things.values() if isinstance(thing, Setting)]
    assert {setting.limit.text for setting in settings if setting.limit} == {cell for row in rows for cell in row[3:]}
