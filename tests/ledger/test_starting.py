"""Since when a machine can start, and who has hands in it."""

from __future__ import annotations

import pytest

from putback.ledger.starting import ready_at
from tests.ledger.trial import book_of

MACHINE = """
machine: Trial engine
options: {start: [hand, electric]}
controls:
  key: {positions: ["off", "on"], normal: "off"}
  master: {positions: [open, closed], normal: open, when: {start: electric}}
parts:
  engine: {}
  cover: {}
can-start:
  - {key: "on", master: closed}
  - {lead: connected}
fasteners:
  screws: {count: 4, secures: cover}
lines:
  lead: {joins: [engine, cover]}
"""

KEY = '  - set: key\n    to: "on"\n'
MASTER = "  - set: master\n    to: closed\n"


def since(steps: str, machine: str = MACHINE) -> list[tuple[list[str], int]]:
    """Return the ways in which the machine can start at the last step, and since which entry."""
    book = book_of(steps, machine=machine)
    entry = book.entries[-1]
    return [([need.control.name for need in ready.way], ready.since) for ready in ready_at(book, entry, entry.variants)]


LEAD = "  - disconnect: lead\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("  - note: Here.\n", [(["lead"], -1)]),
        (f"{LEAD}  - note: Here.\n", []),
        (f"{LEAD}  - connect: lead\n  - note: Here.\n", [(["lead"], 1)]),
        (f"{LEAD}{KEY}{MASTER}  - note: Here.\n", [(["key", "master"], 2)]),
        (f"{LEAD}{MASTER}{KEY}  - note: Here.\n", [(["key", "master"], 2)]),
        (f"{LEAD}{KEY}  - note: Here.\n", []),
        (f"{LEAD}{MASTER}  - note: Here.\n", []),
    ],
)
def test_a_machine_can_start_since_the_last_of_what_it_takes(steps: str, expected: list[tuple[list[str], int]]) -> None:
    assert since(steps) == expected
