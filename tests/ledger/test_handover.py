"""What the jobs that follow need of a thing."""

from __future__ import annotations

import pytest

from putback.ledger.book import memory_account
from putback.ledger.handover import first_need, found_in, hand_over, is_left, left_by
from putback.model.job import Job
from putback.model.states import GroupState, MarkState, PartState, State
from tests.ledger.trial import book_of, book_of_block, said


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


def handed(steps: str, after: str, *, walked: bool = True) -> dict[str, list[State]]:
    """Return what a job hands over to the one after it: what its accounts hold."""
    book, behind = book_of(steps), book_of(after)
    assert isinstance(book.sequence, Job)
    given = hand_over(book.sequence, book if walked else None, book.graph.machine, book.graph.space, [behind.program])
    return {account: [state for _, state in holdings] for account, holdings in given.accounts.items()}


LEAVES = "steps:\n  - remove: cover\nends-with: [cover]\n"
SAYS = "steps:\n  - note: Nothing.\nends-with: [cover]\n"
SILENT = "steps:\n  - remove: cover\n"
PUTS = "  - install: cover\n"
TAKES = "  - remove: cover\n"


@pytest.mark.parametrize(
    ("steps", "after", "off"),
    [
        # What is left as it was said to be, is found so.
        (LEAVES, PUTS, True),
        (LEAVES, TAKES, True),
        # Of what is said and not left, and of what is left and not said, the next job decides.
        (SAYS, PUTS, True),
        (SAYS, TAKES, False),
        (SILENT, PUTS, True),
        (SILENT, TAKES, False),
    ],
)
def test_one_slip_is_one_fault(steps: str, after: str, off: bool) -> None:
    found = handed(steps, after).get("cover", [PartState()])
    assert [state.on for state in found if isinstance(state, PartState)] == [not off]


def test_of_a_job_that_could_not_be_walked_what_it_says_is_taken() -> None:
    assert handed(LEAVES, PUTS, walked=False) == {"cover": [PartState(on=False)]}
    assert handed(SAYS, TAKES, walked=False) == {"cover": [PartState(on=False)]}
    assert handed(SILENT, PUTS, walked=False) == {}


def test_what_is_loose_or_marked_stays_so() -> None:
    loosened = handed("steps:\n  - loosen: screws\n    count: 2\nends-with: [screws]\n", "  - tighten: screws\n")
    assert [state.loose for state in loosened["screws"] if isinstance(state, GroupState)] == [2]
    marked = handed("steps:\n  - mark: tensioner\n", "  - remove: tensioner\n")
    assert marked[memory_account("tensioner")] == [MarkState(marked=True)]
    untold = handed("steps:\n  - loosen: screws\n", "  - tighten: screws\n")
    assert [state.loose for state in untold["screws"] if isinstance(state, GroupState)] == [6]
    said_only = handed("steps:\n  - note: a\nends-with: [screws]\n", "  - tighten: screws\n")
    assert [(state.loose, state.out) for state in said_only["screws"] if isinstance(state, GroupState)] == [(6, 0)]
    taken_out = handed("steps:\n  - note: a\nends-with: [screws]\n", "  - install: screws\n")
    assert [(state.loose, state.out) for state in taken_out["screws"] if isinstance(state, GroupState)] == [(0, 6)]


def test_what_is_found_and_what_is_left() -> None:
    takes = book_of("  - remove: [cover, tensioner]\n  - place: stand\n")
    assert set(found_in(takes)) == set()
    assert set(left_by(takes)) == {"cover", "tensioner", "stand"}
    puts = book_of_block("begins-with: [cover, stand]\nsteps: [{install: cover}, {remove: gasket}]\n")
    assert set(found_in(puts)) == {"cover", "stand"}
    assert set(left_by(puts)) == {"gasket", "stand"}
    assert [is_left(puts, name) for name in ("cover", "gasket", "stand", "pan")] == [False, True, True, False]
