"""What comes of a fault is not told besides it; and a second fault is never taken for what comes of the first."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from statistics import median

import pytest

from putback.guide.paths import is_guide
from putback.lint.run import check_guide
from tests.faults.finding import Trial
from tests.faults.seeding import Fault, seed
from tests.faults.slips import MOST

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
each_guide = pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)

BLOCKS = ("do deleted", "do turned into reverse", "reverse deleted", "reverse turned into do")
"""Kinds of faults that bring much about."""
EACH = dict.fromkeys(BLOCKS, 4)
"""Faults of a kind that are tried on each guide; of other kinds one."""
JOBS = 4
"""Jobs of each guide in which two steps are forgotten."""
FORGOTTEN = {"do deleted", "reverse deleted", "set deleted", "install deleted", "tighten deleted", "connect deleted"}

FOUR_YET = {("tarrick-d2", "jobs/engine-oil.yaml")}
"""Where a fault gives four findings, one too many: the oil that is not filled in is topped up instead, and told so."""

trial_of = cache(Trial.of)


def sample(folder: Path) -> dict[str, list[Fault]]:
    """Return some faults of each kind, spread over all files."""
    kinds: dict[str, list[Fault]] = {}
    for fault in seed(folder):
        kinds.setdefault(fault.kind, []).append(fault)
    return {kind: faults[:: max(1, -(-len(faults) // EACH.get(kind, 1)))] for kind, faults in kinds.items()}


@each_guide
def test_a_fault_does_not_tell_what_comes_of_it(folder: Path) -> None:
    numbers = []
    for kind, faults in sample(folder).items():
        for fault in faults:
            found = list(trial_of(folder).findings(fault))
            numbers.append(len(found))
            most = MOST + ((folder.name, fault.path) in FOUR_YET)
            assert len(found) <= most, (kind, fault.path, fault.line, fault.step, [each.message for each in found])
    assert median(numbers) == 1


@each_guide
def test_a_fault_in_another_file_is_told_as_well(folder: Path) -> None:
    faults = [faults[n % len(faults)] for n, (kind, faults) in enumerate(sample(folder).items()) if "deleted" in kind]
    both = 0
    for one, other in pairwise(faults):
        if one.path != other.path and not any(fault.path.endswith("cautions.yaml") for fault in (one, other)):
            alone = [messages(folder, fault) for fault in (one, other)]
            together = messages(folder, one, other)
            for fault, told in zip((one, other), alone, strict=True):
                assert not told or told & together, (fault.path, fault.line, fault.step, together)
            both += 1
    assert both


@each_guide
def test_a_second_step_that_is_forgotten_in_the_same_job_is_told_as_well(folder: Path) -> None:
    """Told at once, or as soon as the first is mended: what is told is never only one of the two."""
    jobs: dict[str, list[Fault]] = {}
    for fault in seed(folder):
        if fault.path.startswith("jobs/") and fault.kind in FORGOTTEN:
            jobs.setdefault(fault.path, []).append(fault)
    both = 0
    for path, faults in list(jobs.items())[:JOBS]:
        whole = (folder / path).read_text(encoding="utf-8")
        # Far from each other, so that they have to do with different things.
        one, other = faults[0], faults[-1]
        if one.step.split(": ")[1] == other.step.split(": ")[1] or len(faults) == 2:
            continue  # of a job that is no more than these two, nothing is left that could be wrong
        text = without(without(whole, whole, other), whole, one)
        together = messages(folder, one._replace(text=text))
        for fault in (one, other):
            alone = messages(folder, fault)
            assert not alone or alone & together, (path, one.step, other.step, fault.step, together)
        both += 1
    assert both


def without(text: str, whole: str, fault: Fault) -> str:
    """Delete the lines that a fault deletes from the whole, when it comes before what is deleted already."""
    lines, count = text.split("\n"), len(whole.split("\n")) - len(fault.text.split("\n"))
    return "\n".join([*lines[: fault.line - 1], *lines[fault.line - 1 + count :]])


def messages(folder: Path, *faults: Fault) -> set[tuple[str, str, str]]:
    """Return what is told of a guide with faults in it: the check, the file and the words."""
    _, found, _ = check_guide(folder, {folder.resolve() / fault.path: fault.text for fault in faults})
    return {(each.check, each.span.path, each.message) for each in found}
