"""What a finding is known by: it survives what happens around it, and no two findings share it."""

from __future__ import annotations

import subprocess
from pathlib import Path
from time import process_time

import pytest

from putback.lint.fingerprint import fingerprints
from putback.lint.guides import lint
from putback.lint.repository import folder_in_repository, in_repository
from putback.lint.result import Result
from putback.source.finding import Finding, Level
from putback.source.span import Span
from tests.conftest import Write

STRIP = "job: Strip\nsteps:\n  - remove: screws\n  - remove: lid\n"


def known(path: str = "pump") -> dict[str, str]:
    """Return the fingerprint of each finding, by check and message."""
    result = lint([Path(path)])
    found = fingerprints(result)
    assert set(found) == {*result.findings, *(each.finding for each in result.waived)}
    assert len(set(found.values())) == len(found)
    return {f"{finding.check}: {finding.message}": mark for finding, mark in found.items()}


@pytest.mark.parametrize(
    "text",
    [
        f"# one line\n\n# and another\n{STRIP}",
        STRIP.replace("job: Strip", "job: Strip it, with care"),
        STRIP.replace("  - remove: screws", "  - note: First.\n  - note: Second.\n  - remove: screws"),
        STRIP.replace("  - remove: lid\n", "  - remove: lid\n  - note: At last.\n"),
        STRIP.replace("\n", "\r\n"),
    ],
)
def test_a_fingerprint_survives_what_happens_around_it(write_guide: Write, text: str) -> None:
    write_guide({"pump/jobs/strip.yaml": STRIP})
    before = known()
    assert {key.partition(":")[0] for key in before} == {"left-off"}
    write_guide({"pump/jobs/strip.yaml": text})
    after = known()
    assert {key: after[key] for key in before} == before


def test_another_step_another_file_another_message_is_another_finding(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": STRIP})
    before = known()
    write_guide({"pump/jobs/strip.yaml": STRIP.replace("  - remove: lid", "  - remove: [lid]")})
    assert known() != before
    write_guide({"pump/jobs/strip.yaml": None})
    Path("pump/jobs/strip.yaml").rename("pump/jobs/other.yaml")
    assert not set(known().values()) & set(before.values())


def finding(line: int, message: str = "it is off", path: str = "a.yaml") -> Finding:
    return Finding("left-off", Level.ERROR, Span(path, line, 3, line, 6), message)


def test_findings_that_agree_are_told_apart_by_their_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.yaml").write_text("- abc\n- abc\n", encoding="utf-8")
    both = fingerprints(Result((finding(1), finding(2))))
    assert len(set(both.values())) == 2
    assert fingerprints(Result((finding(2), finding(1)))) == both
    assert fingerprints(Result((finding(2),)))[finding(2)] == both[finding(1)]


def test_numbers_of_lines_in_a_message_do_not_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    one, other = (
        finding(1, "the first is on line 12, or in steps 3 and 4"),
        finding(1, "the first is on line 9, or in steps 7 and 8"),
    )
    assert fingerprints(Result((one,)))[one] == fingerprints(Result((other,)))[other]
    more = finding(1, "12 screws")
    assert (
        fingerprints(Result((more,)))[more] != fingerprints(Result((finding(1, "13 screws"),)))[finding(1, "13 screws")]
    )


def test_what_a_line_is_under_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.yaml").write_text("bolts:\n  torque: 4\n", encoding="utf-8")
    bolts = fingerprints(Result((finding(2),)))
    Path("a.yaml").write_text("nuts:\n  torque: 4\n", encoding="utf-8")
    assert fingerprints(Result((finding(2),))) != bolts


def test_a_file_that_is_gone_still_has_fingerprints(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert len(fingerprints(Result((finding(1, path="gone.yaml"),)))[finding(1, path="gone.yaml")]) == 32


def test_a_path_counts_from_the_repository_wherever_one_is(write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    pump = write_guide({"pump/jobs/strip.yaml": STRIP})
    top = pump.parent
    subprocess.run(["git", "init", "-q", str(top)], check=True)
    before = known()
    monkeypatch.chdir(pump / "jobs")
    assert (known(".."), folder_in_repository()) == (before, "pump/jobs")
    away = top.parent / f"{top.name}-away"
    away.mkdir()
    monkeypatch.chdir(away)
    assert known(str(pump)) == before
    assert in_repository([str(pump / "machine.yaml"), "x/y.yaml"]) == {
        str(pump / "machine.yaml"): "pump/machine.yaml",
        "x/y.yaml": "x/y.yaml",
    }
    monkeypatch.chdir(top)
    assert in_repository(["pump/../pump/machine.yaml"]) == {"pump/../pump/machine.yaml": "pump/machine.yaml"}
    assert folder_in_repository() == "."


def test_what_is_in_no_repository_and_not_below_keeps_its_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert in_repository(["/nowhere/a.yaml"]) == {"/nowhere/a.yaml": "/nowhere/a.yaml"}
    assert folder_in_repository() == "."


def test_what_is_waived_is_kept_with_its_reason(write_guide: Write) -> None:
    back = "  - install: lid\n  - install: screws\n  - tighten: screws\n"
    text = f"{STRIP}{back}waive:\n  no-final-test: it is scrap\n"
    write_guide({"pump/jobs/strip.yaml": text})
    result = lint([Path("pump")])
    told = {each.check: each.message for each in result.findings}
    assert [(each.finding.check, each.reason) for each in result.waived] == [("no-final-test", "it is scrap")], told
    assert "no-final-test" not in told


def test_many_findings_of_a_long_file_take_no_longer_each(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)

    def seconds(lines: int) -> float:
        Path("a.yaml").write_text("steps:\n" + "  - abc: x\n" * lines, encoding="utf-8")
        result = Result(tuple(finding(line + 1) for line in range(1, lines + 1)))
        before = process_time()
        assert len(set(fingerprints(result).values())) == lines
        return process_time() - before

    seconds(100)
    assert seconds(8_000) < 32 * max(seconds(500), 0.005)
