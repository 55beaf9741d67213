"""Every single fault put into a good guide is found, and the good guides give nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide import is_guide
from putback.lint import check_guide
from tests.faults.finding import Trial, all_allowed, allowed
from tests.faults.seeding import NAMED, SHARED_CAUTIONS, seed

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
FIRST = PROCEDURES / "hollin-20"

each_guide = pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)

NO_CHECK_YET: dict[str, set[tuple[str, str]]] = {}
"""Real faults that no check finds; a check that learns to must be told here."""


@each_guide
def test_a_good_guide_gives_no_finding(folder: Path) -> None:
    _, findings, steps = check_guide(folder)
    assert steps
    assert findings == []


@each_guide
def test_every_fault_is_found(folder: Path) -> None:
    """One test a guide: its faults are tried once, whichever process runs it."""
    entries = allowed(folder)
    missed = [answer for answer in Trial.of(folder).answers() if answer.why_missed]
    unexplained = [answer for answer in missed if not any(entry.fits(answer.fault) for entry in entries)]
    expected = NO_CHECK_YET.get(folder.name, set())
    told = [
        f"{answer.fault.path}:{answer.fault.line}: {answer.fault.kind}, {answer.fault.step}: {answer.why_missed}"
        for answer in unexplained
        if (answer.fault.kind, answer.fault.step) not in expected
    ]
    assert told == []
    assert {(answer.fault.kind, answer.fault.step) for answer in unexplained} == expected
    # What is said of every guide must do some good in the first.
    bound = [entry for entry in entries if entry.guides or folder == FIRST]
    assert [entry for entry in bound if not any(entry.fits(answer.fault) for answer in missed)] == []


def test_every_entry_of_the_list_names_a_guide_that_is_there() -> None:
    names = {folder.name for folder in GUIDES}
    for entry in all_allowed():
        assert set(entry.guides) <= names


@each_guide
def test_a_thing_that_lost_its_when_is_told_for_the_variants_that_lack_it_only(folder: Path) -> None:
    trial = Trial.of(folder)
    tried = 0
    for fault in seed(folder):
        if fault.kind == "'when' of a thing lost":
            tried += 1
            for finding in trial.findings(fault):
                assert finding.variant, f"{fault.step}: {finding.message}"
    assert tried


@each_guide
def test_a_fault_changes_its_file(folder: Path) -> None:
    for fault in seed(folder):
        assert fault.text != (folder / fault.path).read_text(encoding="utf-8")


@each_guide
def test_the_deletions_that_must_be_named_are_put_in(folder: Path) -> None:
    assert {fault.kind for fault in seed(folder) if fault.names} == {f"{verb} deleted" for verb in NAMED}


def test_a_fault_on_one_job_is_found_by_a_check_of_the_whole_guide() -> None:
    """The seeder checks only the jobs that a fault reaches; this is the whole chain, for one fault of each kind."""
    entries = allowed(FIRST)
    tried: set[str] = set()
    for fault in seed(FIRST):
        # A library file cannot be given in an edited state.
        skip = fault.path == SHARED_CAUTIONS or any(entry.fits(fault) for entry in entries)
        if fault.kind not in tried and not skip:
            tried.add(fault.kind)
            _, findings, _ = check_guide(FIRST, {FIRST.resolve() / fault.path: fault.text})
            assert any(finding.level.value == "error" for finding in findings), fault
    assert tried
