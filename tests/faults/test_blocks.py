"""A block that is done where it does not fit is told once, and where it is done."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from statistics import median
from typing import NamedTuple

import pytest

from putback.guide.paths import is_guide
from putback.lint.run import check_guide
from putback.source.finding import Finding, Level
from tests.faults.slips import MOST
from tests.faults.text import script

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
FOUR_YET = {("tarrick-d2", "head-bolts")}
"""Jobs in which one block out of place gives four findings, one too many: two are that the work is not proved."""
EACH = 8
"""Of so many slips, one is tried."""


class Slip(NamedTuple):
    """One block too many, or backwards, or exchanged with the next."""

    kind: str
    path: Path
    text: str
    lines: range
    """Where the block that is out of place stands in the text."""


def slips_of(path: Path) -> Iterator[Slip]:
    whole = script(path.read_text(encoding="utf-8"), path.name)
    lines = whole.lines
    for step in whole.steps:
        if step.verb not in ("do", "reverse"):
            continue
        twice = [*lines[: step.last], *lines[step.first - 1 : step.last], *lines[step.last :]]
        yield Slip("twice", path, "\n".join(twice), range(step.first, 2 * step.last - step.first + 2))
        key, other = step.keys[step.verb].key.span, "do" if step.verb == "reverse" else "reverse"
        line = f"{lines[key.line - 1][: key.column - 1]}{other}{lines[key.line - 1][key.end_column - 1 :]}"
        turned = [*lines[: key.line - 1], line, *lines[key.line :]]
        yield Slip("turned", path, "\n".join(turned), range(step.first, step.last + 1))
        after = next((one for one in step.siblings[step.place + 1 :] if one.verb in ("do", "reverse")), None)
        if after is not None:
            yield Slip("exchanged", path, whole.swapped(step, after), range(step.first, after.last + 1))


def told(folder: Path, slip: Slip) -> list[Finding]:
    found = check_guide(folder, {slip.path.resolve(): slip.text})[1]
    return [finding for finding in found if finding.level is not Level.ADVICE]


@pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)
def test_a_block_out_of_place_is_told_there_and_once(folder: Path) -> None:
    slips = [slip for path in sorted(folder.glob("jobs/*.yaml")) for slip in slips_of(path)][::EACH]
    found = [(slip, told(folder, slip)) for slip in slips]
    for slip, findings in found:
        most = MOST + ((folder.name, slip.path.stem) in FOUR_YET)
        assert len(findings) <= most, (slip.kind, slip.path, slip.lines, [each.message for each in findings])
        places = [each.span.line for each in findings if each.span.path.endswith(f"jobs/{slip.path.name}")]
        if slip.kind == "twice" and findings:
            assert any(line in slip.lines for line in places), (slip.path, slip.lines, findings)
    counts = [len(findings) for _, findings in found if findings]
    assert median(counts) == 1
    assert len(counts) > len(found) / 2
