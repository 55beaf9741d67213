"""The forms that platforms read: one command a line, one object a finding."""

from __future__ import annotations

import json
import re
import subprocess

import pytest

from putback.lint.report import formats, github, gitlab, report_as
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.plainly import in_json, in_xml, not_obeyed
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


@pytest.mark.parametrize("form", [form for form in formats() if form != "github"])
def test_the_log_of_a_platform_finds_no_command_in_a_report(form: str) -> None:
    """What a stranger writes must not become `##vso[task.setvariable …]` in the log of our check."""
    for text in TEXTS:
        written = report_as(form).write(hostile(text))
        assert not re.search(r"##\w*\[|^\s*::", written, re.MULTILINE)


def test_what_is_not_obeyed_can_still_be_read() -> None:
    assert not_obeyed("a ##[b] ###vso[c] # ## [d]\n  ::e::f\ng ::h") == (
        r"a \x23#[b] #\x23#vso[c] # ## [d]" "\n" r"  \x3a:e::f" "\ng ::h"
    )
    assert json.loads(in_json(json.dumps("##vso[x] é"))) == "##vso[x] é"
    assert in_xml("<a>##[x]</a>") == "<a>&#35;#[x]</a>"
