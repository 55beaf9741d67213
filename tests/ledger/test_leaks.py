"""Who looks for leaks, and at what."""

from __future__ import annotations

import pytest

from putback.ledger.goes_with import goes_with, is_silent, wants_no_proof
from putback.ledger.leaks import closings, looks_for_leaks
from putback.variants import NONE
from tests.ledger.trial import book_of, said

MACHINE = """
machine: Trial engine
controls:
  seacock: {positions: [open, closed], normal: open}
parts: {engine: {}, pump: {}, tank: {}, cover: {}, gasket: {}, shield: {}, washer: {}}
fasteners:
  drain: {name: drain plug, torque: 12 N·m}
  cap: {name: filler cap}
  clamp: {name: clamp, secures: hose, releases-when: loose}
  screws: {name: screw, count: 4, secures: cover}
lines:
  hose: {kind: hose, joins: [pump, tank]}
  cable: {kind: cable, joins: [pump, engine]}
fluids:
  coolant: {name: coolant, drains: [drain, seacock], fills: [cap]}
stacks:
  - [cover, gasket, washer]
access-after:
  cover: [shield]
"""

OPEN = "  - disconnect: hose\n  - connect: hose\n"
DRAINED = "  - remove: drain\n  - install: drain\n"


def unseen(steps: str) -> list[tuple[str, str | None]]:
    """Return what shuts something that nobody looks at after it, the last first, and who looked too early."""
    book = book_of(steps, machine=MACHINE)
    return [
        (said(one.entry.step), said(one.looked.step) if one.looked else None) for one in closings(book, book.ends[0])
    ]


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (OPEN, [("connect hose", None)]),
        ("  - connect: hose\n", []),
        ("  - disconnect: hose\n", []),
        ("  - disconnect: cable\n  - connect: cable\n", []),
        ("  - remove: cover\n  - install: cover\n", []),
        (f"{OPEN}  - check: hose\n    limit: no drip\n", []),
        (f"{OPEN}  - check: hose\n    limit: not twisted\n", [("connect hose", None)]),
        (f"{OPEN}  - check: hose\n", []),
        (f"{OPEN}  - check: hose\n    text: Bend it.\n", [("connect hose", None)]),
        (f"{OPEN}  - inspect: hose\n    for: damp spots\n", []),
        (f"{OPEN}  - inspect: hose\n    for: cracks\n", [("connect hose", None)]),
        (f"  - check: hose\n    limit: no drip\n{OPEN}", [("connect hose", None)]),
        (f"{OPEN}  - check: hose\n    limit: dry\n{OPEN}", [("connect hose", "check hose")]),
        (DRAINED, [("install drain", None)]),
        (f"{DRAINED}  - check: drain\n    limit: dry\n", []),
        (f"{DRAINED}  - check: coolant\n    limit: no leak\n", []),
        # A look at something else is about that; one at all joints, or at nothing that was shut, is about all.
        (f"{OPEN}{DRAINED}  - check: hose\n    limit: dry\n", [("install drain", None)]),
        (f"{OPEN}{DRAINED}  - check: drain\n    limit: dry\n", [("connect hose", None)]),
        (f"{OPEN}{DRAINED}  - check: all joints\n    limit: dry\n", []),
        (f"{OPEN}{DRAINED}  - check: engine\n    limit: dry\n", []),
        (f"{OPEN}{DRAINED}  - check: coolant\n    limit: no leak\n", []),
        (f"{OPEN}{DRAINED}  - check: drain\n    limit: dry, and the hose as well\n", []),
        # A tap is shut when it is back in its normal position, and a clamp opens its hose as soon as it is loose.
        ("  - set: seacock\n    to: closed\n  - set: seacock\n    to: open\n", [("set seacock open", None)]),
        ("  - loosen: drain\n  - tighten: drain\n", []),
        # A filler cap proves itself.
        ("  - remove: cap\n  - install: cap\n", []),
    ],
)
def test_what_is_shut_is_looked_at(steps: str, expected: list[tuple[str, str | None]]) -> None:
    assert unseen(steps) == expected


@pytest.mark.parametrize(
    ("limit", "leaks"),
    [
        ("dry", True),
        ("no drips", True),
        ("no loss of pressure", True),
        ("no oil around the plug", True),
        ("no film of oil", True),
        ("no bubbles", True),
        ("runs without bubbles", False),
        ("no squeal", False),
        ("between the marks", False),
    ],
)
def test_words_of_leaks(limit: str, leaks: bool) -> None:
    book = book_of(f"  - check: cover\n    limit: {limit}\n", machine=MACHINE)
    assert looks_for_leaks(book, book.entries[0]) is leaks


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("coolant", {"drain", "seacock", "cap"}),
        ("drain", {"coolant", "seacock", "cap"}),
        ("hose", {"clamp"}),
        ("cover", {"screws", "gasket", "washer"}),
        ("screws", {"cover", "gasket"}),
        ("shield", set[str]()),
    ],
)
def test_what_goes_with_a_thing(name: str, near: set[str]) -> None:
    graph = book_of("  - note: a\n", machine=MACHINE).graph
    assert goes_with(graph, name) - {name} == near


@pytest.mark.parametrize(
    ("steps", "unproved"),
    [
        ("  - fill: coolant\n", True),
        ("  - drain: coolant\n  - fill: coolant\n", False),
        ("  - install: cap\n", True),
        ("  - install: drain\n", False),
        ("  - note: a\n", False),
    ],
)
def test_what_is_topped_up_is_no_assembly(steps: str, unproved: bool) -> None:
    book = book_of(steps, machine=MACHINE)
    assert (wants_no_proof(book, book.entries[-1]) != NONE) is unproved


@pytest.mark.parametrize(
    ("step", "silent"),
    [
        ("run: engine", True),
        ("run: engine\n    note: Watch the gauge.", False),
        ("run: engine\n    text: Run it until it is warm.", False),
        ("run: engine\n    note: It is loud.", True),
        ("wait: 5 min", False),
    ],
)
def test_a_run_that_does_not_say_what_to_see(step: str, silent: bool) -> None:
    assert is_silent(book_of(f"  - {step}\n", machine=MACHINE).entries[0]) is silent


def test_a_fluid_is_spoken_of_by_its_whole_name_or_the_last_word_of_it() -> None:
    machine = MACHINE.replace("{name: coolant,", "{name: heavy gearbox oil,")
    for limit, unseen_drain in (
        ("dry, and no oil below", False),
        ("dry, and no heavy gearbox oil below", False),
        ("dry, and clear of the gearbox", True),
    ):
        book = book_of(f"{OPEN}{DRAINED}  - check: hose\n    limit: {limit}\n", machine=machine)
        assert bool(closings(book, book.ends[0])) is unseen_drain
