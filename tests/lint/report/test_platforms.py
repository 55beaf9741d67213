"""The forms that platforms read: one command a line, one object a finding."""

from __future__ import annotations

import json
import re
import subprocess

import pytest

from putback.lint.report import github, gitlab
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.span import Span
from tests.conftest import Putback, Write
from tests.lint.report.hostile import TEXTS, hostile

COMMAND = re.compile(r"::(error|warning|notice) ([a-zA-Z]+=[^,:]*(?:,[a-zA-Z]+=[^,:]*)*)::(.*)")
BAD: dict[str, str | bytes | None] = {"pump/jobs/strip.yaml": "job: Strip\nsteps:\n  - remove: screws\n"}


@pytest.mark.parametrize("text", TEXTS)
def test_hostile_words_are_no_command_of_their_own(text: str) -> None:
    lines = github.write(hostile(text)).splitlines()
    assert len(lines) == 4
    assert all(COMMAND.fullmatch(line) for line in lines[:3]), lines
    assert not re.match(r"\s*::|##\[", lines[3])


def test_a_command_says_all(write_guide: Write, putback: Putback) -> None:
    write_guide(BAD)
    answer = putback("lint", "pump", "--format", "github")
    assert (answer.code, answer.out.splitlines()) == (
        1,
        [
            "::error file=pump/jobs/strip.yaml,line=3,endLine=3,col=13,endColumn=19,title=error left-off"
            "::four screws come off and never go back; fix: add 'install: screws' and 'tighten: screws' "
            "after 'remove: screws' in line 3",
            "2 jobs, 2 steps in 5 files: 1 error",
        ],
    )


def test_a_place_of_several_lines_has_no_columns() -> None:
    finding = Finding("left-off", Level.ADVICE, Span("a,b:c%.yaml", 1, 2, 3, 4), "50 %")
    line = github.write(Result((finding,))).splitlines()[0]
    assert line == "::notice file=a%2Cb%3Ac%25.yaml,line=1,endLine=3,title=advice left-off::50 %25"


@pytest.mark.parametrize("text", TEXTS)
def test_hostile_words_give_valid_json(text: str) -> None:
    written = gitlab.write(hostile(text))
    issues = json.loads(written)
    assert written.encode().decode() == written
    assert len({issue["fingerprint"] for issue in issues}) == len(issues) == 3
    for issue in issues:
        assert set(issue) == {"description", "check_name", "fingerprint", "severity", "location"}
        assert issue["severity"] in ("critical", "minor", "info")


def test_a_path_of_a_guide_in_a_sub_folder(
    write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    pump = write_guide(BAD)
    subprocess.run(["git", "init", "-q", str(pump.parent)], check=True)
    monkeypatch.chdir(pump)
    (issue,) = putback("lint", "--format", "gitlab").data
    assert issue["location"] == {"path": "pump/jobs/strip.yaml", "lines": {"begin": 3, "end": 3}}
