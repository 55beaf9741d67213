"""What somebody holds up by hand while other work is done."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import open_book
from putback.ledger.carried import carried
from putback.units import Kind, parse
from tests.ledger.trial import book_of, said

MACHINE = """
machine: Trial outboard
parts:
  midsection: {}
  gearcase: {hangs: true}
  housing: {}
  lid: {}
fasteners:
  bolts: {count: 4, secures: [gearcase, housing], to: midsection}
  lid-screws: {count: 2, secures: lid, to: midsection}
stacks:
  - [gearcase, housing]
"""

OUT = "  - remove: bolts\n"


def held(steps: str) -> list[tuple[str, str]]:
    """Return at which step which part is held by hand, and what made it so; the stand bears 50 kg, the pan nothing."""
    plain = book_of(steps, machine=MACHINE)
    stand = replace(plain.library.equipment["stand"], rated_load=parse("50 kg", Kind.MASS))
    library = replace(plain.library, equipment={**plain.library.equipment, "stand": stand})
    book = open_book(plain.sequence, plain.graph, library)
    return [(said(one.entry.step), said(one.since.step) if one.since else "") for one in carried(book)]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        # It, its fasteners and what these hold as well are its own work.
        (f"{OUT}  - remove: gearcase\n", []),
        (f"{OUT}  - install: bolts\n", []),
        (f"{OUT}  - note: Wait.\n", []),
        (f"{OUT}  - stop: Enough.\n", []),
        (f"{OUT}  - remove: lid-screws\n", [("remove lid-screws", "remove bolts")]),
        (f"{OUT}  - clean: gearcase\n", [("clean gearcase", "remove bolts")]),
        (f"{OUT}  - apply: grease\n    to: bolts\n", [("apply grease bolts", "remove bolts")]),
        ("  - remove: lid-screws\n", []),
        ("  - loosen: bolts\n  - remove: lid-screws\n", []),
        ("  - remove: bolts\n    count: 3\n  - remove: lid-screws\n", []),
        # It is told once, until it is so again.
        (f"{OUT}  - clean: lid\n  - clean: lid\n", [("clean lid", "remove bolts")]),
        (f"{OUT}  - clean: lid\n  - install: bolts\n{OUT}  - clean: lid\n", [("clean lid", "remove bolts")] * 2),
        (f"{OUT}  - remove: gearcase\n  - install: gearcase\n  - clean: lid\n", [("clean lid", "install gearcase")]),
        # What bears a load is put under it; a pan bears none, and on the bench a stand waits.
        (f"{OUT}  - place: stand\n  - clean: lid\n", []),
        (f"{OUT}  - place: stand\n    at: under the gearcase\n  - clean: lid\n", []),
        (f"{OUT}  - place: pan\n  - clean: lid\n", [("place pan", "remove bolts")]),
        (
            f"{OUT}  - place: stand\n    at: on the bench\n  - clean: lid\n",
            [("place stand on the bench", "remove bolts")],
        ),
        (f"  - place: stand\n{OUT}  - clean: lid\n", []),
        (f"  - place: stand\n    at: the bench\n{OUT}  - clean: lid\n", [("clean lid", "remove bolts")]),
        (f"  - place: pan\n{OUT}  - clean: lid\n", [("clean lid", "remove bolts")]),
        (
            f"  - place: stand\n{OUT}  - remove: gearcase\n  - install: gearcase\n  - clean: lid\n",
            [("clean lid", "install gearcase")],
        ),
        (
            f"  - place: stand\n{OUT}  - take-away: stand\n  - clean: lid\n",
            [("clean lid", "remove bolts")],
        ),
    ],
)
def test_what_is_held_by_hand(steps: str, expected: list[tuple[str, str]]) -> None:
    assert held(steps) == expected
