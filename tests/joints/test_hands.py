"""Left-hand threads, as they are written, and turns past hand-tight."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.joints.hands import is_left_hand, ways, without_hand
from putback.joints.threads import is_other, read_thread
from putback.joints.turns import likely
from putback.units import Kind, parse

LEFT = ["M12 x 1.25 LH", "M12x1.25-LH", "M12 x 1.25 - 6H - LH", "M12 × 1.25, left-hand thread", "LH M12 x 1.25",
        "left-hand M12 x 1.25", "M12 x 1.25 (left-handed)", "M12 x 1.25 L.H."]  # fmt: skip


@pytest.mark.parametrize("text", LEFT)
def test_the_ways_to_write_a_left_hand_thread(text: str) -> None:
    thread = read_thread(text)
    assert thread.left_hand
    assert thread == read_thread("M12 x 1.25 LH")
    assert thread.designation == "M12 × 1.25 LH"


@pytest.mark.parametrize("text", ["M12 x 1.25 RH", "right-hand M12 x 1.25", "M12 x 1.25"])
def test_a_right_hand_thread(text: str) -> None:
    assert read_thread(text) == read_thread("M12 x 1.25")
    assert not is_left_hand(text)


@pytest.mark.parametrize(
    ("text", "name"),
    [("1/2-13 UNC-LH", "1/2-13 UNC LH"), ("G 1/4 LH", "G 1/4 LH"), ("1/4 NPT left-hand", "1/4-18 NPT LH")],
)
def test_of_other_systems(text: str, name: str) -> None:
    assert read_thread(text).designation == name


def test_the_hand_alone_is_a_thread_by_name() -> None:
    assert is_other("left-hand")
    assert is_other("Left-hand thread")
    assert not is_other("M6")
    assert not is_other("M6 left")


@given(st.text(max_size=90))
def test_any_text_is_read_to_its_end(text: str) -> None:
    rest, _ = without_hand(text)
    assert rest in text


def test_which_way() -> None:
    assert ways(left_hand=True) == ways(left_hand=False)[::-1] == ("clockwise", "anticlockwise")


@pytest.mark.parametrize(
    ("turns", "taper", "wrong"),
    [
        ("2 .. 3 turns", True, None),  # ASME B1.20.1, 1/4 to 3/4: 3 turns of wrench make-up
        ("3 3/4 turns", True, None),  # the same, 5 in
        ("1 .. 2 turns", True, None),  # plastic fittings
        ("6 .. 7 turns", True, "more"),  # counted from the first thread on
        ("1/4 turn", True, "less"),
        ("3/4 turn", False, None),  # a spin-on filter
        ("1 1/2 turns", False, None),
        ("1/16 turn", False, None),  # a spark plug with a conical seat
        ("270°", False, None),
        ("3 turns", False, "more"),
    ],
)
def test_turns_past_hand_tight(turns: str, taper: bool, wrong: str | None) -> None:
    assert likely(parse(turns, Kind.ANGLE), taper=taper) == wrong
