"""Every single fault put into a good guide is found, and the good guides give nothing."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from putback.guide import is_guide
from putback.lint import check_guide
from tests.faults.finding import Allowed, Answer, Trial, allowed
from tests.faults.seeding import NAMED

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
FIRST = PROCEDURES / "hollin-20"


@cache
def answers() -> list[Answer]:
    return list(Trial.of(FIRST).answers())


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_a_good_guide_gives_no_finding(folder: Path) -> None:
    _, findings, steps = check_guide(folder)
    assert steps
    assert findings == []


def test_every_fault_is_found() -> None:
    entries = allowed()
    missed = [
        f"{answer.fault.path}:{answer.fault.line}: {answer.fault.kind}, {answer.fault.step}: {answer.why_missed}"
        for answer in answers()
        if answer.why_missed and not any(entry.fits(answer.fault) for entry in entries)
    ]
    assert missed == []


@pytest.mark.parametrize("entry", allowed(), ids=lambda entry: f"{entry.kind}, {entry.step}, {entry.stops}")
def test_an_allowed_fault_is_still_missed(entry: Allowed) -> None:
    assert entry.reason
    assert any(answer.why_missed and entry.fits(answer.fault) for answer in answers())


def test_the_deletions_that_must_be_named_were_put_in() -> None:
    seeded = {answer.fault.kind for answer in answers() if answer.fault.names}
    assert seeded == {f"{verb} deleted" for verb in NAMED}


def test_a_fault_changes_its_file() -> None:
    for answer in answers():
        assert answer.fault.text != (FIRST / answer.fault.path).read_text(encoding="utf-8")


def test_a_fault_on_one_job_is_found_by_a_check_of_the_whole_guide() -> None:
    """The seeder checks only the jobs that a fault reaches; this is the whole chain, for one fault of each kind."""
    tried: set[str] = set()
    for answer in answers():
        fault = answer.fault
        if answer.why_missed is None and fault.kind not in tried:
            tried.add(fault.kind)
            _, findings, _ = check_guide(FIRST, {FIRST.resolve() / fault.path: fault.text})
            assert any(finding.level.value == "error" for finding in findings), fault
