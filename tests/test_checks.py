"""Every check on its own examples, and on the cases in `tests/cases`, one folder a check, in the same caret notation.

All checks run on every example: the marked findings are all that there are.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from _pytest.mark import ParameterSet

from putback.checks import Fault, KnownCheck, all_checks, own_checks, run_checks
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.source.finding import Level
from putback.source.span import top_of
from putback.testing import assert_example, assert_examples, run_example

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


@pytest.mark.parametrize("check", own_checks())
def test_the_examples_of_a_check_give_exactly_their_marks(check: str) -> None:
    assert_examples(check)


@pytest.mark.parametrize("path", _cases())
def test_a_case_gives_exactly_its_marks(path: Path) -> None:
    assert_example(path.read_text(encoding="utf-8"), path.parent.name)


def test_every_check_has_cases_that_fail_and_cases_that_pass() -> None:
    assert {path.name for path in CASES.iterdir()} == set(own_checks())
    for folder in CASES.iterdir():
        assert len(list(folder.glob("*.txt"))) >= 4, folder.name


def test_known_wrong_names_cases() -> None:
    assert {name for name in KNOWN_WRONG if not (CASES / f"{name}.txt").is_file()} == set()


@pytest.mark.parametrize("check", own_checks().values(), ids=own_checks())
def test_findings_have_the_level_of_their_check(check: KnownCheck) -> None:
    for finding in run_example(check.module.FAILS):
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
