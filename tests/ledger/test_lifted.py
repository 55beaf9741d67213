"""Who lifts, with what, and which loads nothing bears."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import Book, open_book
from putback.ledger.lifted import people_at, unborne
from putback.ledger.load import burden
from putback.units import Kind, parse
from putback.variants import NONE, VariantSet
from tests.ledger.trial import book_of, book_of_block

MACHINE = """
machine: Trial engine
options: {size: [small, large]}
parts:
  engine: {mass: 40 kg}
  gearbox: {mass: 30 kg, when: {size: large}}
  block: {}
fasteners:
  bolts: {secures: gearbox, to: engine, when: {size: large}}
"""


@pytest.mark.parametrize(
    ("steps", "people"),
    [
        ("  - lift: cover\n", 1),
        ("  - lift: cover\n    people: 3\n", 3),
        ("steps:\n  - lift: cover\npeople: 2\n", 2),
        ("steps:\n  - lift: cover\n    people: 3\npeople: 2\n", 3),
        ("steps:\n  - remove: cover\npeople: 2\n", 2),
    ],
)
def test_as_many_lift_as_a_step_says_or_the_job_is_for(steps: str, people: int) -> None:
    book = book_of(steps)
    assert people_at(book, book.entries[0]) == people


def test_a_block_is_done_by_one() -> None:
    book = book_of_block("steps: [{remove: cover}]\n")
    assert people_at(book, book.entries[0]) == 1


def unborne_at(steps: str, by_name: str | None = None) -> tuple[Book, VariantSet]:
    """Return the variants in which nothing bears the engine at the last step; the stand bears 50 kg."""
    plain = book_of(f"{steps}  - lift: engine\n", machine=MACHINE)
    stand = replace(plain.library.equipment["stand"], rated_load=parse("50 kg", Kind.MASS))
    library = replace(plain.library, equipment={**plain.library.equipment, "stand": stand})
    book = open_book(plain.sequence, plain.graph, library)
    load = burden(book, book.entries[-1], "engine")
    assert load is not None
    return book, unborne(book, book.entries[-1], load, book.graph.space.built, by_name)


def test_equipment_bears_what_is_not_too_heavy_for_it() -> None:
    """With the gearbox on, the engine weighs 70 kg."""
    for steps, by_name, left in (
        ("", None, ["small", "large"]),
        ("  - place: stand\n", None, ["large"]),
        ("", "stand", ["large"]),
        ("  - place: pan\n", "pan", ["small", "large"]),
        ("  - place: stand\n  - take-away: stand\n", None, ["small", "large"]),
        ("  - place: stand\n    when: {size: large}\n", None, ["small", "large"]),
        ("  - place: stand\n    when: {size: small}\n", None, ["large"]),
    ):
        book, found = unborne_at(steps, by_name)
        assert found == book.graph.space.chosen("size", left)
    book, found = unborne_at("  - remove: bolts\n  - remove: gearbox\n  - place: stand\n")
    assert found == NONE
