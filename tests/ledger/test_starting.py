"""Since when a machine can start, and who has hands in it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import Book, open_book
from putback.ledger.starting import hands_in, ready_at, runs_before, stands_beside, ways_to_start
from putback.model.library import Equipment
from putback.model.verbs.equipment import Place
from putback.variants import NONE
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
  cap: {}
needs: {run: {key: "on"}}
access-after: {lead: [cap]}
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


def hands(steps: str, machine: str = MACHINE) -> bool:
    """Tell whether somebody has hands in the machine at the last step."""
    book = open_on_a_bench(steps, machine)
    return hands_in(book, book.entries[-1]) != NONE


def open_on_a_bench(steps: str, machine: str) -> Book:
    """Walk a job with chocks, which may stay in a run, and a tag for the key."""
    plain = book_of(steps, machine=machine)
    where = plain.library.equipment["stand"].span
    more = {
        key: Equipment(key=key, span=where, name=name, rated_load=None, may_stay=stays)
        for key, name, stays in (("chocks", "wheel chocks", True), ("do-not-start", "warning tag", False))
    }
    library = replace(plain.library, equipment={**plain.library.equipment, **more})
    return open_book(plain.sequence, plain.graph, library)


ON = f"{KEY}  - run: engine\n"
OFF = '  - set: key\n    to: "off"\n'


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("  - remove: cover\n", True),
        ("  - clean: cover\n", True),
        ("  - remove: screws\n", True),
        (KEY, False),
        ("  - note: Here.\n", False),
        ("  - wait: 5 min\n", False),
        ("  - remove: the dust\n", False),
        # What takes the start away is worked at; what is in front of that as well.
        (LEAD, False),
        ("  - remove: cap\n", False),
        # Nobody has hands in it who looks, unless at a fastener from near, while nothing runs.
        ("  - inspect: cover\n", False),
        ("  - check: cover\n    limit: dry\n", False),
        ("  - inspect: screws\n", True),
        ("  - check: the screw on the left\n    limit: tight\n", True),
        ("  - check: the screws\n    limit: tight\n", True),
        ("  - check: head of the screw on the left\n    limit: whole\n", True),
        ("  - check: gap beside the cover\n    limit: even\n", False),
        (f"{ON}  - inspect: screws\n", False),
        (f"{ON}{OFF}  - inspect: screws\n", True),
        ("  - remove: screws\n  - inspect: screws\n", False),
        # What is measured with a meter needs no hands in it.
        ("  - measure: cover\n    limit: 1 mm .. 2 mm\n", True),
        ("  - measure: cover\n    limit: 20 N .. 30 N\n", True),
        ("  - measure: cover\n    limit: 12 V .. 13 V\n", False),
        (f"{ON}  - measure: cover\n    limit: 1 mm .. 2 mm\n", False),
        (f"{ON}{OFF}  - measure: cover\n    limit: 1 mm .. 2 mm\n", True),
        # What is off is worked at on the bench.
        ("  - remove: cover\n  - clean: cover\n", False),
        ("  - remove: cover\n  - apply: grease\n    to: cover\n", False),
        ("  - apply: grease\n    to: cover\n", True),
        # While it runs, it is adjusted.
        ("  - act: Turn the screw.\n    on: cover\n", True),
        (f"{ON}  - act: Turn the screw.\n    on: cover\n", False),
        (f"{ON}  - clean: cover\n", True),
        # Equipment is brought to a machine; a tag on the key keeps others from starting it.
        ("  - place: stand\n", True),
        ("  - place: nothing\n", False),
        ("  - place: do-not-start\n", False),
        ("  - place: chocks\n", True),
        (f"{ON}  - place: stand\n", True),
        (f"{ON}  - place: chocks\n", False),
        (f"  - place: chocks\n{ON}  - take-away: chocks\n", False),
    ],
)
def test_who_has_hands_in_the_machine(steps: str, expected: bool) -> None:
    assert hands(steps) is expected


@pytest.mark.parametrize(
    ("steps", "beside"),
    [
        ("  - place: chocks\n", True),
        ("  - place: stand\n", False),
        ("  - clean: cover\n", False),
        # Where it was made ready for a run, nobody goes near until it has run.
        (f"{LEAD}  - connect: lead\n  - place: chocks\n  - run: engine\n", False),
        (f"{LEAD}  - connect: lead\n  - place: chocks\n", True),
        (f"  - run: engine\n{LEAD}  - connect: lead\n  - place: chocks\n", True),
        ("  - run: engine\n  - place: chocks\n", False),
        ("  - place: chocks\n  - run: engine\n", True),
    ],
)
def test_who_brings_what_stands_beside_it(steps: str, beside: bool) -> None:
    book = open_on_a_bench(steps, MACHINE)
    entry = next((one for one in book.entries if isinstance(one.step.action, Place)), book.entries[-1])
    [ready] = ready_at(book, entry, entry.variants)
    assert stands_beside(book, entry, ready) is beside


def test_the_last_run_before_a_step() -> None:
    book = book_of("  - note: a\n  - run: engine\n  - run: engine\n  - note: b\n", machine=MACHINE)
    assert [runs_before(book, entry) for entry in book.entries] == [-1, -1, 1, 2]


@pytest.mark.parametrize(
    ("control", "starts"),
    [
        ('ignition: {positions: ["off", "on"], normal: "off"}', True),
        ('switch: {name: starter switch, positions: ["off", "on"], normal: "off"}', True),
        ('switch: {name: fan switch, positions: ["off", "on"], normal: "off"}', False),
        ('ignition: {positions: ["off", "on"], normal: "on"}', False),
        ('engine-heat: {positions: ["off", "on"], normal: "off", any-at-end: true}', False),
    ],
)
def test_a_key_that_a_run_needs_starts_it_where_nothing_is_said(control: str, starts: bool) -> None:
    name = control.partition(":")[0]
    machine = f'machine: Trial\ncontrols:\n  {control}\nparts: {{engine: {{}}}}\nneeds: {{run: {{{name}: "on"}}}}\n'
    book = book_of("  - note: a\n", machine=machine)
    ways = [[need.control.name for need in way] for way in ways_to_start(book)]
    assert ways == ([[name]] if starts else [])


def test_what_the_machine_file_says_is_all_that_starts_it() -> None:
    ways = [[need.control.name for need in way] for way in ways_to_start(book_of("  - note: a\n", machine=MACHINE))]
    assert ways == [["key", "master"], ["lead"]]
