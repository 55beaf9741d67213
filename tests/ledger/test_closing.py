"""What is unfinished at the end."""

from __future__ import annotations

import pytest

from putback.ledger import Book
from putback.ledger.closing import is_closed, is_whole_in, unfinished
from tests.ledger.trial import book_of, book_of_block, plain


def left(book: Book) -> list[tuple[str, int | None]]:
    return [(item.key, item.entry.index if item.entry else None) for item in unfinished(book)]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("  - note: Nothing.\n", []),
        ("  - remove: cover\n", [("cover", 0)]),
        ("  - remove: screws\n", [("screws", 0)]),
        ("  - remove: screws\n  - install: screws\n", [("screws", 1)]),
        ("  - remove: screws\n  - install: screws\n  - tighten: screws\n", []),
        ("  - remove: pin\n  - install: pin\n", []),
        ("  - loosen: screws\n", [("screws", 0)]),
        ("  - disconnect: hose\n  - connect: hose\n    at: tail\n", [("hose", 0)]),
        ("  - drain: oil\n", [("oil", 0)]),
        ("  - remove: drain\n", [("drain", 0), ("coolant", 0)]),
        ("  - set: selector\n    to: forward\n  - set: selector\n    to: reverse\n", [("selector", 1)]),
        ("  - set: selector\n    to: forward\n  - set: selector\n    to: neutral\n", []),
        ("  - place: stand\n", [("stand", 0)]),
        ("  - place: stand\n  - take-away: stand\n", []),
        ("  - remove: tensioner\n  - install: tensioner\n", []),  # told by `unmarked`
    ],
)
def test_what_is_unfinished_and_by_which_entry(steps: str, expected: list[tuple[str, int | None]]) -> None:
    assert left(book_of(steps)) == expected


def test_two_entries_are_two_causes() -> None:
    book = book_of("  - remove: cover\n    when: {drive: gear}\n  - remove: cover\n    when: {drive: belt}\n")
    space = book.graph.space
    found = {item.entry.index: item.variants for item in unfinished(book) if item.entry}
    assert found == {0: space.chosen("drive", ["gear"]), 1: space.chosen("drive", ["belt"])}


def test_states_that_read_alike_are_told_as_one() -> None:
    """One variant leaves rest by another entry than the other does; they stand alike, by one entry."""
    book = book_of("""  - set: selector
    to: forward
    when: {drive: gear}
  - set: selector
    to: forward
""")
    assert len(book.closing("selector")) == 2
    [item] = unfinished(book)
    assert (item.key, item.variants) == ("selector", book.graph.space.built)


def test_states_that_differ_in_number_are_told_apart() -> None:
    book = book_of("  - remove: screws\n  - install: screws\n    count: 2\n    when: {drive: gear}\n")
    assert sorted(plain(item.state)["out"] for item in unfinished(book)) == [4, 6]  # type: ignore[type-var]


def test_the_place_is_the_name_in_the_step() -> None:
    [item] = unfinished(book_of("  - remove: [cover, cover]\n"))
    assert (item.span.line, item.span.column, item.span.end_column) == (3, 14, 19)


def test_the_ways_there() -> None:
    [item] = unfinished(book_of("  - do: b\n", {"b": "steps: [{remove: cover}]"}))
    assert [also.message for also in item.ways] == ["done from here"]
    assert item.span.path == "blocks/b.yaml"


def test_a_block_may_leave_what_it_says() -> None:
    assert left(
        book_of_block("ends-with: [cover, stand]\nsteps: [{remove: cover}, {place: stand}, {remove: gasket}]")
    ) == [("gasket", 2)]


def test_a_block_that_finds_something_off_must_put_it_back() -> None:
    [item] = unfinished(book_of_block("begins-with: [cover]\nsteps: [{note: Nothing.}]"))
    assert item.key == "cover"
    assert item.entry is None
    assert (item.span.line, item.span.column) == (2, 15)
    assert left(book_of_block("begins-with: [cover, stand]\nsteps: [{install: cover}, {take-away: stand}]")) == []


def test_a_thing_that_a_variant_lacks_is_not_left_there() -> None:
    [item] = unfinished(book_of_block("begins-with: [guard]\nsteps: [{install: guard, when: {drive: gear}}]"))
    assert item.variants == book_of("  - note: a\n").graph.space.chosen("drive", ["belt"])


BRAKE = """
machine: Trial brake
options: {lever: [hand, foot]}
controls:
  warmth: {positions: [cold, hot], normal: cold, any-at-end: true}
  tap: {positions: [shut, open], normal: shut}
parts: {arm: {}, cam: {adjustable: true}, lid: {}}
fasteners:
  nut: {no-torque: the travel sets it}
  other-nut: {no-torque: nothing sets it}
  bolts: {count: 2, torque: 9 N·m, secures: arm}
settings:
  travel: {limit: 3 mm .. 5 mm, adjusted-by: [nut, bolts]}
  height: {limit: 3 mm .. 5 mm, disturbed-by: lid}
"""


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        # A nut that its setting was adjusted with stands where it must.
        ("  - loosen: nut\n  - adjust: travel\n", []),
        ("  - adjust: travel\n  - loosen: nut\n", [("nut", 1)]),
        ("  - loosen: other-nut\n  - adjust: travel\n", [("other-nut", 0)]),
        ("  - loosen: bolts\n  - adjust: travel\n", [("bolts", 0)]),
        ("  - remove: nut\n  - adjust: travel\n", [("nut", 0)]),
        ("  - set: warmth\n    to: hot\n", []),
        ("  - set: tap\n    to: open\n", [("tap", 0)]),
        # Of what is still off, the setting that it disturbs is not told as well.
        ("  - remove: lid\n", [("lid", 0)]),
        ("  - remove: lid\n  - install: lid\n", [("height", 0)]),
        ("  - remove: lid\n  - install: lid\n  - measure: height\n", []),
    ],
)
def test_what_a_brake_is_left_as(steps: str, expected: list[tuple[str, int | None]]) -> None:
    assert left(book_of(steps, machine=BRAKE)) == expected


def test_the_nut_is_told_in_the_variants_in_which_nobody_adjusts() -> None:
    book = book_of("  - loosen: nut\n  - adjust: travel\n    when: {lever: hand}\n", machine=BRAKE)
    foot = book.graph.space.chosen("lever", ["foot"])
    assert {item.key: item.variants for item in unfinished(book)} == {"nut": foot}


def test_what_a_block_leaves_as_it_says_is_told_at_the_block() -> None:
    blocks = {"says": "ends-with: [cover]\nsteps: [{remove: cover}]\n", "silent": "steps: [{remove: cover}]\n"}
    found = [
        (item.block, item.span.path)
        for steps in ("  - do: says\n", "  - do: silent\n", "  - do: [silent, says]\n", "  - remove: cover\n")
        for item in unfinished(book_of(steps, blocks))
    ]
    assert found == [
        ("says", "jobs/j.yaml"), (None, "blocks/silent.yaml"), ("says", "jobs/j.yaml"), (None, "jobs/j.yaml"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "closed"),
    [
        ("cover", True), ("gasket", False), ("stand", False), ("pan", True), ("tensioner", False), ("nothing", False),
        ("impeller", True),
    ],
)  # fmt: skip
def test_what_is_closed_at_the_end_and_before_a_step(name: str, closed: bool) -> None:
    steps = "  - remove: [cover, gasket]\n  - install: cover\n  - place: stand\n"
    book = book_of(f"{steps}  - remove: tensioner\n  - install: tensioner\n  - note: a\n")
    assert is_closed(book, name) is closed
    assert is_whole_in(book, name, None) is closed
    assert is_whole_in(book, name, book.entries[0]) is (name != "nothing")
    assert is_whole_in(book, "cover", book.entries[2]) is False
    assert is_whole_in(book, "cover", book.entries[3]) is True
