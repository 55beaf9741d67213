"""What is looked at under pressure on purpose."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import open_book, pressure
from putback.ledger.book import equipment_account
from putback.model.library import Equipment
from putback.model.terms import Need, Ref
from tests.ledger.trial import book_of

MACHINE = """
machine: Trial tyre changer
controls:
  air-pressure: {positions: ["off", "on"], normal: "off"}
  main-pressure: {positions: ["off", "on"], normal: "on"}
  line: {positions: [empty, full], normal: empty, tags: [pressure]}
  lamp: {positions: ["off", "on"], normal: "off"}
parts: {body: {}}
"""


def on_purpose_at(steps: str, name: str) -> bool:
    """Tell whether the last step only looks at what something holds under pressure."""
    plain = book_of(steps, machine=MACHINE)
    where = plain.library.equipment["stand"].span
    pump = Equipment(key="pressure-pump", span=where, name="pressure pump", rated_load=None)
    library = replace(plain.library, equipment={**plain.library.equipment, "pressure-pump": pump})
    book = open_book(plain.sequence, plain.graph, library)
    last = book.entries[-1]
    account = name if name in book.graph.machine.things else equipment_account(name)
    [(_, state)] = book.before(account, last)
    return pressure.tested_under(book, last, Need(Ref(name, where), Ref("off", where)), state)


LOOK = "  - check: body\n    limit: no drop\n"


@pytest.mark.parametrize(
    ("steps", "name", "on_purpose"),
    [
        ('  - set: air-pressure\n    to: "on"\n', "air-pressure", True),
        ("  - set: line\n    to: full\n", "line", True),
        ('  - set: lamp\n    to: "on"\n', "lamp", False),
        # What is under pressure as a rule, and was never let off, is forgotten.
        ("", "main-pressure", False),
        ('  - set: main-pressure\n    to: "off"\n  - set: main-pressure\n    to: "on"\n', "main-pressure", True),
        ("  - place: pressure-pump\n", "pressure-pump", True),
        ("", "pressure-pump", False),
        ("  - place: pressure-pump\n  - take-away: pressure-pump\n", "pressure-pump", False),
        ("  - place: stand\n", "stand", False),
    ],
)
def test_who_looks_at_what_was_put_under_pressure_tests_it(steps: str, name: str, on_purpose: bool) -> None:
    assert on_purpose_at(f"{steps}{LOOK}", name) is on_purpose
    assert on_purpose_at(f"{steps}  - apply: soapy-water\n    to: body\n", name) is on_purpose
    assert not on_purpose_at(f"{steps}  - clean: body\n", name)
