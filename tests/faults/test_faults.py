"""Every single fault put into a good guide is found, and the good guides give nothing.

Of each kind of fault, the first of a guide is tried, and of the others one in `PUTBACK_FAULTS`, always the same ones.
"""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from zlib import crc32

import pytest

from putback.guide.paths import is_guide
from putback.lint.run import check_guide
from putback.source.finding import Level
from tests.faults.finding import Trial, all_allowed, allowed
from tests.faults.seeding import NAMED, SHARED_CAUTIONS, Fault, seed

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
FIRST = PROCEDURES / "hollin-20"

FILES = [
    (folder, path)
    for folder in GUIDES
    for path in (
        *sorted(
            file.relative_to(folder).as_posix() for part in ("jobs", "blocks") for file in folder.glob(f"{part}/*.yaml")
        ),
        *(path for path in ("machine.yaml", "cautions.yaml", SHARED_CAUTIONS) if (folder / path).is_file()),
    )
]
"""Every file that faults are put into, a test each: several processes share the work."""

each_guide = pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
each_file = pytest.mark.parametrize(("folder", "path"), FILES, ids=[f"{folder.name}/{path}" for folder, path in FILES])

trial_of = cache(Trial.of)
faults_of = cache(seed)

ONE_IN = int(os.environ.get("PUTBACK_FAULTS", "6"))
"""`.ci/run faults` tries all of them."""

SMALL = {"sessel-w15"}


@cache
def tried(folder: Path) -> list[Fault]:
    """Return the faults of a guide that are tried."""
    kinds, found = set[str](), list[Fault]()
    for fault in faults_of(folder):
        # What stands in other lines tomorrow is to be the same fault.
        if fault.kind not in kinds or crc32(f"{folder.name} {fault.kind} {fault.step}".encode()) % ONE_IN == 0:
            found.append(fault)
        kinds.add(fault.kind)
    return found


NO_CHECK_YET: dict[str, set[tuple[str, str]]] = {
    # Who is led into an 'otherwise' that has no step for his variant has no way out; nothing tells it.
    "ambry-g5": {("wrong 'when' added", "replace: reel"), ("wrong 'when' added", "replace: pawls")},
}
"""Real faults that no check finds; a check that learns to must be told here."""


@each_guide
def test_a_good_guide_gives_no_finding(folder: Path) -> None:
    _, findings, steps = check_guide(folder)
    assert steps
    assert findings == []


@each_file
def test_a_file_without_a_fault_gives_nothing(folder: Path, path: str) -> None:
    """What is found of a fault below comes of it, and not of looking at a part of the guide only."""
    whole = Fault("none", path, 1, "", (folder / path).read_text(encoding="utf-8"))
    assert list(trial_of(folder).findings(whole)) == []


@each_file
def test_every_fault_is_found(folder: Path, path: str) -> None:
    entries, expected = allowed(folder), NO_CHECK_YET.get(folder.name, set())
    told = [
        f"{fault.path}:{fault.line}: {fault.kind}, {fault.step}: {why_missed}"
        for fault in tried(folder)
        if fault.path == path
        and (why_missed := trial_of(folder).missed(fault))
        and not any(entry.fits(fault) for entry in entries)
        and (fault.kind, fault.step) not in expected
    ]
    assert told == []


@each_guide
def test_what_need_not_be_found_is_missed(folder: Path) -> None:
    """An entry of the list hides something, and what no check finds yet is not found yet."""
    trial, faults = trial_of(folder), faults_of(folder)
    # What is said of every guide must do some good in the first.
    bound = [entry for entry in allowed(folder) if entry.guides or folder == FIRST]
    assert [entry for entry in bound if not any(entry.fits(fault) and trial.missed(fault) for fault in faults)] == []
    for real in NO_CHECK_YET.get(folder.name, set()):
        assert any((fault.kind, fault.step) == real and trial.missed(fault) for fault in faults), real


@each_guide
def test_no_fault_lies_outside_the_files_that_are_tried(folder: Path) -> None:
    assert {(folder, fault.path) for fault in faults_of(folder)} <= set(FILES)


def test_every_entry_of_the_list_names_a_guide_that_is_there() -> None:
    names = {folder.name for folder in GUIDES}
    for entry in all_allowed():
        assert set(entry.guides) <= names


@each_guide
def test_a_thing_that_lost_its_when_is_told_for_the_variants_that_lack_it_only(folder: Path) -> None:
    trial, lost = trial_of(folder), [fault for fault in tried(folder) if fault.kind == "'when' of a thing lost"]
    for fault in lost:
        for finding in trial.findings(fault):
            assert finding.variant, f"{fault.step}: {finding.message}"
    assert lost


@each_guide
def test_a_fault_changes_its_file(folder: Path) -> None:
    for fault in faults_of(folder):
        assert fault.text != (folder / fault.path).read_text(encoding="utf-8")


@each_guide
def test_the_deletions_that_must_be_named_are_put_in(folder: Path) -> None:
    named, wanted = {fault.kind for fault in faults_of(folder) if fault.names}, {f"{verb} deleted" for verb in NAMED}
    # A small machine may have no line, no fluid and nothing to align.
    assert named <= wanted
    assert named if folder.name in SMALL else named == wanted


@each_guide
def test_a_fault_on_one_job_is_found_by_a_check_of_the_whole_guide(folder: Path) -> None:
    """The seeder checks only the jobs that a fault reaches; this is the whole chain, for one fault of each kind."""
    entries, expected = allowed(folder), NO_CHECK_YET.get(folder.name, set())
    kinds: set[str] = set()
    for fault in faults_of(folder):
        # A library file cannot be given in an edited state.
        skip = fault.path.endswith("cautions.yaml") or any(entry.fits(fault) for entry in entries)
        if fault.kind not in kinds and not skip and (fault.kind, fault.step) not in expected:
            kinds.add(fault.kind)
            _, findings, _ = check_guide(folder, {folder.resolve() / fault.path: fault.text})
            assert any(finding.level is not Level.ADVICE for finding in findings), fault
    assert kinds
