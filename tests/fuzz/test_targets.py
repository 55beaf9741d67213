"""The kept inputs of the fuzzer that is steered by what it reaches, and those that once failed; no fuzzer is needed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from tests.fuzz import attempting
from tests.fuzz.attempting import attempted
from tests.fuzz.chance import Chance
from tests.fuzz.corpus import FOLDER, keep, kept
from tests.fuzz.judging import Failure
from tests.fuzz.keeping import FOLDER as REGRESSIONS
from tests.fuzz.seeding import dictionary, seeds
from tests.fuzz.targets import TARGETS, attempt_of
from tests.fuzz.targets.promises import hold

MOST = 300_000
"""Bytes of all kept inputs as they are in the repository."""
FAILED = sorted((REGRESSIONS / "bytes").glob("*.json"))


@pytest.mark.parametrize("name", TARGETS)
def test_no_kept_input_is_answered_by_a_fault_of_ours(name: str) -> None:
    found = [attempted(attempt_of(name), data).failure for data in kept(name)]
    assert found
    assert [failure for failure in found if failure] == []


@pytest.mark.parametrize("path", FAILED, ids=lambda path: path.stem)
def test_bytes_that_once_failed_do_no_more(path: Path) -> None:
    case = json.loads(path.read_text(encoding="utf-8"))
    assert attempted(attempt_of(case["target"]), case["input"].encode("latin-1")).failure is None


ANSWERS = """
from tests.fuzz.attempting import attempted
from tests.fuzz.corpus import kept
from tests.fuzz.targets import TARGETS, attempt_of
for name in TARGETS:
    answers = [attempted(attempt_of(name), data).answer for data in kept(name)[::3]]
    print(name, hashlib.sha256("\\0".join(answers).encode("utf-8", "replace")).hexdigest())
"""


def test_an_answer_does_not_hang_on_the_seed_of_hashes() -> None:
    def answers(seed: str) -> str:
        environment = os.environ | {"PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", ANSWERS]
        return subprocess.run(command, env=environment, capture_output=True, text=True, check=True).stdout

    first = answers("1")
    assert [line.split()[0] for line in first.splitlines()] == [*TARGETS]
    assert answers("2") == first


def test_the_kept_inputs_are_few_and_in_their_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < MOST
    assert {path.stem for path in FOLDER.iterdir()} == set(TARGETS)
    before = {name: (FOLDER / f"{name}.json").read_bytes() for name in TARGETS}
    inputs = {name: kept(name) for name in TARGETS}
    monkeypatch.setattr("tests.fuzz.corpus.FOLDER", tmp_path)
    assert {name: keep(name, reversed(inputs[name])).read_bytes() for name in TARGETS} == before


# The fuzzer itself


def test_what_breaks_a_promise_is_a_failure() -> None:
    def broken(data: bytes) -> str:
        hold(data != b"x", "a promise", data)
        return "kept"

    assert attempted(broken, b"y") == ("kept", None)
    assert attempted(broken, b"x") == ("", Failure("a promise", "b'x'"))


def test_an_exception_that_is_not_caught_is_a_failure() -> None:
    failure = attempted(lambda data: str(1 // len(data)), b"").failure
    assert failure is not None
    assert failure.kind.startswith("ZeroDivisionError")


def test_what_takes_too_long_is_stopped_and_what_is_slow_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    def counted(data: bytes) -> str:
        return str(sum(range(10 ** data[0])))

    monkeypatch.setattr(attempting, "HANGS", 0.2)
    hanging = attempted(counted, b"\x0a").failure
    monkeypatch.setattr(attempting, "SLOW", 0.0)
    slow = attempted(counted, b"\x01").failure
    assert hanging is not None
    assert hanging.kind.startswith("hangs")
    assert slow is not None
    assert slow.kind == "slow"


def test_the_same_bytes_are_the_same_chance_and_no_bytes_end_it() -> None:
    def drawn(data: bytes) -> list[object]:
        chance = Chance(data)
        return [
            chance.random(),
            chance.choice("abc"),
            chance.randint(1, 900),
            chance.sample(range(9), 3),
            chance.random(),
        ]

    assert drawn(b"abcdefghij") == drawn(b"abcdefghij") != drawn(b"abcdefghik")
    assert drawn(b"")[0] == drawn(b"")[-1] == 0.999
    shuffled = [*range(20)]
    Chance(Random(3).randbytes(40)).shuffle(shuffled)
    assert sorted(shuffled) == [*range(20)] != shuffled


@pytest.mark.parametrize("name", TARGETS)
def test_there_are_inputs_to_begin_with(name: str) -> None:
    found = seeds(name, TARGETS[name].longest)
    assert found == seeds(name, TARGETS[name].longest)
    assert all(0 < len(data) <= TARGETS[name].longest for data in found)
    assert len(found) > 2


def test_the_words_for_the_fuzzer_are_written_as_it_reads_them() -> None:
    lines = dictionary().splitlines()
    assert '"' + "".join(f"\\x{byte:02x}" for byte in b"torque") + '"' in lines
    assert all(line.startswith('"\\x') and line.endswith('"') for line in lines)
