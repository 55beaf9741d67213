"""What people and programs read of findings: one whole text report, and the exact form of the JSON."""

from __future__ import annotations

import importlib
import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from putback.lint import report
from putback.lint.fingerprint import fingerprints
from putback.lint.guides import lint
from putback.lint.report import formats, report_as
from putback.lint.report.json import finding_data
from putback.lint.report.json import write as as_json
from putback.lint.report.text import only_when, totals
from putback.lint.report.text import write as as_text
from putback.lint.result import Result
from putback.source.finding import Also, Finding, Level
from putback.source.span import Span
from tests.conftest import Putback, Write

VARIANTS = """\
machine: Bench pump
options:
  drive: [belt, gear]
parts:
  lid: {}
fasteners:
  screws: {name: screw, count: 4, thread: M5 x 0.8, torque: 4 N·m, class: 8.8, order: crosswise, secures: lid}
"""

STRIP = """\
job: Strip the pump
steps:
  - remove: screws
  - remove: lid
  - clean: lid
    figure: lid.svg
    waive:
      no-final-test: nothing to test
  - install: lid
    when: {drive: gear}
  - install: screws
    count: 3
    when: {drive: gear}
  - tighten: screws
"""

REPORT = """\
pump/jobs/strip.yaml

  four screws come off and never go back (only when drive = belt)
    3 |   - remove: screws
      |             ~~~~~~
      fix: add 'install: screws' with 'when: {drive: belt}' after 'install: screws' in line 11
      error left-off at pump/jobs/strip.yaml:3:13

  lid comes off and never goes back (only when drive = belt)
    4 |   - remove: lid
      |             ~~~
      fix: add 'install: lid' with 'when: {drive: belt}' after 'install: lid' in line 9
      error left-off at pump/jobs/strip.yaml:4:13

  the picture 'lid.svg' has no text for those who cannot see it
    6 |     figure: lid.svg
      |             ~~~~~~~
      fix: write 'figure: {image: …, alt: …}'
      warning no-alt-text at pump/jobs/strip.yaml:6:13

  there is no picture 'lid.svg' in images/
    6 |     figure: lid.svg
      |             ~~~~~~~
      fix: put it in pump/images
      error no-picture at pump/jobs/strip.yaml:6:13

  there is no finding of 'no-final-test' here to waive
    8 |       no-final-test: nothing to test
      |       ~~~~~~~~~~~~~
      warning bad-waiver at pump/jobs/strip.yaml:8:7

  four screws come out, but only three go back (only when drive = gear)
   11 |   - install: screws
      |              ~~~~~~
      line 3: taken out here
      error pieces-missing at pump/jobs/strip.yaml:11:14

  the job ends here without a test: no run, check or measurement follows the work on screws
   14 |   - tighten: screws
      |              ~~~~~~
      error no-final-test at pump/jobs/strip.yaml:14:14

2 jobs, 7 steps in 5 files: 5 errors, 2 warnings
"""


def test_a_whole_report(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/machine.yaml": VARIANTS, "pump/jobs/strip.yaml": STRIP})
    answer = putback("lint", "pump")
    assert answer.out == REPORT
    assert (answer.code, answer.err) == (1, "")


def test_the_form_of_the_json(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/machine.yaml": VARIANTS, "pump/jobs/strip.yaml": STRIP})
    data = putback("lint", "--format", "json", "pump").data
    assert list(data) == ["findings", "waived", "summary"]
    assert data["summary"] == {
        "files": 5, "jobs": 2, "steps": 7, "errors": 5, "warnings": 2, "advice": 0, "complete": True, "not_checked": [],
    }  # fmt: skip
    for found in data["findings"]:
        assert list(found) == [
            "check", "level", "path", "line", "column", "end_line", "end_column", "message", "variant", "also", "hint",
            "fingerprint",
        ]  # fmt: skip
    (found,) = (found for found in data["findings"] if found["check"] == "pieces-missing")
    assert found == {
        "check": "pieces-missing",
        "level": "error",
        "path": "pump/jobs/strip.yaml",
        "line": 11,
        "column": 14,
        "end_line": 11,
        "end_column": 20,
        "message": "four screws come out, but only three go back",
        "variant": {"drive": "gear"},
        "also": [
            {
                "path": "pump/jobs/strip.yaml",
                "line": 3,
                "column": 13,
                "end_line": 3,
                "end_column": 19,
                "message": "taken out here",
            }
        ],
        "hint": None,
        "fingerprint": found["fingerprint"],
    }


def test_nothing_found_is_an_empty_list(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    data = putback("lint", "--format", "json", "pump").data
    assert data["findings"] == []
    assert data["summary"] == {
        "files": 4, "jobs": 1, "steps": 1, "errors": 0, "warnings": 0, "advice": 0, "complete": True, "not_checked": [],
    }  # fmt: skip


def test_json_keeps_the_letters_of_the_trade() -> None:
    finding = Finding("bare-number", Level.ERROR, Span("a.yaml", 1, 2, 1, 3), "write '4 N·m'")
    assert "N·m" in as_json(Result((finding,)))
    assert json.loads(as_json(Result((finding,))))["findings"] == [
        finding_data(finding, fingerprints(Result((finding,)))[finding])
    ]


def result(*levels: Level, unreadable: bool = False) -> Result:
    findings = [Finding("left-off", level, Span("a.yaml", 1, 1, 1, 2), "it is off") for level in levels]
    return Result(tuple(findings), files=1, jobs=1, steps=2, unreadable=unreadable)


@pytest.mark.parametrize(
    ("found", "line", "code"),
    [
        (result(), "1 job, 2 steps in 1 file: everything goes back", 0),
        (result(Level.ERROR), "1 job, 2 steps in 1 file: 1 error", 1),
        (result(Level.WARNING, Level.WARNING), "1 job, 2 steps in 1 file: 2 warnings", 0),
        (result(Level.ADVICE), "1 job, 2 steps in 1 file: 1 advice", 0),
        (result(Level.ERROR, Level.ERROR, Level.WARNING), "1 job, 2 steps in 1 file: 2 errors, 1 warning", 1),
        (result(unreadable=True), "1 job, 2 steps in 1 file: not everything could be read", 2),
        (result(Level.ERROR, unreadable=True), "1 job, 2 steps in 1 file: 1 error, not everything could be read", 2),
    ],
)
def test_the_closing_line_and_the_exit_code(found: Result, line: str, code: int) -> None:
    assert totals(found) == line
    assert found.exit_code == code


def test_a_variant_in_words() -> None:
    assert only_when(()) == ""
    assert only_when((("shaft", "long"), ("drive", "gear"))) == " (only when shaft = long and drive = gear)"
    many = tuple((f"o{n}", "on") for n in range(100))
    assert only_when(many[:6]).count(" and ") == 5
    shown = " (only when o0 = on and o1 = on and o2 = on and o3 = on and o4 = on and 95 more choices)"
    assert only_when(many) == shown


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("thickness of the brake discs", "is"), ("play in the bearings", "is"), ("teeth of the gear", "are"),
        ("gear teeth", "are"), ("brake discs", "are"), ("cam, follower", "are"), ("bias", "is"), ("chassis", "is"),
        ("oil between the legs", "is"), ("feet", "are"), ("bosses", "are"), ("sealing areas", "are"),
        ("exhaust gas", "is"),
    ],
)  # fmt: skip
def test_what_is_asked_of_several_is_said_of_several(asked: str, said: str) -> None:
    assert only_when(((f"{asked} out of limit", "yes"),)) == f" (only when {asked} {said} out of limit)"


def test_places_in_other_files_have_their_names(write_guide: Write) -> None:
    write_guide({})
    also = (Also(Span("pump/machine.yaml", 3, 3, 3, 6), "the lid"),)
    finding = Finding("left-off", Level.ERROR, Span("pump/jobs/look.yaml", 3, 14, 3, 17), "it is off", also)
    assert "      pump/machine.yaml line 3: the lid\n" in as_text(Result((finding,)))


def test_a_place_in_a_file_that_is_gone_is_still_told(write_guide: Write) -> None:
    write_guide({})
    finding = Finding("left-off", Level.ERROR, Span("gone.yaml", 7, 1, 7, 3), "it is off")
    assert as_text(Result((finding,))).startswith("gone.yaml\n\n  it is off\n      error left-off at gone.yaml:7:1\n")


def test_marks_lie_under_what_they_mark_in_a_long_line(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/jobs/look.yaml": f"job: Look\nsteps:\n  - {{note: {'x' * 500}, fro: it, note2: {'y' * 500}}}\n"})
    lines = putback("lint", "pump").out.split("\n")
    marked = [
        lines[number - 1][line.index("~") : line.rindex("~") + 1] for number, line in enumerate(lines) if "~" in line
    ]
    assert marked == ["fro", "note2"]


def test_colour_changes_nothing_else(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/machine.yaml": VARIANTS, "pump/jobs/strip.yaml": STRIP})
    putback("lint", "pump")
    roles = set()

    def paint(text: str, role: str) -> str:
        roles.add(role)
        return text

    assert as_text(lint([Path("pump")]), paint) + "\n" == REPORT
    assert roles == {"path", "error", "warning", "mark", "also", "hint", "check", "bad"}


def test_a_form_of_report_is_one_file(tmp_path: Path, write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    """A module in the folder is a form by its name, and nothing else has to know of it."""
    own = formats()
    assert own[0] == "text"
    (tmp_path / "lines.py").write_text(
        '"""Findings as lines."""\nFOR_PROGRAMS = True\n'
        "def write(result, paint):\n    return chr(10).join(finding.check for finding in result.findings)\n",
        encoding="utf-8",
    )
    monkeypatch.setattr(report, "__path__", [*report.__path__, str(tmp_path)])
    assert formats() == ["text", *sorted({*own, "lines"} - {"text"})]
    program = importlib.reload(importlib.import_module("putback.cli.lint"))
    monkeypatch.chdir(write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n  - remove: lid\n"}))
    answer = CliRunner().invoke(program.command, ["--format", "lines"])
    assert answer.output == "blocked\nleft-off\n"
    monkeypatch.undo()
    importlib.reload(program)
    sys.modules.pop("putback.lint.report.lines")


@pytest.mark.parametrize("name", formats())
def test_every_form_says_what_it_is(name: str) -> None:
    form = report_as(name)
    assert (form.__doc__ or "").splitlines()[0].endswith(".")
    assert not form.write(Result()).endswith("\n")
    assert isinstance(form.FOR_PROGRAMS, bool)


def test_a_question_asked_again_says_at_which_check() -> None:
    variant = (("knife out of limit", "no"), ("knife out of limit (2)", "yes"), ("drive", "gas"))
    so = "knife is within its limit and knife is out of limit at check 2 and drive = gas"
    assert only_when(variant) == f" (only when {so})"
