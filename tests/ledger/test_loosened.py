"""Which pieces are loose, and what loosened them."""

from __future__ import annotations

import pytest

from putback.ledger.loosened import loosed, loosened_by, some_loose
from putback.model.machine import Fastener
from putback.model.reach import LOOSE
from putback.model.states import GroupState, Reached
from putback.variants import NONE
from tests.ledger.trial import book_of, book_of_block, only

MACHINE = """
machine: Trial engine
parts: {lever: {}, box: {}}
fasteners:
  nuts: {count: 3, positions: [inlet, middle, exhaust], torque: 14 N·m, secures: lever}
  bolts: {count: 2, torque: 8 N·m, secures: lever}
"""


def loosen(*names: str) -> str:
    return "".join(f"  - loosen: nuts\n    at: {name}\n" for name in names)


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        (loosen("inlet"), " with 'at: inlet'"),
        (loosen("exhaust"), " with 'at: exhaust'"),
        (loosen("exhaust", "inlet"), " with 'at: [inlet, exhaust]'"),
        (loosen("exhaust", "inlet", "middle"), ""),
        ("  - loosen: nuts\n", ""),
    ],
)
def test_the_pieces_that_are_loose_are_named(steps: str, said: str) -> None:
    book = book_of(steps, machine=MACHINE)
    state, thing = only(book, "nuts"), book.graph.machine.things["nuts"]
    assert isinstance(state, GroupState)
    assert isinstance(thing, Fastener)
    assert some_loose(state, thing) == said


@pytest.mark.parametrize(
    ("steps", "named", "index"),
    [
        (loosen("inlet", "exhaust"), [], 1),
        (loosen("inlet", "exhaust"), [2], 1),
        (loosen("inlet", "exhaust"), [0], 0),
        (loosen("inlet", "exhaust"), [0, 2], 1),
        (f"{loosen('inlet')}  - loosen: bolts\n{loosen('exhaust')}", [0], 0),
        (f"  - loosen: nuts\n{loosen('exhaust')}", [0], 0),
        (loosen("inlet", "exhaust"), [1], 1),
        ("  - note: Nothing.\n", [0], None),
    ],
)
def test_pieces_were_loosened_by_the_last_step_that_was_for_one_of_them(
    steps: str, named: list[int], index: int | None
) -> None:
    book = book_of(steps, machine=MACHINE)
    state, thing = only(book, "nuts"), book.graph.machine.things["nuts"]
    assert isinstance(state, GroupState)
    assert isinstance(thing, Fastener)
    found = loosened_by(book, state, thing, [Reached(LOOSE, piece=piece) for piece in named])
    assert (found.index if found else None) == index


@pytest.mark.parametrize(
    ("steps", "since"),
    [
        ("", None),
        ("  - loosen: bolts\n", None),
        ("  - loosen: bolts\n  - loosen: nuts\n", 1),
        ("  - remove: nuts\n  - loosen: bolts\n", 1),
        ("  - remove: nuts\n  - remove: bolts\n  - note: Wait.\n", 1),
        ("  - loosen: bolts\n  - remove: nuts\n  - note: Wait.\n", 1),
        (f"  - loosen: bolts\n{loosen('inlet', 'exhaust')}", None),
        (f"  - loosen: bolts\n{loosen('inlet', 'exhaust', 'middle')}", 3),
    ],
)
def test_a_thing_is_loose_once_nothing_presses_on_it(steps: str, since: int | None) -> None:
    book = book_of(f"{steps}  - inspect: lever\n", machine=MACHINE)
    variants, by = loosed(book, book.entries[-1], "lever")
    assert (by if variants != NONE else None) == since


def test_what_nothing_secures_is_never_loosed() -> None:
    book = book_of("  - loosen: nuts\n  - loosen: bolts\n  - inspect: box\n", machine=MACHINE)
    assert loosed(book, book.entries[-1], "box")[0] == NONE


def test_what_a_block_finds_loose_was_loosened_by_no_step_of_it() -> None:
    book = book_of_block("begins-with: [nuts, bolts]\nsteps: [{inspect: lever}]\n", MACHINE)
    variants, by = loosed(book, book.entries[-1], "lever")
    assert variants == book.graph.space.built
    assert by == -1
