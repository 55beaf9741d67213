"""Tightening orders and stages against rules and lists that others published.

Status: read, seen in the stored text of the source; memory, recalled and not seen.
"""

from __future__ import annotations

import pytest

from putback.joints.patterns import opposite, order_of, read_layout
from putback.joints.plane import clockwise
from putback.joints.stages import Stage, by_angle, faults, read_stage, torque_of
from putback.units import parse_any, show, si


def turns(count: int) -> list[float]:
    """Return the angles, from 12 o'clock, in tightening order, degrees."""
    layout = read_layout("circle 300 mm", count)
    return [round(clockwise(layout.places[number - 1], (0, 0)), 6) for number in order_of(layout)]


# henniggasket.com (read): opposite pairs; 12 and 6 o'clock, then the angle halved, 3 and 9, then 1:30 and 7:30, …
# Of the last pairs, the source leaves the way open.


def test_twelve_and_six_then_three_and_nine_then_half_past_one_and_half_past_seven() -> None:
    assert turns(8)[:6] == [0, 180, 90, 270, 45, 225]


@pytest.mark.parametrize("count", range(4, 65, 2))
def test_opposite_pairs(count: int) -> None:
    order = turns(count)
    assert len(set(order)) == count
    for one, other in zip(order[::2], order[1::2], strict=True):
        assert (other - one) % 360 == pytest.approx(180, abs=1e-5)


@pytest.mark.parametrize("count", [8, 16, 32, 64])
def test_the_angle_is_halved_each_time_round(count: int) -> None:
    # the same rule: after 4, 8, 16, … bolts, those tightened stand evenly round the joint
    order = turns(count)
    tightened = 4
    while tightened <= count:
        done = sorted(order[:tightened])
        assert [b - a for a, b in zip(done, [*done[1:], done[0] + 360], strict=True)] == [360 / tightened] * tightened
        tightened *= 2


# ASME PCC-1, legacy cross pattern, bolts numbered clockwise: memory, no text of the table could be opened
LEGACY = [
    (4, "1-3-2-4"),
    (8, "1-5-3-7-2-6-4-8"),
    (12, "1-7-4-10-2-8-5-11-3-9-6-12"),
    (16, "1-9-5-13-3-11-7-15-2-10-6-14-4-12-8-16"),
    (20, "1-11-6-16-3-13-8-18-5-15-10-20-2-12-7-17-4-14-9-19"),
]


@pytest.mark.parametrize(("count", "order"), LEGACY)
def test_legacy_cross_pattern(count: int, order: str) -> None:
    assert "-".join(map(str, order_of(read_layout("circle 300 mm", count)))) == order


def test_four_bolts_criss_cross() -> None:
    # US Army TM 9-2320-302-34, WP 0029 (read): criss-cross, four bolts, 22–28 and 43–54 lb-ft
    for text in ("circle 60 mm", "rectangle 60 mm x 40 mm", "rows 2 x 2, 60 mm x 40 mm"):
        layout = read_layout(text, 4)
        order = order_of(layout)
        for one, other in (order[:2], order[2:]):
            (x, y), place = layout.places[one - 1], layout.places[other - 1]
            assert place == pytest.approx((-x, -y))
        assert set(opposite(order)[:2]) == set(order[2:])
    for torque in ("22–28 lbf·ft", "43–54 lbf·ft"):
        assert list(faults([Stage(read_stage(torque).kind, parse_any(torque))], parse_any(torque))) == []


# Stages

STAGES = [
    # hswhite.com and gasketsandsealing.com, flange pages (read); then once more at 100 % until no nut turns
    ["30 %", "60 %", "100 %"],
    # henniggasket.com, practice of the Fluid Sealing Association (read); then a last pass in circular order
    ["30 %", "60 %", "100 %"],
    # ASME PCC-1, legacy (memory): snug, 20–30 %, 50–70 %, 100 %; then circular until nothing moves
    ["snug", "30 %", "70 %", "100 %"],
    ["snug", "20 %", "50 %", "100 %"],
]


@pytest.mark.parametrize("stages", STAGES, ids=" ".join)
def test_stages_of_flanges_are_in_order(stages: list[str]) -> None:
    assert list(faults([read_stage(text) for text in stages], parse_any("60 N·m"))) == []


def test_the_last_pass_in_circular_order() -> None:
    # henniggasket.com (read)
    assert order_of(read_layout("circle 300 mm", 8), "in turn") == tuple(range(1, 9))


def test_a_head_in_three_stages() -> None:
    # service specification of a truck diesel (read): 50, 125, 205 lb-ft, which is 24, 61 and 100 %
    last = parse_any("205 lbf·ft")
    stages = [read_stage(f"{torque} lbf·ft") for torque in (50, 125, 205)]
    assert list(faults(stages, last)) == []
    shares = [(si(torque)[0] or 0) / (si(last)[0] or 1) for stage in stages if (torque := torque_of(stage, last))]
    assert [round(100 * share) for share in shares] == [24, 61, 100]
    first = torque_of(read_stage("24 %"), last)
    assert first is not None
    assert show(first) == "49\u00a0lbf·ft"


def test_a_head_by_torque_and_angle() -> None:
    # US Army TM 10-3930-669-20, E-4 (read): 29.5 lb-ft (40 N·m) snug, then 45° + 45° + 45° + 30° = 165°, each
    # going round all screws before the next
    stages = [read_stage(text) for text in ("29.5 lbf·ft", "45°", "45°", "45°", "30°")]
    assert by_angle(stages)
    assert list(faults(stages, None)) == []
    angles = [float(stage.quantity.nominal or 0) for stage in stages[1:] if stage.quantity]
    assert sum(angles) == 165
    assert si(parse_any("29.5 lbf·ft"))[0] == pytest.approx(40, rel=0.001)
