"""Twenty thousand guides that nobody thought of, the same ones each time; and the inputs that once failed."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest

from tests.fuzz import guides
from tests.fuzz.judging import style_fault
from tests.fuzz.keeping import FOLDER, as_case, read_case
from tests.fuzz.running import QUICK, made, run
from tests.fuzz.shapes import EVERY_KEY
from tests.fuzz.trial import Files, Place, smaller

RUNS = int(os.environ.get("PUTBACK_FUZZ", "2000"))
"""Executions; `.ci/run` sets 6,000."""
PARTS = 40
"""So many tests share them, so that they can run side by side."""


@pytest.mark.parametrize("part", range(PARTS))
def test_no_guide_is_answered_by_a_fault_of_ours(part: int) -> None:
    tally = run(1, range(part, RUNS, PARTS), QUICK)
    assert tally.runs.total() == len(range(part, RUNS, PARTS))
    failures = [f"{found.detail}\n{as_case(found.files, found.kind)}" for found in tally.found.values()]
    assert failures == []


def test_two_guides_in_five_are_well_formed_and_walked() -> None:
    tally = run(2, range(400))
    assert tally.runs == {"tree": 200, "text": 200}
    assert tally.walked["tree"] > 80


def test_every_key_and_verb_of_the_language_is_drawn() -> None:
    seen: set[str] = set()
    for number in range(1500):
        waiting: list[object] = [guides.drawn(Random(number))]
        while waiting:
            node = waiting.pop()
            if isinstance(node, dict):
                seen |= node.keys()
            waiting += node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
        if seen.issuperset(EVERY_KEY):
            return
    assert sorted(set(EVERY_KEY) - seen) == []


REGRESSIONS = sorted(FOLDER.glob("*.json"))


@pytest.mark.parametrize("path", REGRESSIONS, ids=lambda path: path.stem)
def test_what_once_failed_does_no_more(path: Path, tmp_path: Path) -> None:
    assert Place(tmp_path).attempt(read_case(path), twice=True).failures == []


def test_there_are_regressions() -> None:
    assert REGRESSIONS


# The fuzzer itself


def test_an_execution_is_told_by_its_seed_and_number() -> None:
    assert made(5, 17) == made(5, 17)
    assert made(5, 17) != made(6, 17) != made(6, 19)


def test_two_runs_give_the_same_answers() -> None:
    assert run(3, range(60)).digest == run(3, range(60)).digest


@pytest.mark.parametrize(
    ("message", "fault"),
    [
        ("six screws are missing", None),
        ("'Six' is no name", None),
        ("M6 has no pitch 1.1", None),
        ("R has no size 0/4", None),
        ("Pump comes off and never goes back", None),  # as the file calls it
        ("Six screws are missing", "begins with a capital"),
        ("six screws are missing.", "ends in a stop"),
        ("the lid weighs 1e+03 kg", "holds '1e+03'"),
        ("the lid weighs None", "holds 'None'"),
        ("the lid is ['a', 'b']", 'holds "[\'"'),
        ("it is Text(value='a')", "holds 'Text(value='"),
        ("there is\na line end", "holds a control character"),
        ("there is \u202e021", "turns the direction of writing"),
        ("nothing is called 'lid\u200b'", "quotes what nobody sees"),
        (f"nothing is called '{'ab' * 200}'", "quotes at length"),
        ("", "is empty"),
    ],
)
def test_a_message_against_the_style_of_the_house_is_seen(message: str, fault: str | None) -> None:
    assert style_fault(message, "machine: Pump parts: lid") == fault


def test_a_crash_is_seen_and_made_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(_passages: object, _guide: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("tests.fuzz.trial.sheet_of", crash)
    place = Place(tmp_path)
    files: Files = {"guide.yaml": "title: Trial\n", "jobs/first.yaml": "job: Look\npeople: 2\nsteps:\n  - note: x\n"}
    failure, *others = place.attempt(files).failures
    assert failure.kind.startswith("ZeroDivisionError")
    assert others == []
    least = smaller(files, lambda files: failure.kind in {seen.kind for seen in place.attempt(files).failures})
    assert list(least) == ["jobs/first.yaml"]
    assert "people" not in str(least["jobs/first.yaml"])


def test_what_takes_too_long_is_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def forever(_passages: object, _guide: object) -> None:
        while True:
            pass

    monkeypatch.setattr("tests.fuzz.trial.sheet_of", forever)
    monkeypatch.setattr("tests.fuzz.trial.HANGS", 0.2)
    (failure,) = Place(tmp_path).attempt({"jobs/first.yaml": "job: Look\nsteps:\n  - note: x\n"}).failures
    assert failure.kind.startswith("hangs")


def test_a_place_that_is_not_there_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = Place(tmp_path)
    files: Files = {"guide.yaml": "titel: Trial\n"}
    assert place.attempt(files).failures == []
    monkeypatch.setattr("tests.fuzz.judging.lines_of", lambda _content: [""])
    assert {failure.kind for failure in place.attempt(files).failures} == {"wrong-shape: a place that is not there"}


@pytest.mark.parametrize("content", ["a: b\n\nc: \u202e\0\n", b"\xff\0"])
def test_a_kept_input_is_read_again_as_it_was(content: str | bytes, tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    path.write_text(as_case({"machine.yaml": content}, "x"), encoding="utf-8")
    assert read_case(path) == {"machine.yaml": content}
