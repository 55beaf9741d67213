"""How tight a step makes a fastener."""

from __future__ import annotations

import pytest

from putback.joints.stages import read_stage
from putback.model.machine import Fastener
from putback.model.reach import FULL, FULLY, SNUG, Reach, aim_of, is_below, shown_torque
from putback.units import Kind, parse
from tests.ledger.trial import machine_of

MACHINE = """
machine: Trial
fasteners:
  bolt: {torque: 12 N·m}
  span: {torque: 20 N·m .. 25 N·m}
  pair: {torque: 20 lbf·ft (27 N·m)}
  stretch: {stages: [snug, 30 N·m, 90°, 90°]}
  turned: {stages: [snug, 90°]}
  hand: {by-hand: until it stops}
  bare: {kind: bolt}
"""
THINGS = machine_of(MACHINE).things


def fastener(name: str) -> Fastener:
    thing = THINGS[name]
    assert isinstance(thing, Fastener)
    return thing


@pytest.mark.parametrize(
    ("name", "torque", "level"),
    [
        ("bolt", "12 N·m", FULL),
        ("bolt", "106 lbf·in", FULL),
        ("bolt", "4 N·m", Reach(False, 4.0)),
        ("bolt", "11.9 N·m", Reach(False, 11.9)),
        ("bolt", "15 N·m", Reach(True, 15.0)),
        ("span", "22 N·m", FULL),
        ("span", "19 N·m", Reach(False, 19.0)),
        ("span", "30 N·m", Reach(True, 30.0)),
        ("pair", "27 N·m", FULL),
        ("pair", "20 lbf·ft", FULL),
        ("stretch", "30 N·m", Reach(False, 30.0)),
        ("stretch", "50 N·m", Reach(False, 30.0)),
        ("hand", "4 N·m", FULL),
        ("bare", "4 N·m", FULL),
    ],
)
def test_a_torque_of_a_step(name: str, torque: str, level: Reach) -> None:
    aim = aim_of(parse(torque, Kind.TORQUE), None, fastener(name))
    assert aim.further is None
    assert aim.level == pytest.approx(level)


@pytest.mark.parametrize(
    ("name", "stage", "level"),
    [
        ("bolt", "snug", SNUG),
        ("bolt", "50 %", Reach(False, 6.0)),
        ("bolt", "100 %", FULL),
        ("bare", "snug", FULL),
        ("turned", "snug", SNUG),
    ],
)
def test_a_stage_of_a_step(name: str, stage: str, level: Reach) -> None:
    assert aim_of(None, read_stage(stage), fastener(name)).level == level


def test_angles_add_up() -> None:
    quarter = aim_of(None, read_stage("90°"), fastener("stretch"))
    start = aim_of(None, read_stage("30 N·m"), fastener("stretch")).level
    assert quarter.of(start) == Reach(False, 30.0, 90.0)
    assert quarter.of(quarter.of(start)) == FULL
    assert not quarter.of(quarter.of(SNUG)).done
    assert aim_of(None, read_stage("1/4 turn"), fastener("turned")).of(SNUG) == FULL


def test_no_torque_is_all_that_is_due() -> None:
    assert aim_of(None, None, fastener("stretch")) == FULLY


@pytest.mark.parametrize(
    ("torque", "stage", "shown"),
    [(None, None, "12 N·m"), ("4 N·m", None, "4 N·m"), (None, "50 %", "6 N·m"), (None, "snug", None)],
)
def test_what_a_wrench_shows(torque: str | None, stage: str | None, shown: str | None) -> None:
    said = shown_torque(
        parse(torque, Kind.TORQUE) if torque else None, read_stage(stage) if stage else None, fastener("bolt")
    )
    assert (said.text if said else None) == shown


def test_below_is_by_more_than_rounding() -> None:
    assert is_below(parse("11 N·m", Kind.TORQUE), parse("12 N·m", Kind.TORQUE))
    assert not is_below(parse("106 lbf·in", Kind.TORQUE), parse("12 N·m", Kind.TORQUE))
    assert not is_below(parse("12 N·m", Kind.TORQUE), parse("12 N·m", Kind.TORQUE))
