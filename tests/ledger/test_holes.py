"""What sits in the hole of a piece that is out."""

from __future__ import annotations

import pytest

from putback.ledger.holes import is_in, sitting_in
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
