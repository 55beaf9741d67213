"""Published torques with an angle: none is called too far, and an angle of another bolt mostly is.

`angles.yaml` names each source. `python -m tests.published` prints what is found.
"""

from __future__ import annotations

import pytest

from putback.joints.turning import MOST, MOST_OF_KNOWN
from tests.published.angles import Turned, read_angles, turned_too_far

ANGLES = read_angles()


@pytest.mark.parametrize("bolt", ANGLES, ids=str)
def test_a_published_angle_is_not_too_far(bolt: Turned) -> None:
    assert not turned_too_far(bolt)


def test_the_limits_stand_clear_of_published_angles() -> None:
    strains = {
        known: [bolt.stretch().strain for bolt in ANGLES if (bolt.length is not None) is known]
        for known in (True, False)
    }
    assert max(strains[True]) == pytest.approx(0.0088, abs=0.0001)
    assert max(strains[False]) == pytest.approx(0.0063, abs=0.0001)
    assert (MOST, MOST_OF_KNOWN) == (0.0070, 0.0095)


def test_two_half_turns_on_a_torque_are_too_far() -> None:
    assert turned_too_far(Turned("M10", "10.9", None, 40, 360))
    assert turned_too_far(Turned("M10", "10.9", 100, 40, 360))


def test_an_angle_ten_times_as_large_is_found_where_it_is_more_than_a_turn() -> None:
    missed = [bolt for bolt in ANGLES if not turned_too_far(bolt._replace(angle=bolt.angle * 10))]
    assert [bolt for bolt in missed if bolt.angle * 10 > 500] == []
