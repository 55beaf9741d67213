"""Outcomes of one measurement: each is a way of its own, and no value has two."""

from __future__ import annotations

from putback.ledger import Book
from putback.ledger.remedies import unproved
from putback.model.states import PartState
from putback.variants import NONE
from tests.ledger.trial import book_of

THREE = """\
  - measure: gap
    limit: 1 mm .. 2 mm
{more}    outcomes:
      - found: "> 2 mm"
        steps: [{{remove: cover}}{first}]
      - found: "< 1 mm"
        steps: [{{remove: body}}]
"""


def three(more: str = "", first: str = "") -> Book:
    return book_of(THREE.format(more=f"    {more}\n" if more else "", first=first))


def off(book: Book) -> set[tuple[str, ...]]:
    """Return what is off together on some way to the end."""
    space = book.graph.space
    ways = dict.fromkeys(("cover", "body"), NONE)
    for key in ways:
        for held, state in book.closing(key):
            if isinstance(state, PartState) and not state.on:
                ways[key] = space.either(ways[key], held)
    together = space.both(ways["cover"], ways["body"])
    return {(key,) for key, held in ways.items() if held != NONE} | ({("cover", "body")} if together != NONE else set())


def test_no_value_has_two_outcomes() -> None:
    assert off(three()) == {("cover",), ("body",)}


def test_several_readings_have_two_outcomes_at_once() -> None:
    assert off(three("readings: 2")) == {("cover",), ("body",), ("cover", "body")}
    assert off(three("readings: 2\n    judge: largest")) == {("cover",), ("body",)}


def test_an_outcome_that_stops_leaves_no_trace() -> None:
    book = three(first=", {stop: x}")
    assert off(book) == {("body",)}


def test_what_an_outcome_asks_has_the_values_as_its_name() -> None:
    book = three()
    assert [name for name in book.graph.space.names if name.startswith("gap")] == ["gap > 2 mm", "gap < 1 mm"]


def test_each_outcome_proves_itself() -> None:
    book = book_of("""\
  - measure: gap
    name: gap
    limit: 1 mm .. 2 mm
    outcomes:
      - found: "> 2 mm"
        steps: [{tighten: screws}, {back-to: gap}]
      - found: "< 1 mm"
        steps: [{loosen: screws}, {tighten: screws}]
""")
    [remedy] = unproved(book)
    assert (remedy.asked.things[0].name, remedy.span.line) == ("gap", 10)
