"""What hangs while somebody works: on a hoist, or on its last fasteners."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import open_book
from putback.ledger.hanging import hangs
from putback.model.library import Equipment
from putback.units import Kind, parse
from tests.ledger.trial import book_of, said

MACHINE = """
machine: Trial engine
options: {size: [small, large]}
parts:
  block: {}
  engine: {mass: 5 kg}
  pump: {mass: 4.9 kg}
  tank: {tags: [heavy]}
  lid: {}
fasteners:
  mounts: {count: 2, secures: engine, to: block}
  extra: {count: 2, secures: engine, to: block, when: {size: large}}
  pump-bolts: {count: 2, secures: pump, to: block}
  tank-bolts: {count: 2, secures: tank, to: block}
"""


def hung(steps: str) -> list[tuple[str, str | None, str]]:
    """Return what hangs at the last step, on what, and since which step."""
    plain = book_of(f"{steps}  - clean: lid\n", machine=MACHINE)
    where = plain.library.equipment["stand"].span
    more = {
        name: Equipment(key=name, span=where, name=name, rated_load=load)
        for name, load in (("chain-hoist", None), ("trestle", parse("50 kg", Kind.MASS)))
    }
    library = replace(plain.library, equipment={**plain.library.equipment, **more})
    book = open_book(plain.sequence, plain.graph, library)
    found = hangs(book, book.entries[-1])
    return [(one.part.key, one.hoist.key if one.hoist else None, said(one.since.step)) for one in found]


UP = "  - place: chain-hoist\n  - lift: engine\n    with: chain-hoist\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        # Lifted with a hoist that is still there, and not set down or put back.
        (UP, [("engine", "chain-hoist", "lift engine")]),
        (f"{UP}  - take-away: chain-hoist\n", []),
        (f"{UP}  - place: trestle\n", []),
        (f"{UP}  - install: engine\n", []),
        (f"{UP}  - install: lid\n", [("engine", "chain-hoist", "lift engine")]),
        (f"{UP}    to-height: 90 cm\n", []),
        ("  - lift: engine\n", []),
        ("  - place: trestle\n  - lift: engine\n    with: trestle\n", []),
        ("  - lift: engine\n    with: chain-hoist\n", [("engine", "chain-hoist", "lift engine")]),
        (f"{UP}  - lift: engine\n", []),
        (f"{UP}  - lift: pump\n", [("engine", "chain-hoist", "lift engine")]),
        (
            f"{UP}  - lift: pump\n    with: chain-hoist\n",
            [("pump", "chain-hoist", "lift pump"), ("engine", "chain-hoist", "lift engine")],
        ),
        # On its last fasteners: some out, the others loose.
        ("  - remove: mounts\n    count: 1\n", []),
        ("  - loosen: mounts\n", []),
    ],
)
def test_what_hangs_on_a_hoist(steps: str, expected: list[tuple[str, str | None, str]]) -> None:
    assert hung(steps) == expected


LAST = "  - loosen: {0}\n  - remove: {0}\n    count: 1\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (LAST.format("tank-bolts"), [("tank", None, "remove tank-bolts 1")]),
        (LAST.format("pump-bolts"), []),
        ("  - loosen: tank-bolts\n", []),
        ("  - remove: tank-bolts\n    count: 1\n", []),
        ("  - remove: tank-bolts\n", []),
        (f"{LAST.format('tank-bolts')}  - remove: tank-bolts\n  - remove: tank\n", []),
        (f"  - place: trestle\n{LAST.format('tank-bolts')}", []),
        (f"  - place: pan\n{LAST.format('tank-bolts')}", [("tank", None, "remove tank-bolts 1")]),
        (f"  - place: chain-hoist\n{LAST.format('tank-bolts')}", [("tank", "chain-hoist", "remove tank-bolts 1")]),
        ("  - place: chain-hoist\n  - remove: tank-bolts\n", [("tank", "chain-hoist", "remove tank-bolts")]),
        ("  - place: chain-hoist\n", []),
        (LAST.format("mounts"), [("engine", None, "remove mounts 1")]),
        (f"{LAST.format('mounts')}  - loosen: extra\n", [("engine", None, "loosen extra")]),
    ],
)
def test_what_hangs_on_its_last_fasteners(steps: str, expected: list[tuple[str, str | None, str]]) -> None:
    assert hung(steps) == expected
