"""What turns a fastener, as people write it, and which hexagons go with a thread."""

from __future__ import annotations

import pytest

from putback.joints.drives import Drive, all_threads_of, read_drive, same_drive, suits, threads_of
from putback.joints.threads import read_thread


@pytest.mark.parametrize(
    ("text", "size", "inside", "unit"),
    [
        ("hex 10 mm", 10, None, "mm"),
        ("hexagon 10 mm", 10, None, "mm"),
        ("hex 17", 17, None, None),
        ("hex key 5 mm", 5, True, "mm"),
        ("Allen 5 mm", 5, True, "mm"),
        ("hex socket 6 mm", 6, True, "mm"),
        ("10 mm spanner", 10, False, "mm"),
        ("socket 13 mm", 13, False, "mm"),
        ("12-point hex 14 mm", 14, False, "mm"),
        ("hex 9/16 in", 14.2875, None, "in"),
        ("hex 1 1/8 in", 28.575, None, "in"),
    ],
)  # fmt: skip
def test_a_hexagon_is_read(text: str, size: float, inside: bool | None, unit: str | None) -> None:
    found = read_drive(text)
    assert found is not None
    assert found.size == pytest.approx(size)
    assert (found.inside, found.unit) == (inside, unit)


@pytest.mark.parametrize("text", ["T30", "torx T50", "PH2", "slotted", "hex", "13 mm", "hex 10 mm and T30", "x" * 90])
def test_another_drive_is_none(text: str) -> None:
    assert read_drive(text) is None


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("hex key 5 mm", "inner hex 5 mm", True),
        ("Allen 5 mm", "hex socket 5 mm", True),
        ("T30", "T30", True),
        ("hex key 5 mm", "inner hex 6 mm", False),
        ("hex key 5 mm", "hex 5 mm", False),
        ("hex 10 mm", "10 mm spanner", False),
    ],
)
def test_a_key_for_a_hexagon_has_several_names(one: str, other: str, same: bool) -> None:
    assert same_drive(one, other) is same_drive(other, one) is same


@pytest.mark.parametrize(
    ("thread", "sizes"),
    [
        # ISO 4014, DIN 931, JIS B 1180, EN 1662 and ASME B18.2.1; the last of each is that of a heavy or flanged head
        ("M6", (8, 10)), ("M8", (10, 12, 13)), ("M10", (13, 14, 15, 16, 17)), ("M12", (16, 17, 18, 19, 21)),
        ("M14", (19, 21, 22)), ("M16", (22, 24, 27)), ("M20", (27, 30, 32)), ("M24", (32, 36, 41)),
        ("M30", (41, 46, 50)),
        ("1/4-20 UNC", (9.525, 11.1125)), ("3/8-16 UNC", (12.7, 14.2875)), ("1/2-13 UNC", (19.05, 22.225)),
    ],
)  # fmt: skip
def test_heads_of_the_standards_suit_their_threads(thread: str, sizes: tuple[float, ...]) -> None:
    assert [size for size in sizes if not suits(Drive(size, False, "mm"), read_thread(thread))] == []


@pytest.mark.parametrize(
    ("thread", "keys"),
    [("M4", (2, 2.5, 3)), ("M5", (2.5, 3, 4)), ("M6", (3, 4, 5)), ("M8", (4, 5, 6)), ("M10", (5, 8)), ("M12", (6, 10))],
)  # fmt: skip
def test_sockets_of_the_standards_suit_their_threads(thread: str, keys: tuple[float, ...]) -> None:
    for inside in (True, None):
        assert [key for key in keys if not suits(Drive(key, inside, "mm"), read_thread(thread))] == []


def test_what_is_on_no_list_suits() -> None:
    assert suits(Drive(99, False, "mm"), read_thread("M5.5 x 0.5"))
    assert suits(Drive(5, True, "mm"), read_thread("1/4-20 UNC"))
    assert suits(Drive(22, False, "mm"), read_thread("G 1/4"))


def test_a_hexagon_speaks_for_a_thread() -> None:
    assert not suits(Drive(17, None, "mm"), read_thread("M8"))
    assert threads_of(Drive(13, None, "mm")) == [8]
    assert threads_of(Drive(6, True, "mm")) == [8]
    assert threads_of(Drive(23, None, "mm")) == []
    assert all_threads_of(Drive(13, None, "mm"))[0] == 7
    assert 8 in all_threads_of(Drive(13, None, "mm"))
