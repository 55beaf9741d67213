"""Whether the variants that a step is for have what it names."""

from __future__ import annotations

import pytest

from putback.ledger.absent import Conditions
from tests.ledger.trial import block_of, book_of

MACHINE = """
machine: Trial pump
options: {drive: [belt, gear], seal: [soft, metal]}
parts:
  body: {}
  guard: {when: {drive: belt}}
  shaft-guard: {name: shaft guard, when: {drive: gear}}
  lip: {when: {seal: soft}}
  odd: {when: {drive: steam}}
fasteners:
  screws: {count: 2, secures: guard, when: {drive: belt}}
"""

BLOCKS = {
    "belt-work": "steps: [{remove: guard}, {note: Here.}]\n",
    "any-work": "steps: [{remove: guard}, {clean: body}]\n",
    "soft-work": "steps: [{clean: body, when: {seal: soft}}]\n",
}


def absent(steps: str) -> list[tuple[int, str]]:
    """Return the faults of a job's steps: in which line, and what is so in no variant."""
    book = book_of(steps, BLOCKS, machine=MACHINE)
    conditions = Conditions(book.graph, {name: block_of(text, name) for name, text in BLOCKS.items()})
    found = conditions.steps(book.sequence.steps(), None, book.graph.space.built)
    return [(one.span.line, one.message) for one in found]


GEAR = "    when: {drive: gear}\n"


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        (f"  - remove: body\n{GEAR}", []),
        (f"  - remove: guard\n{GEAR}", [(4, "no variant that meets this condition has guard")]),
        ("  - remove: guard\n", []),
        ("  - remove: guard\n    when: {seal: soft}\n", []),
        ("  - remove: guard\n    when: [{drive: gear}, {seal: soft}]\n", []),
        # Words name things only where they may: what a verb takes by name, and is not there, is told otherwise.
        (
            f"  - check: the guard\n    limit: tight\n{GEAR}",
            [(5, "no variant that meets this condition has guard")],
        ),
        (f"  - check: lip of the body\n    limit: tight\n{GEAR}", []),
        (
            "  - check: the lip\n    limit: tight\n    when: {seal: metal}\n",
            [(5, "no variant that meets this condition has lip")],
        ),
        (
            "  - check: the shaft guard\n    limit: tight\n    when: {drive: belt}\n",
            [(5, "no variant that meets this condition has shaft guard")],
        ),
        ("  - remove: the lip\n    when: {seal: metal}\n", []),
        ("  - apply: grease\n    to: the lip\n    when: {seal: metal}\n", []),
        (
            "  - apply: grease\n    to: lip\n    when: {seal: metal}\n",
            [(5, "no variant that meets this condition has lip")],
        ),
        # What is wrong with the condition of a thing is told there.
        (f"  - remove: odd\n{GEAR}", []),
        # Of one condition, the first thing is told.
        (f"  - remove: [guard, screws]\n{GEAR}", [(4, "no variant that meets this condition has guard")]),
        (f"  - remove: [shaft-guard, guard]\n{GEAR}", [(4, "no variant that meets this condition has guard")]),
        # A block has something to do in some variant.
        (f"  - do: belt-work\n{GEAR}", [(4, "no variant that meets this condition has any of 'belt-work'")]),
        (f"  - do: any-work\n{GEAR}", []),
        (
            "  - do: soft-work\n    when: {seal: metal}\n",
            [(4, "no variant that meets this condition has any of 'soft-work'")],
        ),
        (f"  - do: unheard-of\n{GEAR}", []),
    ],
)
def test_a_step_under_a_condition(steps: str, expected: list[tuple[int, str]]) -> None:
    assert absent(steps) == expected


def test_a_step_in_a_branch_is_under_the_condition_of_its_question() -> None:
    ask = f"  - check: noise\n    limit: none\n{GEAR}    otherwise:\n"
    assert absent(f"{ask}      - remove: guard\n") == [(7, "no variant that gets here has guard")]
    assert absent(f"{ask}      - remove: body\n") == []
    assert absent(f"{ask}      - do: belt-work\n") == [(7, "no variant that gets here has any of 'belt-work'")]
    assert absent(f"{ask}      - remove: body\n        when: {{drive: belt}}\n") == [
        (8, "no variant that gets here meets this condition")
    ]
    assert absent(f"{ask}      - remove: lip\n        when: {{seal: metal}}\n") == [
        (8, "no variant that meets this condition has lip")
    ]
    assert absent(f"{ask}      - remove: guard\n      - remove: guard\n") == [
        (7, "no variant that gets here has guard")
    ]
