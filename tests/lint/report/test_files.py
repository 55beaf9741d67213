"""Reports in files: several at once, whole or not at all, and never over what somebody wrote."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from putback.lint.report import formats
from tests.conftest import Putback, Write

BAD: dict[str, str | bytes | None] = {"pump/jobs/strip.yaml": "job: Strip\nsteps:\n  - remove: screws\n"}

NO_FILE = "--report takes FORM:FILE, such as sarif:findings.sarif; for the standard output, use --format sarif"
TAKEN = "is the name of a file that authors write; name the report otherwise"


def test_all_forms_at_once(write_guide: Write, putback: Putback) -> None:
    write_guide(BAD)
    alone = {form: putback("lint", "pump", "--format", form).out for form in formats()}
    wanted = [word for form in formats() for word in ("--report", f"{form}:out/{form}")]
    answer = putback("lint", "pump", *wanted)
    assert (answer.code, answer.out, answer.err) == (1, alone["text"], "")
    assert {path.name: path.read_text(encoding="utf-8") for path in Path("out").iterdir()} == alone


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("sarif",), NO_FILE),
        (("sarif:",), NO_FILE),
        (("sarfi:a",), "--report has no form 'sarfi'; did you mean 'sarif'?"),
        (("xyz:a",), "--report has no form 'xyz'; there are text, github, gitlab, json, junit, sarif"),
        (("text:pump/machine.yaml",), f"'pump/machine.yaml' {TAKEN}"),
        (("text:a", "json:./a"), "two reports go into './a'; give each its own file"),
    ],
)  # fmt: skip
def test_what_cannot_be_made_is_told_first(
    write_guide: Write, putback: Putback, words: tuple[str, ...], message: str
) -> None:
    pump = write_guide({})
    before = (pump / "machine.yaml").read_bytes()
    answer = putback("lint", "pump", *(word for each in words for word in ("--report", each)))
    assert (answer.code, answer.out) == (2, "")
    assert answer.err.endswith(f"\nError: {message}\n")
    assert (pump / "machine.yaml").read_bytes() == before
    assert not Path("a").exists()


def test_a_report_takes_the_place_of_an_older_one_through_a_link(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    Path("old.json").write_text("old", encoding="utf-8")
    Path("link.json").symlink_to("old.json")
    assert putback("lint", "pump", "--report", "json:link.json").code == 0
    assert Path("link.json").is_symlink()
    assert json.loads(Path("old.json").read_text(encoding="utf-8"))["findings"] == []


def test_what_cannot_be_written_is_told_and_the_rest_stays(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    Path("folder").mkdir()
    answer = putback("lint", "pump", "--report", "json:folder")
    assert (answer.code, answer.err) == (2, "Error: 'folder' cannot be written: it is no ordinary file\n")
    assert answer.out == "1 job, 1 step in 4 files: everything goes back\n"
    answer = putback("lint", "pump", "--report", "json:pump/guide.txt/a")
    assert answer.code == 0
    answer = putback("lint", "pump", "--report", "json:pump/guide.txt/a/b")
    assert (answer.code, answer.err) == (2, "Error: 'pump/guide.txt/a/b' cannot be written: not a directory\n")


def test_no_guide_gives_reports_for_programs(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    answer = putback("lint", "no", "--report", "sarif:a.sarif", "--report", "text:a.txt")
    assert (answer.code, answer.out) == (2, "")
    run = json.loads(Path("a.sarif").read_text(encoding="utf-8"))["runs"][0]
    assert [(each["ruleId"], each["message"]["text"]) for each in run["results"]] == [
        ("no-file", "'no' does not exist")
    ]
    assert run["invocations"][0]["executionSuccessful"] is False
    assert not Path("a.txt").exists()
