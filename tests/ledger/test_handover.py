"""What the jobs that follow need of a thing."""

from __future__ import annotations

import pytest

from putback.ledger.handover import first_need
from tests.ledger.trial import book_of, said


@pytest.mark.parametrize(
    ("name", "steps", "needed"),
    [
        # What goes on, in or shut was off, out or open before.
        ("cover", "  - install: cover\n", "install cover"),
        ("hose", "  - connect: hose\n", "connect hose"),
        ("screws", "  - tighten: screws\n", "tighten screws"),
        ("tensioner", "  - align: tensioner\n", "align tensioner"),
        ("coolant", "  - fill: coolant\n", "fill coolant"),
        # What comes off was on.
        ("cover", "  - remove: cover\n  - install: cover\n", None),
        ("cover", "  - replace: cover\n", None),
        ("hose", "  - disconnect: hose\n  - connect: hose\n", None),
        ("screws", "  - loosen: screws\n  - tighten: screws\n", None),
        # What works either way says nothing: the next step does.
        ("cover", "  - inspect: cover\n", None),
        ("cover", "  - inspect: cover\n  - clean: cover\n  - install: cover\n", "install cover"),
        ("cover", "  - inspect: cover\n  - remove: cover\n  - install: cover\n", None),
        ("cover", "  - remove: gasket\n  - install: gasket\n", None),
        # What is set to its normal position was moved.
        ("selector", "  - set: selector\n    to: neutral\n", "set selector neutral"),
        ("selector", "  - set: selector\n    to: forward\n  - set: selector\n    to: neutral\n", None),
        # What is taken away stood there.
        ("stand", "  - take-away: stand\n", "take-away stand"),
        ("stand", "  - place: stand\n  - take-away: stand\n", None),
        # What is done in no variant, or to others, asks for nothing; what an 'otherwise' does, asks.
        ("guard", "  - install: guard\n    when: {drive: gear}\n", None),
        ("guard", "  - install: guard\n    when: {drive: belt}\n", "install guard"),
        ("cover", "  - check: leaks\n    limit: none\n    otherwise: [{install: cover}]\n", "install cover"),
    ],
)
def test_the_first_step_that_works_on_it_tells_how_it_must_be(name: str, steps: str, needed: str | None) -> None:
    book = book_of(steps)
    found = first_need(name, book.graph.machine.things.get(name), [book.program], book.graph.space)
    assert (said(found) if found else None) == needed


def test_the_next_job_asks_before_the_one_after_it() -> None:
    first, second = book_of("  - remove: cover\n  - install: cover\n"), book_of("  - install: cover\n")
    thing, space = first.graph.machine.things["cover"], first.graph.space
    for books, needed in (([first, second], None), ([second, first], "install cover")):
        found = first_need("cover", thing, [book.program for book in books], space)
        assert (said(found) if found else None) == needed
