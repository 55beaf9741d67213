"""What was made ready since a thing came off."""

from __future__ import annotations

import pytest

from putback.ledger.prepared import applied, bare, cleaned, fittings
from putback.variants import NONE
from tests.ledger.trial import book_of

MACHINE = """
machine: Trial pump
options: {drive: [belt, gear]}
parts: {cover: {name: pump cover}, body: {}}
fasteners:
  screws: {count: 2, secures: cover, to: body}
lines:
  hose: {joins: [cover, body]}
"""

OFF, ON, CLEAN = "  - remove: cover\n", "  - install: cover\n", "  - clean: cover\n"


def bare_at(steps: str) -> list[tuple[bool, int]]:
    """Return at each thing that goes on whether nobody cleaned it since it came off, and what took it off."""
    book = book_of(steps, machine=MACHINE)
    found = []
    for fitting in fittings(book):
        variants, off_by = bare(book, fitting, cleaned(book, fitting.thing))
        found.append((variants != NONE, off_by))
    return found


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (f"{OFF}{ON}", [(True, 0)]),
        (f"{OFF}{CLEAN}{ON}", [(False, -1)]),
        (f"{CLEAN}{OFF}{ON}", [(True, 1)]),
        (f"{OFF}{ON}{CLEAN}", [(True, 0)]),
        (f"{OFF}  - clean: the pump cover\n{ON}", [(False, -1)]),
        (f"{OFF}  - clean: the floor\n{ON}", [(True, 0)]),
        (f"{OFF}{CLEAN}{ON}{OFF}{ON}", [(False, -1), (True, 3)]),
        (f"{OFF}{CLEAN}    when: {{drive: belt}}\n{ON}", [(True, 0)]),
        ("  - replace: cover\n", [(True, -1)]),
        (f"{CLEAN}  - replace: cover\n", [(False, -1)]),
        (f"{OFF}  - replace: cover\n{ON}", [(False, -1), (True, 0)]),
        (ON, [(False, -1)]),
        ("  - disconnect: hose\n  - connect: hose\n", [(True, 0)]),
        ("  - remove: screws\n    count: 1\n  - install: screws\n    count: 1\n", [(True, 0)]),
        ("  - loosen: screws\n  - install: screws\n", [(False, -1)]),
        ("  - install: nothing\n", []),
    ],
)
def test_what_nobody_cleaned_since_it_came_off(steps: str, expected: list[tuple[bool, int]]) -> None:
    assert bare_at(steps) == expected


def test_only_the_variants_that_nobody_cleaned_are_bare() -> None:
    book = book_of(f"{OFF}{CLEAN}    when: {{drive: belt}}\n{ON}", machine=MACHINE)
    [fitting] = fittings(book)
    variants, _ = bare(book, fitting, cleaned(book, fitting.thing))
    assert variants == book.graph.space.chosen("drive", ["gear"])


def test_what_was_put_on_what() -> None:
    steps = (
        "  - apply: grease\n    to: [cover, body]\n  - apply: paint\n    to: body\n  - apply: grease\n    to: body\n"
    )
    book = book_of(steps, machine=MACHINE)
    found = {key: [entry.index for entry in entries] for key, entries in applied(book).items()}
    assert found == {("cover", "grease"): [0], ("body", "grease"): [0, 2], ("body", "paint"): [1]}
