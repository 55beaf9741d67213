"""What a limit is for, and whether it is the wrong way round."""

from __future__ import annotations

import pytest

from putback.ledger.judged import turned_round, what_is_judged
from putback.model.good import limit_of
from tests.ledger.trial import book_of, machine_of

MACHINE = """
machine: Trial engine
parts:
  brake-disc: {name: brake disc}
  chain: {name: drive chain, wear: {measure: length of 20 links, limit: "<= 320 mm"}}
"""


@pytest.mark.parametrize(
    ("step", "words", "of"),
    [
        ("measure: brake-disc\n    limit: '>= 4 mm'", "brake disc", "brake disc"),
        ("measure: chain", "length of 20 links", "drive chain"),
        ("measure: [gap, play]\n    limit: 1 mm .. 2 mm", "gap", ""),
        ("check: noise\n    limit: none", "noise", ""),
    ],
)
def test_what_is_judged(step: str, words: str, of: str) -> None:
    things = machine_of(MACHINE).things
    first = book_of(f"  - {step}\n", machine=MACHINE).entries[0].step
    assert what_is_judged(first, things.get(first.things[0].name)) == (words, of)


@pytest.mark.parametrize(
    ("step", "wrong"),
    [
        ("measure: thickness of the brake disc\n    limit: '>= 4 mm'", False),
        ("measure: thickness of the brake disc\n    limit: '<= 4 mm'", True),
        ("measure: thickness of the brake disc\n    limit: '< 4 mm'", True),
        ("measure: thickness of the brake disc\n    limit: 4 mm .. 5 mm", False),
        ("measure: thickness of the brake disc\n    limit: '<= 4 bar'", False),
        ("measure: chain\n    limit: '<= 320 mm'", False),
    ],
)
def test_what_wears_is_judged_on_the_side_on_which_it_wears(step: str, wrong: bool) -> None:
    things = machine_of(MACHINE).things
    first = book_of(f"  - {step}\n", machine=MACHINE).entries[0].step
    limit = limit_of(first.action, things)
    assert limit is not None
    assert turned_round(first, limit, things) is wrong
