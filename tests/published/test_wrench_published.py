"""Settings of torque wrenches against examples that others published.

Status: read, seen in the stored text of the source.
"""

from __future__ import annotations

import math

import pytest

from putback.joints.wrench import LOWEST_FIFTH, Use, Wrench, dial, dial_setting, usable
from putback.units import parse_any

INCH = 25.4

# source, torque at the bolt, unit, lever and extension in inches, setting as printed, and as it is; all read
EXAMPLES = [
    ("US Army TM 1-1500-204-23-9, fig. 8-16", 300, "lbf·in", 10, 4, 214, 214.286),
    ("US Army TM 9-2350-277-40&P, WP 0004", 40, "lbf·ft", 12, 4, 30, 30),
    ("US Army TM 9-254, fig. 4-5", 70, "lbf·in", 12, 2, 60, 60),
    ("NAVEDTRA 14315, fig. 3-44 and 3-45", 100, "lbf·in", 12, 6, 66.7, 66.667),
    ("a light-aircraft maintenance manual, 2-90", 30, "lbf·ft", 12, 3, 24, 24),
]


@pytest.mark.parametrize(
    ("torque", "unit", "lever", "extension", "printed", "exact"),
    [row[1:] for row in EXAMPLES],
    ids=[row[0] for row in EXAMPLES],
)
def test_an_extension_in_line(
    torque: float, unit: str, lever: float, extension: float, printed: float, exact: float
) -> None:
    setting = dial_setting(torque, lever * INCH, extension * INCH)
    assert setting == pytest.approx(exact, abs=0.0005)
    assert setting == pytest.approx(printed, rel=0.0014)
    stated = dial(parse_any(f"{torque} {unit}"), lever * INCH, extension * INCH)
    assert stated.unit == unit
    assert float(stated.nominal or 0) == pytest.approx(printed, rel=0.01)


def test_the_inverse_as_it_is_printed() -> None:
    # US Army TM 9-254, fig. 4-5 (read): 60 lb-in on a 12-inch wrench with 2 inches give 70 at the bolt
    assert 60 / dial_setting(1, 12 * INCH, 2 * INCH) == pytest.approx(70)


@pytest.mark.parametrize("angle", range(0, 100, 15))
def test_an_extension_at_an_angle(angle: int) -> None:
    # US Army TM 9-254, fig. 4-6 (read): the lever that counts is L + A·cos a. The stored print has a multiplication
    # sign for the plus; with it, the extension at 90° would leave no lever at all.
    effective = 12 + 2 * math.cos(math.radians(angle))
    assert dial_setting(70, 12, 2, angle) == pytest.approx(70 * 12 / effective)


def test_a_shortening_extension() -> None:
    # the same figures (read): L − A when the extension points back along the lever
    assert dial_setting(100, 12, 2, 180) == pytest.approx(100 * 12 / 10)


def test_the_first_check_point_is_a_fifth_of_the_maximum() -> None:
    # ISO 6789:2003 (read, as quoted in a tool manual): check points 20 %, 60 % and 100 % of the maximum
    assert LOWEST_FIFTH == 0.20
    wrench = Wrench("wrench", 10, 100)
    for torque in ("20 N·m", "60 N·m", "100 N·m"):
        assert usable(wrench, parse_any(torque)) is Use.COVERED
    assert usable(wrench, parse_any("19 N·m")) is Use.LOWEST_FIFTH


def test_the_range_starts_at_the_lowest_marked_value() -> None:
    # ISO 6789-1:2017, 5.1.3 (read, in an article of a wrench maker): so the lowest fifth is within the range
    wrench = Wrench("wrench", 10, 100)
    assert usable(wrench, parse_any("10 N·m")) is not Use.OUT
    assert usable(wrench, parse_any("9 N·m")) is Use.OUT


@pytest.mark.parametrize("torque", [11, 13, 17, 23, 37, 61, 97])
def test_rounding_to_a_mark_stays_within_half_of_what_the_wrench_is_allowed(torque: int) -> None:
    # ISO 6789:2003 (read, as quoted in a tool manual): ±4 % for click wrenches of more than 10 N·m at most
    exact = dial_setting(torque, 380, 40)
    setting = dial(parse_any(f"{torque} N·m"), 380, 40, step=parse_any("1 N·m"))
    assert float(setting.nominal or 0) == pytest.approx(exact, rel=0.04 / 2)
