"""Where numbers stand over a picture: none covers another, or what is pointed at, and none leaves the picture."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from putback.drawings.callouts import Label, PictureMark, clear, labels, radius_of, way, where

RADIUS = 0.046
"""On a telephone."""

PLACES = st.tuples(st.integers(2, 98), st.integers(2, 98))


@given(st.lists(PLACES, min_size=1, max_size=16, unique=True), st.floats(0.4, 2.0))
@example([(2, 2), (98, 2), (2, 98), (98, 98)], 0.4)
@settings(max_examples=60)
def test_numbers_stand_clear(places: list[tuple[int, int]], ratio: float) -> None:
    spots = [(x / 100, y / 100 * ratio) for x, y in places]
    assume(all(math.dist(a, b) > 2 * RADIUS for at, a in enumerate(spots) for b in spots[:at]))
    marks = [PictureMark(number, (spot,)) for number, spot in enumerate(spots, 1)]
    found = labels(marks, ratio, RADIUS)
    assert [(label.number, label.ends) for label in found] == [(mark.number, mark.at) for mark in marks]
    assert clear(found, marks, ratio, RADIUS)
    assert labels(marks, ratio, RADIUS) == found


def test_what_is_not_clear_is_seen() -> None:
    marks = [PictureMark(1, ((0.5, 0.5),))]
    for at in [(0.5, 0.5), (0.99, 0.5), (0.5, 0.01)]:
        assert not clear([Label(1, at, ((0.5, 0.5),))], marks, 1.0, RADIUS)
    assert not clear([Label(1, (0.2, 0.2), ()), Label(2, (0.22, 0.2), ())], marks, 1.0, RADIUS)


def test_twenty_numbers_are_still_apart() -> None:
    marks = [PictureMark(1 + at, (((at % 5 + 0.5) / 5, (at // 5 + 0.5) / 4 * 0.75),)) for at in range(20)]
    assert clear(labels(marks, 0.75, RADIUS), marks, 0.75, RADIUS)


def test_a_number_keeps_its_place_and_has_a_line_to_each_spot() -> None:
    spots = ((0.2, 0.2), (0.8, 0.2))
    assert labels([PictureMark(4, spots, (0.5, 0.5))], 1.0, RADIUS) == [Label(4, (0.5, 0.5), spots)]
    twice = labels([PictureMark(4, spots)], 1.0, RADIUS)
    assert [(label.number, label.ends) for label in twice] == [(4, (spot,)) for spot in spots]


def test_a_number_stands_outside_its_ring_and_off_an_arrow() -> None:
    ring = PictureMark(1, ((0.5, 0.5),), circle=0.4)
    (label,) = labels([ring], 1.0, RADIUS)
    assert math.dist(label.at, (0.5, 0.5)) > 0.2 + RADIUS
    arrow = PictureMark(1, ((0.5, 0.5),), arrow=(0.9, 0.5))
    (label,) = labels([arrow], 1.0, RADIUS)
    assert label.at[0] < 0.5 or abs(label.at[1] - 0.5) > RADIUS


def test_a_disc_is_as_large_on_paper_as_it_says_and_never_too_small_on_a_telephone() -> None:
    assert radius_of(40.0) * 2 * 40 == pytest.approx(6.4)
    assert radius_of(170.0) == pytest.approx(RADIUS, abs=1e-3)


@pytest.mark.parametrize(
    ("end", "expected"), [((1, 0.1), (1, 0)), ((0.9, 1), (1, 1)), ((0, -1), (0, -1)), ((-1, 0.2), (-1, 0))]
)
def test_which_way_an_arrow_leads(end: tuple[float, float], expected: tuple[int, int]) -> None:
    assert way((0, 0), end) == expected


def test_thirds() -> None:
    assert [where((x, y), 0.6) for x, y in [(0.1, 0.1), (0.5, 0.3), (0.9, 0.5)]] == [(-1, -1), (0, 0), (1, 1)]
