"""Odd values of what is turned, of kits, of positions with their words: told in a few plain findings, or taken."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from tests.hostile.telling import tell

MACHINE = """\
machine: Trial
kits:
  seals: {name: seal kit, number: K-1}
controls:
  valve:
    positions: {open: open the valve, closed: shut the valve}
    normal: open
parts:
  lid: {mass: 2 kg, kit: seals}
  shaft: {}
  housing: {material: aluminium}
fasteners:
  bolts: {name: bolt, count: 4, thread: M6 x 1.0, class: "8.8", drive: hex 10 mm, torque: 9 N·m, order: crosswise,
          secures: lid, to: housing, engagement: 12 mm, retighten-after: 10 h, slacken: 90°,
          layout: circle 46 mm, front: up}
"""
JOB = """\
job: Look under the lid
steps:
  - set: valve
    to: closed
  - remove: bolts
  - remove: lid
  - turn: shaft
    way: clockwise
    seen-from: the front
    by: 2 turns
  - install: lid
    turn: clockwise
  - install: bolts
  - tighten: bolts
  - set: valve
    to: open
  - check: lid
    limit: no leak
    otherwise:
      - stop: Do the job again.
"""
PLACES = (
    "turn: shaft", "by: 2 turns", "way: clockwise", "seen-from: the front", "turn: clockwise", "slacken: 90°",
    "front: up", "kit: seals", "number: K-1", "positions: {open: open the valve, closed: shut the valve}",
    "seals: {name: seal kit, number: K-1}", "normal: open", "to: closed", "retighten-after: 10 h",
)  # fmt: skip
ODD = (
    "", "[]", "{}", "null", "-1", "1e300", "'\x07'", '"\\x07"', '"\\u202e"', '"\\ud800"', "[{}]", '{"": x}', "{on: }",
    '{on: ""}', "{1: a, 1.0: b}", '{open: "\\0", closed: x}', "1/0 turn", "0 turns", "-90°", "90° .. 10°", "45 N·m",
    "[open, open]", "{open: x, Open: y}", "[clockwise]", "anti-clockwise", "!x y", "*a", "&a b", '"{torque}`lid`"',
)  # fmt: skip
MOST = 3
"""Findings that one odd value may give."""


def test_the_guide_is_good(tmp_path: Path) -> None:
    assert tell(tmp_path, {"machine.yaml": MACHINE, "jobs/job.yaml": JOB}) == []


@pytest.mark.parametrize(("place", "odd"), list(product(PLACES, ODD))[::3])
def test_an_odd_value_is_told_plainly(place: str, odd: str, tmp_path: Path) -> None:
    written = f"{place.partition(':')[0]}: {odd}"
    assert place in MACHINE + JOB
    told = tell(
        tmp_path, {"machine.yaml": MACHINE.replace(place, written), "jobs/job.yaml": JOB.replace(place, written)}
    )
    assert len(told) <= MOST, told
    for _, message in told:
        assert message.isprintable(), message


@pytest.mark.parametrize("place", ["turn: shaft", "by: 2 turns", "way: clockwise", "slacken: 90°", "front: up"])
@pytest.mark.parametrize("odd", ["[]", "{}", "-1", "[{}]", "1/0 turn", "45 N·m", '"\\x07"'])
def test_what_can_be_no_value_is_told(place: str, odd: str, tmp_path: Path) -> None:
    written = f"{place.partition(':')[0]}: {odd}"
    told = tell(
        tmp_path, {"machine.yaml": MACHINE.replace(place, written), "jobs/job.yaml": JOB.replace(place, written)}
    )
    assert told
