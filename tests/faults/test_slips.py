"""One slip of the pen gives one finding, three at most; and two slips in two files are both told."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from statistics import median

import pytest

from putback.guide.paths import is_guide
from tests.faults.slips import MOST, NOT_A_SLIP, Slip, findings_of_slip, findings_of_slips, sample_of

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
each_guide = pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)

EACH = 3
"""Slips of each kind that are tried on each guide; `python -m tests.faults --slips` tries all."""
tried = cache(sample_of)


@each_guide
def test_one_slip_gives_one_finding(folder: Path) -> None:
    counts: dict[str, list[int]] = {}
    for slip in tried(folder, EACH):
        found = findings_of_slip(folder, slip)
        counts.setdefault(slip.kind, []).append(len(found))
        assert len(found) <= MOST, (slip.kind, slip.path, slip.line, slip.word, [each.message for each in found])
        assert found or slip.kind in NOT_A_SLIP, (slip.kind, slip.path, slip.line, slip.word)
    assert {kind: median(each) for kind, each in counts.items() if median(each) > 1} == {}
    assert median(number for each in counts.values() for number in each) == 1


def names_a_place(slip: Slip) -> bool:
    return slip.kind.startswith("misspelt") or slip.kind == "number without unit"


@each_guide
def test_two_slips_in_two_files_are_both_told(folder: Path) -> None:
    slips = [slip for slip in tried(folder, 1) if names_a_place(slip) and slip.kind not in NOT_A_SLIP]
    both = 0
    for one, other in pairwise(slips):
        if one.path == other.path:
            continue
        told = {finding.span for finding in findings_of_slips(folder, (one, other))}
        for slip in (one, other):
            missed = {finding.span for finding in findings_of_slip(folder, slip)} - told
            assert not missed, (one, other, missed)
        both += 1
    assert both
