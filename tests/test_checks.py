"""Every check on its own examples, and on the cases in `tests/cases`, one folder a check, in the same caret notation.

All checks run on every example: the marked findings are all that there are.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from _pytest.mark import ParameterSet

from putback.checks import Check, Fault, all_checks, run_checks
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.source.finding import Level
from putback.source.span import top_of
from putback.testing.examples import Caret, marks_of, parse_example, run_example

CASES = Path(__file__).parent / "cases"

KNOWN_WRONG: dict[str, str] = {}
"""Cases that give a wrong answer, each with what is wrong. A case that comes right fails until it leaves this list."""


def _cases() -> list[ParameterSet]:
    found = []
    for path in sorted(CASES.glob("*/*.txt")):
        name = f"{path.parent.name}/{path.stem}"
        wrong = KNOWN_WRONG.get(name)
        marks = [pytest.mark.xfail(reason=wrong, strict=True)] if wrong else []
        found.append(pytest.param(path, id=name, marks=marks))
    return found


def expect(text: str, check: str) -> None:
    example = parse_example(text)
    wanted = [mark._replace(check=None) if mark.check == check else mark for mark in example.marks]
    assert _shown(marks_of(run_example(example), check)) == _shown(wanted)


def _shown(marks: list[Caret]) -> list[str]:
    return sorted(
        f"{mark.path}:{mark.line}:{mark.column}-{mark.end_column} {mark.check or 'this check'}: {mark.message}"
        for mark in marks
    )


@pytest.mark.parametrize("check", all_checks().values(), ids=all_checks())
def test_the_failing_example_gives_exactly_its_marks(check: Check) -> None:
    example = parse_example(check.module.FAILS)
    assert any(mark.check is None for mark in example.marks)
    expect(check.module.FAILS, check.name)


@pytest.mark.parametrize("check", all_checks().values(), ids=all_checks())
def test_the_passing_example_gives_nothing(check: Check) -> None:
    example = parse_example(check.module.PASSES)
    assert example.marks == []
    assert run_example(example) == []


@pytest.mark.parametrize("path", _cases())
def test_a_case_gives_exactly_its_marks(path: Path) -> None:
    expect(path.read_text(encoding="utf-8"), path.parent.name)


def test_every_check_has_cases_that_fail_and_cases_that_pass() -> None:
    assert {path.name for path in CASES.iterdir()} == set(all_checks())
    for folder in CASES.iterdir():
        assert len(list(folder.glob("*.txt"))) >= 4, folder.name


def test_known_wrong_names_cases() -> None:
    assert {name for name in KNOWN_WRONG if not (CASES / f"{name}.txt").is_file()} == set()


@pytest.mark.parametrize("check", all_checks().values(), ids=all_checks())
def test_findings_have_the_level_of_their_check(check: Check) -> None:
    for finding in run_example(parse_example(check.module.FAILS)):
        assert finding.level is all_checks()[finding.check].level


def test_a_check_that_raises_stops_the_run_and_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def broken(opened: Opened) -> list[Fault]:
        raise ZeroDivisionError

    monkeypatch.setattr(all_checks()["left-off"].module, "find", broken)
    with pytest.raises(ZeroDivisionError) as caught:
        list(run_checks(open_guide(Guide(tmp_path, "a-guide"))))
    assert caught.value.__notes__ == ["while checking 'left-off' in a-guide"]


def test_faults_that_say_the_same_of_one_place_are_one_finding(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    fault = Fault(top_of("machine.yaml"), "it is wrong")
    for check in all_checks().values():
        faults = [fault, fault] if check.name == "left-off" else []
        monkeypatch.setattr(check.module, "find", lambda opened, faults=faults: iter(faults), raising=False)
    (finding,) = run_checks(open_guide(Guide(tmp_path, "a-guide")))
    assert (finding.check, finding.level, finding.message) == ("left-off", Level.ERROR, "it is wrong")
