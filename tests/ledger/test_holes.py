"""What sits in the hole of a piece that is out."""

from __future__ import annotations

import pytest

from putback.ledger.holes import is_in
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
