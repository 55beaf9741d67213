"""Layouts, the orders that follow from them, and the same in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from contextlib import suppress
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.joints.layouts import MOST, centre_of, is_straight
from putback.joints.patterns import (
    Layout,
    LayoutError,
    Rule,
    Shape,
    opposite,
    order_of,
    positions_layout,
    read_layout,
    rule_of,
)
from putback.joints.plane import clockwise
from putback.words.english.orders import LONGEST_WORDS, in_words

HEAD = "rows 2 x 5, 160 mm x 84 mm"


def places(text: str, count: int) -> list[tuple[float, float]]:
    return [(round(x, 2), round(y, 2)) for x, y in read_layout(text, count).places]


def turn(layout: Layout, number: int) -> float:
    return clockwise(layout.places[number - 1], (0.0, 0.0))


def apart(one: float, other: float, period: float = 360) -> float:
    away = abs(one - other) % period
    return min(away, period - away)


# Reading


def test_a_circle_is_numbered_clockwise_from_the_top() -> None:
    assert places("circle 46 mm", 4) == [(0, 23), (23, 0), (0, -23), (-23, 0)]
    assert read_layout("circle 46 mm", 4).shape is Shape.CIRCLE


def test_a_circle_starts_at_an_angle_clockwise_from_the_top() -> None:
    assert places("circle 46 mm from 90°", 4) == [(23, 0), (0, -23), (-23, 0), (0, 23)]
    assert places("Circle of 46mm from -30 deg", 3)[0] == (-11.5, 19.92)


def test_a_rectangle_is_numbered_clockwise_from_the_top_left() -> None:
    assert places("rectangle 60 mm x 40 mm", 4) == [(-30, 20), (30, 20), (30, -20), (-30, -20)]


@pytest.mark.parametrize(
    ("count", "top", "side"), [(4, 2, 2), (6, 3, 2), (8, 4, 2), (10, 4, 3), (12, 5, 3), (14, 6, 3)]
)
def test_a_rectangle_takes_its_corners_and_makes_the_widest_gap_least(count: int, top: int, side: int) -> None:
    found = places("rectangle 90 mm x 40 mm", count)
    assert {(-45, 20), (45, 20), (45, -20), (-45, -20)} <= set(found)
    assert len(set(found)) == count
    assert sum(y == 20 for _, y in found) == sum(y == -20 for _, y in found) == top
    assert sum(x == 45 for x, _ in found) == sum(x == -45 for x, _ in found) == side


def test_rows_are_numbered_from_the_left_the_top_row_first() -> None:
    assert places("rows 2 x 3, 80 mm x 40 mm", 6) == [(-40, 20), (0, 20), (40, 20), (-40, -20), (0, -20), (40, -20)]
    assert places("rows 1 x 3, 80 mm", 3) == [(-40, 0), (0, 0), (40, 0)]
    assert places("rows 3 x 1, 80 mm", 3) == [(0, 40), (0, 0), (0, -40)]


def test_one_unit_serves_both_sides_and_other_units_are_converted() -> None:
    assert read_layout("rectangle 60 × 40 mm", 4) == read_layout("rectangle 6 cm x 40 mm", 4)
    assert places("rectangle 2 x 1 in", 4)[1] == (25.4, 12.7)


def test_listed_positions_are_mm_or_have_a_unit() -> None:
    layout = positions_layout([[-32, 55.5], ["32", "-1 in"], ["−3 mm", "+4"]], 3)
    assert layout == Layout(((-32, 55.5), (32, -25.4), (-3, 4)), Shape.FREE)


REFUSED = [
    (
        "cirle 46 mm", 6,
        "'cirle 46 mm' is not a known layout",
        "did you mean 'circle 46 mm'?",
    ),
    ("circle 46", 6, "'46' has no unit", "write the unit, as in '46 mm'"),
    ("circle 46 mm from 30", 6, "'30' has no unit", "write the unit, as in '30°'"),
    ("circle 46 kg", 6, "'46 kg' is a mass, but a length is expected", "write it as in '18 mm'"),
    (
        "circle", 6,
        "'circle' is not how a circle is written",
        "write it as in 'circle 46 mm' or 'circle 46 mm from 30°'",
    ),
    (
        "circle 46 mm from", 6,
        "'circle 46 mm from' is not how a circle is written",
        "write it as in 'circle 46 mm' or 'circle 46 mm from 30°'",
    ),
    ("circle 0 mm", 6, "the diameter is '0 mm'", "write a length of 1 mm or more"),
    ("circle 900 m", 6, "'900 m' is longer than any joint", "write a length of mm"),
    ("circle 40 mm .. 50 mm", 6, "'40 mm .. 50 mm' is more than one value", "write one length"),
    ("circle 46 mm", 1, "'circle 46 mm' is for two pieces or more, but the count is 1", "give its 'count'"),
    ("circle 46 mm", 501, "501 places are more than a layout can have, 500", "leave the layout out"),
    (
        "rectangle 60 mm", 4,
        "'rectangle 60 mm' is not how a rectangle is written",
        "write it as in 'rectangle 60 mm x 40 mm'",
    ),
    ("rectangle 60 x 40", 4, "'40' has no unit", "write the unit, as in '40 mm'"),
    (
        "rectangle 60 mm x 40 mm", 7,
        "'rectangle 60 mm x 40 mm' cannot hold a count of 7: a rectangle takes an even number, four or more",
        "list the positions, each as in [-32, 55]",
    ),
    (HEAD, 8, "2 x 5 are 10 places for a count of 8", "give 8 places, or write 'count: 10'"),
    (
        "rows 2 x 5", 10,
        "'rows 2 x 5' does not say how long the rows are",
        "write it as in 'rows 2 x 5, 160 mm x 84 mm'",
    ),
    ("rows 1 x 4, 160 mm x 84 mm", 4, "one row has no height", "write it as in 'rows 1 x 4, 160 mm'"),
    ("rows 4 x 1, 160 mm x 84 mm", 4, "one column has no width", "write it as in 'rows 4 x 1, 160 mm'"),
    (
        "rows 2 x 2, 160 mm", 4,
        "'rows 2 x 2, 160 mm' is not how a layout of rows is written",
        "write it as in 'rows 2 x 5, 160 mm x 84 mm'",
    ),
    (
        "rows 0 x 4, 160 mm", 4,
        "'rows 0 x 4, 160 mm' is not how a layout of rows is written",
        "write it as in 'rows 2 x 5, 160 mm x 84 mm'",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "count", "message", "hint"), REFUSED, ids=[row[0] for row in REFUSED])
def test_a_layout_that_is_none_is_refused_in_plain_words(text: str, count: int, message: str, hint: str) -> None:
    with pytest.raises(LayoutError) as caught:
        read_layout(text, count)
    assert (str(caught.value), caught.value.hint) == (message, hint)


@pytest.mark.parametrize("text", ["", "oval 40 mm", "circle " + "9" * 300])
def test_what_is_near_to_nothing_gets_every_form_as_a_hint(text: str) -> None:
    with pytest.raises(LayoutError) as caught:
        read_layout(text, 4)
    assert "'circle 46 mm'" in caught.value.hint
    assert "'rows 2 x 5, 160 mm x 84 mm'" in caught.value.hint


@pytest.mark.parametrize(
    ("positions", "count", "message", "index"),
    [
        ([[1, 2], [3, 4]], 3, "2 positions for a count of 3", None),
        ([[1, 2]], 2, "1 position for a count of 2", None),
        ([], None, "the list of positions is empty", None),
        ([[1, 2], [3, 4], [1, 2.01]], None, "positions 1 and 3 are alike, both at 1, 2.01", 2),
        ([[1, 2], [1, 2, 3]], None, "position 2 has 3 numbers, but x and y are expected", 1),
        (["12"], None, "position 1 is a text, but x and y are expected", 0),
        ([["a", 2]], None, "'a' is not a quantity: a number and then a unit are expected", 0),
        ([[0, 0], [1, "1 kg"]], None, "'1 kg' is a mass, but a length is expected", 1),
        ([[math.nan, 2]], None, "position 1 has the number nan", 0),
        ([[1e300, 2]], None, f"position 1 has the number 1{'0' * 300}", 0),
        ([["--1", 2]], None, "'--1' is not a number of mm", 0),
        ([["", 2]], None, "'' is not a number of mm", 0),
        ([[k, 0] for k in range(MOST + 1)], None, "501 places are more than a layout can have, 500", None),
    ],
)
def test_positions_that_are_none_are_refused(
    positions: Sequence[Sequence[float | str]], count: int | None, message: str, index: int | None
) -> None:
    with pytest.raises(LayoutError) as caught:
        positions_layout(positions, count)
    assert (str(caught.value), caught.value.index) == (message, index)


@given(st.text(alphabet="circle rows x×-.,0123456789°mfo", max_size=40), st.integers(-2, 30))
@settings(max_examples=200, deadline=None)
def test_any_text_is_a_layout_or_is_refused(text: str, count: int) -> None:
    for written in (text, f"circle {text}", f"rows {text}", f"rectangle {text}"):
        with suppress(LayoutError):
            layout = read_layout(written, count)
            assert len(layout.places) == count
            assert sorted(order_of(layout)) == list(range(1, count + 1))


# Which order


@pytest.mark.parametrize(
    ("text", "count", "rule"),
    [
        ("circle 46 mm", 6, Rule.CROSSWISE),
        ("rectangle 60 mm x 40 mm", 4, Rule.CROSSWISE),
        ("rows 2 x 2, 60 mm x 40 mm", 4, Rule.CROSSWISE),
        ("rows 1 x 4, 60 mm", 4, Rule.FROM_THE_MIDDLE),
        ("rectangle 60 mm x 40 mm", 8, Rule.FROM_THE_MIDDLE),
        ("rectangle 150 mm x 110 mm", 8, Rule.CROSSWISE),
        ("rows 2 x 3, 108 mm x 116 mm", 6, Rule.CROSSWISE),
        ("rows 3 x 3, 100 mm x 100 mm", 9, Rule.FROM_THE_MIDDLE),
        (HEAD, 10, Rule.FROM_THE_MIDDLE),
    ],
)
def test_the_shape_tells_the_rule(text: str, count: int, rule: Rule) -> None:
    layout = read_layout(text, count)
    assert rule_of(layout) is rule
    assert order_of(layout) == order_of(layout, rule)


RINGS = {
    "an oval of seven": [[4, 52], [-32, 38], [-50, -6], [-20, -44], [24, -46], [52, -14], [48, 24]],
    "a cover with a straight side": [[-60, 40], [0, 52], [60, 40], [56, -10], [30, -50], [-30, -50], [-56, -10]],
}


@pytest.mark.parametrize("places", RINGS.values(), ids=RINGS)
def test_a_ring_that_is_no_circle_is_tightened_crosswise(places: list[list[float]]) -> None:
    """Each second bolt is nearly opposite the one before; no two in succession are neighbours until few are left."""
    layout = positions_layout(places)
    assert rule_of(layout) is Rule.CROSSWISE
    order = order_of(layout)
    middle = (sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places))
    turns = [clockwise((places[n - 1][0], places[n - 1][1]), middle) for n in order]
    for k in range(0, 4, 2):
        assert apart(turns[k], turns[k + 1]) > 130
    assert 50 < apart(turns[1], turns[2]) < 130
    loaded = sorted(turns[:4])
    assert max(after - before for before, after in zip(loaded, [*loaded[1:], loaded[0] + 360], strict=True)) < 150


def test_a_list_on_a_circle_goes_crosswise_and_a_list_beside_it_does_not() -> None:
    ring = read_layout("circle 100 mm", 6).places
    moved = [(x + 300, y - 40) for x, y in ring]
    centre = centre_of(positions_layout(moved))
    assert centre == pytest.approx((300, -40))
    assert order_of(positions_layout(moved)) == (1, 4, 2, 5, 3, 6)
    assert centre_of(positions_layout([*moved[:5], (moved[5][0], moved[5][1] + 6)])) is None


def test_an_arc_is_no_circle() -> None:
    arc = [(50 * math.sin(a), 50 * math.cos(a)) for a in (0.0, 0.5, 1.0, 1.5, 2.0)]
    assert centre_of(positions_layout(arc)) is None
    assert not is_straight(positions_layout(arc))


@pytest.mark.parametrize(
    ("rule", "message"), [("crosswize", "did you mean 'crosswise'?"), ("round about", "write 'crosswise', 'from the")]
)
def test_an_unknown_rule_is_refused(rule: str, message: str) -> None:
    with pytest.raises(LayoutError, match="is not a known order") as caught:
        order_of(read_layout("circle 46 mm", 4), rule)
    assert caught.value.hint.startswith(message)


def test_in_turn_and_opposite() -> None:
    layout = read_layout("circle 46 mm", 5)
    assert order_of(layout, "in turn") == (1, 2, 3, 4, 5)
    assert opposite(order_of(layout, "in turn")) == (5, 4, 3, 2, 1)


# Crosswise


@pytest.mark.parametrize(
    ("count", "order"),
    [(2, "1-2"), (3, "1-2-3"), (4, "1-3-2-4"), (5, "1-3-5-2-4"), (6, "1-4-2-5-3-6"), (7, "1-4-6-3-5-2-7"),
     (8, "1-5-3-7-2-6-4-8"), (10, "1-6-3-8-2-7-4-9-5-10")],
)  # fmt: skip
def test_crosswise(count: int, order: str) -> None:
    assert "-".join(map(str, order_of(read_layout("circle 46 mm", count)))) == order


@pytest.mark.parametrize("count", range(4, 65, 2))
def test_crosswise_goes_in_opposite_pairs_and_halves_the_angles(count: int) -> None:
    layout = read_layout("circle 300 mm from 17°", count)
    order = order_of(layout)
    assert sorted(order) == list(range(1, count + 1))
    firsts, seconds = order[::2], order[1::2]
    assert [(one - 1 + count // 2) % count + 1 for one in firsts] == list(seconds)
    step = 360 / count
    # A cross of two pairs stands at 90°, as near as the number allows.
    assert apart(turn(layout, order[0]), turn(layout, order[2]), 180) >= 90 - step / 2 - 1e-6
    if count % 4 == 0:
        for one, other in zip(firsts[::2], firsts[1::2], strict=True):
            assert apart(turn(layout, one), turn(layout, other), 180) == pytest.approx(90)
        # Each cross starts as far as can be from the crosses before it.
        done: list[float] = []
        left = {turn(layout, number) % 90 for number in order}
        for number in firsts[::2]:
            here = turn(layout, number)
            if done:
                room = [min(apart(other, before, 90) for before in done) for other in left]
                assert min(apart(here, before, 90) for before in done) == pytest.approx(max(room))
            done.append(here)


@pytest.mark.parametrize("count", range(5, 64, 2))
def test_an_odd_number_goes_to_the_nearest_that_is_left_of_the_opposite(count: int) -> None:
    layout = read_layout("circle 300 mm", count)
    order = order_of(layout)
    assert sorted(order) == list(range(1, count + 1))
    for k in range(0, count - 1, 2):
        reach = [apart(turn(layout, order[k]), turn(layout, number)) for number in order[k + 1 :]]
        assert reach[0] == pytest.approx(max(reach))
    assert apart(turn(layout, order[0]), turn(layout, order[1])) >= 180 - 180 / count - 1e-6


@pytest.mark.parametrize("sides", ["60 mm x 40 mm", "40 mm x 60 mm", "50 mm x 50 mm"])
def test_four_on_the_corners_go_as_on_a_circle(sides: str) -> None:
    assert order_of(read_layout(f"rectangle {sides}", 4)) == (1, 3, 2, 4)


def test_four_in_any_numbering_cross_over() -> None:
    assert order_of(positions_layout([[-32, 55], [32, 55], [32, -55], [-32, -55]])) == (1, 3, 2, 4)
    assert order_of(positions_layout([[-32, 55], [32, 55], [-32, -55], [32, -55]])) == (1, 4, 2, 3)


def test_an_uneven_circle_goes_by_angle() -> None:
    turns = [0, 30, 90, 180, 200, 270]
    layout = positions_layout([[50 * math.sin(math.radians(a)), 50 * math.cos(math.radians(a))] for a in turns])
    assert [turns[number - 1] for number in order_of(layout)] == [0, 180, 90, 270, 30, 200]


def test_what_sits_in_the_middle_of_a_cross_comes_first() -> None:
    ring = read_layout("circle 80 mm", 8).places
    assert order_of(positions_layout([*ring, (0, 0)]), "crosswise") == (9, 1, 5, 3, 7, 2, 6, 4, 8)


# From the middle


@pytest.mark.parametrize(
    ("text", "count", "order"),
    [
        (HEAD, 10, "3-8-2-9-4-7-5-6-1-10"),
        ("rows 2 x 4, 160 mm x 84 mm", 8, "2-7-3-6-4-5-1-8"),
        ("rows 1 x 5, 160 mm", 5, "3-2-4-1-5"),
        ("rows 6 x 1, 160 mm", 6, "3-4-2-5-1-6"),
        ("rows 3 x 3, 80 mm x 80 mm", 9, "5-2-8-4-6-1-9-3-7"),
        ("rectangle 90 mm x 40 mm", 8, "2-6-3-7-4-8-1-5"),
        ("rows 2 x 1, 40 mm", 2, "1-2"),
    ],
)
def test_from_the_middle(text: str, count: int, order: str) -> None:
    assert "-".join(map(str, order_of(read_layout(text, count)))) == order


@pytest.mark.parametrize("columns", range(3, 20))
@pytest.mark.parametrize("upright", [False, True])
def test_two_rows_go_outwards_in_pairs_across_the_middle_on_alternate_sides(columns: int, upright: bool) -> None:
    text = f"rows {columns} x 2, 60 mm x 400 mm" if upright else f"rows 2 x {columns}, 400 mm x 60 mm"
    layout = read_layout(text, 2 * columns)
    order = order_of(layout)
    assert sorted(order) == list(range(1, 2 * columns + 1))
    found = [layout.places[number - 1] for number in order]
    along = [y if upright else x for x, y in found]
    across = [x if upright else y for x, y in found]
    assert all(abs(one) <= abs(other) + 1e-6 for one, other in pairwise(along))
    assert all(one * other < 0 for one, other in pairwise(across))
    assert all(
        math.dist(one, (-other[0], -other[1])) < 1e-5 for one, other in zip(found[::2], found[1::2], strict=True)
    )


def test_a_slanting_row_goes_from_its_middle_too() -> None:
    assert order_of(positions_layout([[k, 2 * k] for k in (0, 10, 20, 30, 40)])) == (3, 2, 4, 1, 5)


def test_rows_that_are_a_little_out_of_line_keep_their_order() -> None:
    tidy = read_layout(HEAD, 10)
    shaken = positions_layout([[x + 0.3 * (k % 3), y - 0.4 * (k % 2)] for k, (x, y) in enumerate(tidy.places)])
    found = [shaken.places[number - 1] for number in order_of(shaken)]
    groups = [set(order_of(shaken)[a:b]) for a, b in ((0, 2), (2, 6), (6, 10))]
    assert groups == [{3, 8}, {2, 4, 7, 9}, {1, 5, 6, 10}]
    assert all(one[1] * other[1] < 0 for one, other in pairwise(found))


@given(st.lists(st.tuples(st.integers(-80, 80), st.integers(-80, 80)), min_size=1, max_size=24, unique=True))
@settings(max_examples=150, deadline=None)
def test_any_places_give_a_permutation_by_every_rule(listed: list[tuple[int, int]]) -> None:
    layout = positions_layout(listed)
    for rule in (None, *Rule):
        order = order_of(layout, rule)
        assert sorted(order) == list(range(1, len(listed) + 1))
        assert in_words(order, layout).startswith("start ")


# Words


@pytest.mark.parametrize(
    ("text", "count", "words"),
    [
        ("circle 46 mm", 4, "start at 12 o'clock; 2 at 6 o'clock, opposite; 3 at 3 o'clock; 4 at 9 o'clock, opposite"),
        (
            "circle 46 mm from 45°",
            5,
            "start at 1:30; 2 at 6:18; 3 at 11:06; 4 at 3:54; 5 at 8:42",
        ),
        ("rows 1 x 3, 80 mm", 3, "start in the middle; 2 at the left; 3 at the right"),
        ("rows 3 x 1, 80 mm", 3, "start in the middle; 2 at the top; 3 at the bottom"),
        (
            "rows 4 x 1, 80 mm",
            4,
            "start at place 2; 2 at place 3; 3 at place 1; 4 at place 4 (places counted from the top)",
        ),
        (
            "rows 1 x 4, 80 mm",
            4,
            "start at place 2; 2 at place 3; 3 at place 1; 4 at place 4 (places from the left)",
        ),
        (
            "rectangle 60 mm x 40 mm",
            4,
            "start at the top left; 2 at the bottom right, opposite; 3 at the top right; "
            "4 at the bottom left, opposite",
        ),
        (
            "rows 2 x 4, 160 mm x 84 mm",
            8,
            "start in the top row, place 2; 2 in the bottom row, place 3; 3 in the top row, place 3; "
            "4 in the bottom row, place 2; 5 in the top row, place 4; 6 in the bottom row, place 1; "
            "7 in the top row, place 1; 8 in the bottom row, place 4 (places from the left)",
        ),
        (
            "rows 4 x 2, 40 mm x 90 mm",
            8,
            "start in row 2, left; 2 in row 3, right; 3 in row 3, left; 4 in row 2, right; 5 in row 4, left; "
            "6 in row 1, right; 7 in row 1, left; 8 in row 4, right (rows from the top)",
        ),
    ],
)
def test_in_words(text: str, count: int, words: str) -> None:
    layout = read_layout(text, count)
    assert in_words(order_of(layout), layout) == words


def test_places_in_no_rows_are_told_in_mm() -> None:
    layout = positions_layout([[0, 0], [90, 12], [20, 70], [33, 30]])
    assert in_words((4, 1, 2, 3), layout) == (
        "start at 33, 30; 2 at 0, 0; 3 at 90, 12; 4 at 20, 70 (mm to the right, mm upwards)"
    )


def test_a_long_order_is_not_read_out_to_its_end() -> None:
    layout = read_layout("circle 900 mm", 60)
    words = in_words(order_of(layout), layout).split("; ")
    assert len(words) == LONGEST_WORDS + 1
    assert words[-1] == "and so on to 60"
