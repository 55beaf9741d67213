"""What keeps a thing from moving."""

from __future__ import annotations

import pytest

from putback.ledger.locks import locks_on
from tests.ledger.trial import book_of

MACHINE = """
machine: Trial engine
options: {lock: [none, nut]}
parts: {lever: {adjustable: true}, box: {}}
fasteners:
  screws: {count: 2, positions: [inlet, exhaust], secures: lever}
  screw-nuts: {count: 2, positions: [inlet, exhaust], torque: 14 N·m, locks: screws}
  studs: {count: 3, secures: lever}
  stud-nuts: {count: 3, torque: 9 N·m, locks: studs}
  lever-nut: {torque: 9 N·m, locks: lever, when: {lock: nut}}
  jam-nut: {torque: 9 N·m, locks: box}
settings:
  inlet: {limit: 0.1 mm .. 0.2 mm, adjusted-by: {screws: inlet}}
  reach: {limit: 1 mm .. 2 mm, adjusted-by: jam-nut}
"""


def locked(steps: str) -> list[tuple[str, tuple[str, ...], int]]:
    """Return what keeps the thing of the last step from moving: which, which of its pieces, how many must be loose."""
    book = book_of(steps, machine=MACHINE)
    entry = book.entries[-1]
    assert entry.target is not None
    found = locks_on(book, entry, entry.target.name)
    return [(one.fastener.key, tuple(ref.name for ref in one.at), one.number) for one in found]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("  - remove: box\n", [("jam-nut", (), 1)]),
        ("  - loosen: jam-nut\n  - remove: box\n", []),
        ("  - remove: jam-nut\n  - remove: box\n", []),
        ("  - remove: lever\n", [("lever-nut", (), 1)]),
        # Of pieces with names, those that are moved.
        ("  - loosen: screws\n    at: inlet\n", [("screw-nuts", ("inlet",), 1)]),
        ("  - loosen: screw-nuts\n    at: inlet\n  - loosen: screws\n    at: inlet\n", []),
        (
            "  - loosen: screw-nuts\n    at: exhaust\n  - loosen: screws\n    at: inlet\n",
            [("screw-nuts", ("inlet",), 1)],
        ),
        ("  - loosen: screw-nuts\n    at: exhaust\n  - loosen: screws\n", [("screw-nuts", (), 2)]),
        ("  - loosen: screw-nuts\n  - loosen: screws\n", []),
        # Of others, as many as are moved.
        ("  - loosen: studs\n", [("stud-nuts", (), 3)]),
        ("  - loosen: studs\n    count: 2\n", [("stud-nuts", (), 2)]),
        ("  - loosen: stud-nuts\n    count: 2\n  - loosen: studs\n    count: 2\n", []),
        ("  - loosen: stud-nuts\n    count: 1\n  - loosen: studs\n    count: 2\n", [("stud-nuts", (), 2)]),
        ("  - loosen: stud-nuts\n    count: 2\n  - loosen: studs\n", [("stud-nuts", (), 3)]),
        # A setting is locked by what locks its adjuster, and by an adjuster that is a lock itself.
        ("  - adjust: inlet\n", [("screw-nuts", ("inlet",), 1)]),
        ("  - loosen: screw-nuts\n    at: inlet\n  - adjust: inlet\n", []),
        ("  - loosen: screw-nuts\n    at: exhaust\n  - adjust: inlet\n", [("screw-nuts", ("inlet",), 1)]),
        ("  - adjust: reach\n", [("jam-nut", (), 1)]),
        ("  - loosen: jam-nut\n  - adjust: reach\n", []),
        ("  - clean: stud-nuts\n", []),
    ],
)
def test_what_must_be_loose_first(steps: str, expected: list[tuple[str, tuple[str, ...], int]]) -> None:
    assert locked(steps) == expected


def test_a_lock_is_there_in_the_variants_that_have_it() -> None:
    book = book_of("  - remove: lever\n", machine=MACHINE)
    [lock] = locks_on(book, book.entries[0], "lever")
    assert lock.variants == book.graph.space.chosen("lock", ["nut"])
