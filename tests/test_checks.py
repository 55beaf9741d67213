"""Every check on its own examples, and on the cases in `tests/cases`, one folder a check, in the same caret notation.

All checks run on every example: the marked findings are all that there are.
"""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

import pytest
from _pytest.mark import ParameterSet

import putback as package
from putback.checks import Fault, KnownCheck, all_checks, own_checks, run_checks
from putback.checks.engine.known import known
from putback.guide.nesting import DEEPEST_BLOCKS
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.source.finding import Level
from putback.source.span import top_of
from putback.testing import assert_example, assert_examples, run_example
from putback.testing.examples import parse_example
from tests.guard import assert_none

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


def test_every_check_has_four_cases_or_more() -> None:
    folders = {path.name for path in CASES.iterdir()}
    assert_none(sorted(own_checks().keys() - folders), "write at least four cases, tests/cases/NAME/*.txt, for")
    assert_none(sorted(folders - own_checks().keys()), "no check has the name of these folders of tests/cases")
    few = [name for name in sorted(folders) if len(list((CASES / name).glob("*.txt"))) < 4]
    assert_none(few, "at least four cases, tests/cases/NAME/*.txt, are wanted for")
    texts = {name: [case.read_text(encoding="utf-8") for case in (CASES / name).glob("*.txt")] for name in folders}
    unmarked = [name for name in sorted(folders) if not any(parse_example(text).marks for text in texts[name])]
    assert_none(unmarked, "write a case with a mark for")


def test_known_wrong_names_cases() -> None:
    assert {name for name in KNOWN_WRONG if not (CASES / f"{name}.txt").is_file()} == set()


def test_blocks_too_deep_for_bad_cycle_are_told_by_the_first_three_and_the_last() -> None:
    blocks = [f"# blocks/b{n}.yaml\nblock: Level {n}\nsteps: [{{do: b{n + 1}}}]\n" for n in range(DEEPEST_BLOCKS)]
    last = f"# blocks/b{DEEPEST_BLOCKS}.yaml\nblock: The last\nsteps: [{{clean: belt}}]\n"
    told = "blocks are nested 101 deep, more than the 100 allowed: b0 does b1 does b2 does … does b100"
    job = f"# jobs/example.yaml\nsteps:\n  - do: b0\n        ^^ {told}\n"
    assert_example("".join([*blocks, last, job]), "bad-cycle")


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


def made(text: str) -> ModuleType:
    module = ModuleType("putback.checks.made_up")
    exec(text, vars(module))
    return module


SOUND = (
    '__doc__ = "Something is wrong."\nfrom putback.checks import Group\nfrom putback.source.finding import Level\n'
    "LEVEL, GROUP, FAILS, PASSES = Level.ERROR, Group.PROOF, 'a', 'b'\n"
)
FIND = "def find(opened): yield\n"


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        (SOUND + FIND, []),
        (SOUND + "STAGE = 'load'\n", []),
        (SOUND + FIND + "MANY = 3\nINJURES = True\nNEEDS = frozenset({'equipment'})\n", []),
        (SOUND + "def find(opened, *, much=True): yield\n", []),
        (SOUND + "STAGE = 'lode'\n", ["has STAGE = 'lode': it must be one of guide, lint, load, model, schema"]),
        (SOUND + "STAGES = 'load'\n", ["has no find: it must be a function of one argument"]),
        (SOUND + FIND.replace("find", "finds"), ["has no find: it must be a function of one argument"]),
        (SOUND + "find = 'me'\n", ["has find = 'me': it must be a function of one argument"]),
        (SOUND + "def find(): yield\n", ["has find = <function find"]),
        (SOUND + FIND + "NEED = frozenset({'equipment'})\n", ["has 'NEED': write NEEDS when that is meant"]),
        (SOUND.replace("GROUP,", "GROPE,") + FIND, ["has no GROUP: it must be one of Group.CLOSING, Group.ORDER"]),
        (SOUND.replace("Group.PROOF", "'Proof'") + FIND, ["has GROUP = 'Proof': it must be one of Group.CLOSING"]),
        (SOUND.replace("Something is wrong.", " ") + FIND, ["has no docstring: say what is wrong in its first line"]),
        ("", ["has no docstring", "has no LEVEL", "has no GROUP", "has no FAILS", "has no PASSES", "has no find"]),
    ],
)
def test_what_is_wrong_in_a_module_of_a_check(text: str, wrong: list[str]) -> None:
    _, faults = known("made-up", made(text))
    head = "the check 'made-up' (module putback.checks.made_up) "
    assert [fault[: len(head)] for fault in faults] == [head] * len(wrong)
    assert [fault[len(head) : len(head) + len(start)] for fault, start in zip(faults, wrong, strict=True)] == wrong


def test_a_name_that_nobody_can_write_in_a_file_is_told() -> None:
    (fault,) = known("Made--up", made(SOUND + FIND))[1]
    assert "has a name that nobody can write" in fault


def test_the_package_says_that_it_is_typed() -> None:
    assert (Path(package.__file__).parent / "py.typed").is_file()
