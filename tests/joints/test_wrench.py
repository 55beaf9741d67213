"""What is set on a torque wrench, and which wrenches a job takes."""

from __future__ import annotations

import math
from contextlib import suppress
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.joints.wrench import (
    Choice,
    Use,
    Wrench,
    WrenchError,
    added,
    dial,
    dial_setting,
    fewest,
    usable,
    wrench_of,
)
from putback.units import Kind, Quantity, QuantityError, parse, parse_any, show, si

ONE = parse_any("1 N·m")


def q(text: str) -> Quantity:
    return parse_any(text)


def shown(text: str, step: str | None = None, angle: float = 0) -> str:
    setting = dial(q(text), 380, 40, angle, q(step) if step else None)
    return show(setting).replace("\u00a0", " ")


# The setting


def test_an_extension_in_line_takes_off_and_one_at_90_degrees_changes_nothing() -> None:
    assert dial_setting(42.0, 380, 40) == pytest.approx(38)
    assert dial_setting(42.0, 380, 40, 90) == 42.0
    assert dial_setting(42.0, 380, 40, 270) == 42.0
    assert dial_setting(34.0, 380, 40, 180) == pytest.approx(38)
    assert dial_setting(42.0, 380, 0) == 42.0


@pytest.mark.parametrize(
    ("lever", "extension", "angle", "message"),
    [
        (0, 40, 0, "a lever of 0 mm with an extension of 40 mm cannot turn a bolt"),
        (-1, 40, 0, "a lever of -1 mm with an extension of 40 mm cannot turn a bolt"),
        (380, -40, 0, "a lever of 380 mm with an extension of -40 mm cannot turn a bolt"),
        (math.inf, 40, 0, "a lever of inf mm with an extension of 40 mm cannot turn a bolt"),
        (math.nan, 40, 0, "a lever of nan mm with an extension of 40 mm cannot turn a bolt"),
        (100, 100, 180, "an extension of 100 mm at 180° uses up the whole lever of 100 mm"),
        (100, 300, 120, "an extension of 300 mm at 120° uses up the whole lever of 100 mm"),
    ],
)
def test_no_lever_is_no_setting(lever: float, extension: float, angle: float, message: str) -> None:
    with pytest.raises(WrenchError) as caught:
        dial_setting(10, lever, extension, angle)
    assert str(caught.value) == message


@pytest.mark.parametrize(
    ("torque", "setting", "in_steps_of_1"),
    [
        ("18 N·m", "16.3 N·m", "16 N·m"),
        ("45 N·m", "40.5 N·m", "41 N·m"),
        ("1.8 N·m", "1.63 N·m", "1.63 N·m"),  # a whole mark would be 23 % off
        ("22–28 lbf·ft", "20–25 lbf·ft", "27–34 N·m"),
        ("8 N·m .. 9 N·m", "7.3–8.1 N·m", "8 N·m"),
        ("8.00 N·m .. 8.01 N·m", "7.23809–7.24714 N·m", "7.23809–7.24714 N·m"),
        ("0 N·m .. 0.5 N·m", "0–0.45 N·m", "0–0.45 N·m"),
        ("20 ± 2 N·m", "18.1 ± 1.8 N·m", "18 ± 1.8 N·m"),
        ("20 N·m ± 10 %", "18.1 N·m ± 10 %", "18 N·m ± 10 %"),
        (">= 20 N·m", "≥ 18.1 N·m", "≥ 18.1 N·m"),
        (">= 200 N·m", "≥ 181 N·m", "≥ 181 N·m"),
        ("< 31 N·m", "< 28 N·m", "< 28 N·m"),
        ("0 N·m", "0 N·m", "0 N·m"),
        ("18 N·m (13 lbf·ft)", "16.3 N·m", "16 N·m"),
        ("20 +5 −0 N·m", "18.1–22.6 N·m", "19–22 N·m"),  # what is aimed at is an end of it
    ],
)
def test_a_setting_is_stated_as_the_torque_is(torque: str, setting: str, in_steps_of_1: str) -> None:
    assert shown(torque) == setting
    assert shown(torque, "1 N·m") == in_steps_of_1


def test_a_torque_that_does_not_change_is_left_as_it_was_written() -> None:
    torque = q("18.5 N·m (13.6 lbf·ft)")
    assert dial(torque, 380, 40, 90) is torque
    assert dial(torque, 380, 40, 90, ONE) is torque


def test_what_no_wrench_shows_is_refused() -> None:
    with pytest.raises(WrenchError, match="no wrench shows 2000000000000 N·m"):
        dial(q("2000000000000 N·m"), 380, 40)


@given(
    st.decimals("0.1", "900", places=1),
    st.decimals("0", "90", places=1),
    st.sampled_from(["{0} N·m", "{0}–{1} N·m", "{0} ± {2} lbf·ft", "{0} lbf·in ± 5 %", ">= {0} N·m", "< {0} N·m"]),
    st.floats(1, 900),
    st.floats(0, 400),
    st.floats(-360, 360),
    st.sampled_from([None, "0.1 N·m", "1 N·m", "5 N·m", "2.5 lbf·ft"]),
)
@settings(max_examples=300, deadline=None)
def test_any_setting_is_near_the_exact_one_and_inside_what_is_allowed(
    low: float, more: float, form: str, lever: float, extension: float, angle: float, step: str | None
) -> None:
    with suppress(WrenchError, QuantityError):
        torque = q(form.format(low, low + more, more / 100))
        ratio = dial_setting(1.0, lever, extension, angle)
        setting = dial(torque, lever, extension, angle, q(step) if step else None)
        (least, most), (low_si, high_si) = si(setting), si(torque)
        slack = 1e-6 * ratio * (low_si or high_si or 0)
        if torque.nominal is not None:
            assert setting.nominal is not None
            assert float(setting.to(torque.unit).nominal or 0) == pytest.approx(
                float(torque.nominal) * ratio, rel=0.021
            )
            return
        # Rounded inwards, the ends stay within what the torque allows.
        if low_si is not None:
            assert least is not None
            assert least >= low_si * ratio - slack - 1e-5 * ratio * low_si
        if high_si is not None:
            assert most is not None
            assert most <= high_si * ratio + slack


# The choice


SMALL, MIDDLE, LARGE = Wrench("small", 1, 25), Wrench("middle", 5, 60), Wrench("large", 20, 120)


def test_a_range_becomes_a_wrench() -> None:
    assert wrench_of("small", q("1 N·m .. 25 N·m")) == SMALL
    assert wrench_of("large", q("<= 100 N·m")) == Wrench("large", 0.0, 100)
    assert wrench_of("inch", q("10 lbf·ft .. 80 lbf·ft")).high == pytest.approx(108.4654)


@pytest.mark.parametrize(
    ("torque", "use"),
    [
        ("5 N·m", Use.COVERED),  # the fifth itself
        ("4.9 N·m", Use.LOWEST_FIFTH),
        ("1 N·m", Use.LOWEST_FIFTH),
        ("0.9 N·m", Use.OUT),
        ("25 N·m", Use.COVERED),
        ("25.1 N·m", Use.OUT),
        ("20 N·m .. 30 N·m", Use.COVERED),  # it is set to 25
        ("15.3 N·m .. 28.4 N·m", Use.COVERED),
        ("24 N·m .. 30 N·m", Use.OUT),
        ("4 N·m .. 6 N·m", Use.COVERED),
        ("3 N·m .. 5 N·m", Use.LOWEST_FIFTH),
        ("25 N·m ± 2 N·m", Use.COVERED),  # it is set to 25
        ("25 N·m ± 10 %", Use.COVERED),
        (">= 6 N·m", Use.COVERED),
        ("<= 30 N·m", Use.OUT),
        ("18.439 lbf·ft", Use.COVERED),  # 24.9999 N·m
    ],
)
def test_how_a_wrench_suits_a_torque(torque: str, use: Use) -> None:
    assert usable(SMALL, q(torque)) is use


def test_the_end_of_a_scale_in_another_unit_is_within_it() -> None:
    torque = q("80 lbf·ft")
    assert usable(wrench_of("inch", q("10 lbf·ft .. 80 lbf·ft")), torque.to("N·m")) is Use.COVERED
    assert usable(wrench_of("inch", q("80 lbf·ft .. 100 lbf·ft")), torque.to("N·m")) is Use.COVERED


def choice(wrenches: list[Wrench], *torques: str) -> tuple[list[str], list[str]]:
    found = fewest(wrenches, [q(torque) for torque in torques])
    return [wrench.key for wrench in found.wrenches], [torque.text for torque in found.uncovered]


def test_the_fewest_wrenches() -> None:
    assert choice([SMALL, MIDDLE, LARGE], "2 N·m", "8 N·m", "30 N·m", "50 N·m") == (["small", "middle"], [])
    assert choice([SMALL, MIDDLE, LARGE], "18 N·m") == (["small"], [])
    assert choice([SMALL, MIDDLE, LARGE], "8 N·m", "40 N·m") == (["middle"], [])
    assert choice([MIDDLE, LARGE], "24 N·m", "60 N·m") == (["middle"], [])


def test_a_wrench_is_not_used_in_its_lowest_fifth_if_another_will_do() -> None:
    assert choice([SMALL, MIDDLE], "6 N·m") == (["small"], [])
    assert choice([Wrench("wide", 1, 100), Wrench("two", 1, 110), MIDDLE], "21 N·m", "60 N·m") == (["middle"], [])
    # 8 N·m lies in the lowest fifth of the first, and not of the other.
    assert choice([Wrench("wide", 5, 50), Wrench("close", 6, 40)], "8 N·m", "38 N·m") == (["close"], [])
    # Two are enough, in two ways; only "tall" keeps 14 N·m out of the lowest fifth.
    three = [Wrench("low", 1, 8), Wrench("wide", 9, 90), Wrench("tall", 9, 70)]
    assert choice(three, "5 N·m", "14 N·m", "60 N·m") == (["low", "tall"], [])


def test_of_equal_wrenches_the_smaller_and_then_the_first_is_taken() -> None:
    assert choice([LARGE, Wrench("less", 20, 100)], "40 N·m") == (["less"], [])
    assert choice([LARGE, Wrench("same", 20, 120)], "40 N·m") == (["large"], [])


def test_what_no_wrench_covers_is_told() -> None:
    assert choice([SMALL, LARGE], "0.5 N·m", "18 N·m", "400 N·m") == (["small"], ["0.5 N·m", "400 N·m"])
    assert choice([], "18 N·m") == ([], ["18 N·m"])
    assert fewest([SMALL], []) == Choice((), ())


@given(
    st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), max_size=7),
    st.lists(st.tuples(st.integers(1, 80), st.integers(0, 10)), max_size=6),
)
@settings(max_examples=150, deadline=None)
def test_no_smaller_choice_covers_as_much(scales: list[tuple[int, int]], wanted: list[tuple[int, int]]) -> None:
    wrenches = [Wrench(str(k), low, low + more) for k, (low, more) in enumerate(scales)]
    torques = [q(f"{low} N·m" if not more else f"{low}–{low + more} N·m") for low, more in wanted]

    def covered(chosen: tuple[Wrench, ...]) -> list[bool]:
        return [any(usable(wrench, torque) is not Use.OUT for wrench in chosen) for torque in torques]

    found = fewest(wrenches, torques)
    everything = covered(tuple(wrenches))
    assert covered(found.wrenches) == everything
    assert list(found.uncovered) == [torque for torque, there in zip(torques, everything, strict=True) if not there]
    if found.wrenches:
        smaller = combinations(wrenches, len(found.wrenches) - 1)
        assert all(covered(chosen) != everything for chosen in smaller)


def test_many_wrenches_cost_little() -> None:
    wrenches = [Wrench(str(k), k, k + 3) for k in range(1, 60)]
    found = fewest(wrenches, [q(f"{k} N·m") for k in range(1, 60)])
    assert len(found.wrenches) == 15
    assert found.uncovered == ()


@pytest.mark.parametrize(
    ("torque", "running", "shown"),
    [
        ("25 N·m", "3 N·m", "28 N·m"),
        ("25 N·m", "2 N·m .. 4 N·m", "28 N·m"),
        ("20 lbf·ft", "12 lbf·in", "21 lbf·ft"),
        ("20 N·m .. 24 N·m", "2 N·m", "22–26 N·m"),
        ("20 ± 2 N·m", "3 N·m", "23 ± 2 N·m"),
        ("9 N·m", "0.8 N·m", "9.8 N·m"),
    ],
)
def test_a_running_torque_is_added(torque: str, running: str, shown: str) -> None:
    assert added(parse(torque, Kind.TORQUE), parse(running, Kind.TORQUE)).text == shown
