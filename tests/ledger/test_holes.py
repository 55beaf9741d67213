"""What sits in the hole of a piece that is out."""

from __future__ import annotations

import pytest

from putback.ledger.holes import fits, is_in, sitting_in
from putback.model.verbs.pieces import Install
from tests.ledger.trial import book_of


@pytest.mark.parametrize(
    ("steps", "key", "expected"),
    [
        ("", "screws", True),
        ("  - loosen: screws\n", "screws", True),
        ("  - remove: screws\n    count: 1\n", "screws", False),
        ("  - remove: screws\n", "screws", False),
        ("", "cover", True),
        ("  - remove: cover\n", "cover", False),
    ],
)
def test_a_group_is_in_while_all_its_pieces_are(steps: str, key: str, expected: bool) -> None:
    book = book_of(f"{steps}  - wait: 5 min\n")
    [(_, state)] = book.before(key, book.entries[-1])
    assert is_in(state, book.graph.machine.things[key], ()) is expected


def sitting(steps: str) -> list[tuple[str, tuple[str, ...], int]]:
    """Return what sits in the holes of the screws at the last step: its name, where, and what placed it there."""
    book = book_of(f"{steps}  - wait: 5 min\n")
    return [(one.equipment.key, one.at, one.since) for one in sitting_in(book, book.entries[-1], "screws")]


IN = "  - place: stand\n    in: screws\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("", []),
        ("  - place: stand\n", []),
        (IN, [("stand", (), 0)]),
        (f"{IN}  - take-away: stand\n", []),
        (f"{IN}  - take-away: stand\n{IN}", [("stand", (), 2)]),
        ("  - place: stand\n    in: drain\n", []),
        (f"{IN}  - place: pan\n    in: screws\n", [("stand", (), 0), ("pan", (), 1)]),
    ],
)
def test_what_sits_in_a_hole_until_it_is_taken_away(
    steps: str, expected: list[tuple[str, tuple[str, ...], int]]
) -> None:
    assert sitting(steps) == expected


PIECES = """
machine: Trial engine
parts: {cover: {}, head: {}}
fasteners:
  screws: {count: 4, secures: cover}
  studs: {count: 2, positions: [left, right], secures: head}
"""


@pytest.mark.parametrize(
    ("steps", "free"),
    [
        ("  - remove: screws\n  - install: screws\n", True),
        ("  - remove: screws\n  - place: stand\n    in: screws\n  - install: screws\n", False),
        ("  - remove: screws\n  - place: stand\n    in: screws\n  - install: screws\n    count: 3\n", True),
        ("  - remove: screws\n  - place: stand\n    in: screws\n  - install: screws\n    count: 4\n", False),
        (
            "  - remove: screws\n    count: 3\n  - place: stand\n    in: screws\n  - install: screws\n    count: 2\n",
            True,
        ),
        (
            "  - remove: screws\n    count: 3\n  - place: stand\n    in: screws\n  - install: screws\n    count: 3\n",
            False,
        ),
        (
            "  - remove: screws\n  - place: [stand, pan]\n    in: screws\n  - install: screws\n    count: 3\n",
            False,
        ),
        (
            "  - remove: screws\n  - place: stand\n    in: screws\n  - take-away: stand\n  - install: screws\n",
            True,
        ),
        # Of pieces with names, those that are meant.
        ("  - remove: studs\n  - place: stand\n    in: {studs: left}\n  - install: studs\n    at: right\n", True),
        ("  - remove: studs\n  - place: stand\n    in: {studs: left}\n  - install: studs\n    at: left\n", False),
        ("  - remove: studs\n  - place: stand\n    in: {studs: left}\n  - install: studs\n", False),
        ("  - remove: studs\n  - place: stand\n    in: studs\n  - install: studs\n    at: left\n", True),
        ("  - remove: studs\n  - place: [stand, pan]\n    in: studs\n  - install: studs\n    at: left\n", False),
        ("  - remove: head\n  - install: head\n", False),
    ],
)
def test_as_many_pieces_go_in_as_holes_are_free(steps: str, free: bool) -> None:
    book = book_of(steps, machine=PIECES)
    last = book.entries[-1]
    assert last.target is not None
    assert isinstance(last.step.action, Install)
    [(_, state)] = book.before(last.target.name, last)
    sitters = list(sitting_in(book, last, last.target.name))
    assert fits(book.graph.machine.things[last.target.name], state, last.step.action, sitters) is free


@pytest.mark.parametrize(
    ("steps", "key", "positions", "expected"),
    [
        ("", "studs", (), True),
        ("  - loosen: studs\n", "studs", (), True),
        ("  - remove: studs\n    at: left\n", "studs", (), False),
        ("  - remove: studs\n    at: left\n", "studs", ("left",), False),
        ("  - remove: studs\n    at: left\n", "studs", ("right",), True),
        ("  - remove: studs\n    at: left\n", "studs", ("left", "right"), True),
        ("  - remove: studs\n", "studs", ("left", "right"), False),
        ("", "screws", ("left",), True),
        ("  - remove: screws\n", "screws", ("left",), False),
    ],
)
def test_of_pieces_with_names_those_are_asked_for(
    steps: str, key: str, positions: tuple[str, ...], expected: bool
) -> None:
    book = book_of(f"{steps}  - wait: 5 min\n", machine=PIECES)
    [(_, state)] = book.before(key, book.entries[-1])
    assert is_in(state, book.graph.machine.things[key], positions) is expected
