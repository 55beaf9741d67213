"""What turns together, and which way."""

from __future__ import annotations

import pytest

from putback.ledger.trains import turning_parts, turns, ways
from tests.ledger.trial import book_of, machine_of

MACHINE = """
machine: Trial engine
options: {size: [small, large]}
controls:
  clutch: {positions: [in, out], normal: in}
parts:
  crank: {turns-with: [belt, flywheel], rotation: clockwise}
  flywheel: {}
  belt: {turns-with: [pulley]}
  pulley: {turns-with: [fan], when: {size: large}}
  fan: {}
  shaft: {turns-with: [flywheel], rotation: {clutch: {in: anticlockwise}}}
  lid: {}
"""


def turning(steps: str, key: str) -> dict[str, list[str]]:
    """Return what turns with a part at the last step, each with the sizes in which it does."""
    book = book_of(f"{steps}  - inspect: lid\n", machine=MACHINE)
    space, found = book.graph.space, dict[str, list[str]]()
    for part, variants in turns(book, book.entries[-1], key):
        found.setdefault(part.key, [])
        found[part.key] += [size for size in ("small", "large") if space.both(variants, space.chosen("size", [size]))]
    return found


BOTH, LARGE = ["small", "large"], ["large"]


@pytest.mark.parametrize(
    ("steps", "key", "expected"),
    [
        ("", "lid", {"lid": BOTH}),
        ("", "nothing", {}),
        ("", "belt", {"belt": BOTH, "crank": BOTH, "pulley": LARGE, "flywheel": BOTH, "fan": LARGE, "shaft": BOTH}),
        ("", "fan", {"fan": BOTH, "pulley": LARGE, "belt": LARGE, "crank": LARGE, "flywheel": LARGE, "shaft": LARGE}),
        # A part that is off is in no train, and parts it.
        ("  - remove: belt\n", "crank", {"crank": BOTH, "flywheel": BOTH, "shaft": BOTH}),
        (
            "  - remove: belt\n    when: {size: small}\n",
            "crank",
            {"crank": BOTH, "belt": LARGE, "pulley": LARGE, "fan": LARGE, "flywheel": BOTH, "shaft": BOTH},
        ),
        (
            "  - remove: fan\n",
            "pulley",
            {"pulley": LARGE, "belt": LARGE, "crank": LARGE, "flywheel": LARGE, "shaft": LARGE},
        ),
        # So does a clutch that is out.
        (
            "  - set: clutch\n    to: out\n",
            "crank",
            {"crank": BOTH, "belt": BOTH, "flywheel": BOTH, "pulley": LARGE, "fan": LARGE},
        ),
        ("  - set: clutch\n    to: out\n", "shaft", {"shaft": BOTH}),
    ],
)
def test_what_turns_with_a_part(steps: str, key: str, expected: dict[str, list[str]]) -> None:
    assert turning(steps, key) == expected


@pytest.mark.parametrize(
    ("steps", "key", "expected"),
    [
        ("", "crank", [("crank", "clockwise", None)]),
        ("", "fan", [("crank", "clockwise", None)]),
        ("", "shaft", [("shaft", "anticlockwise", "clutch")]),
        ("", "flywheel", [("crank", "clockwise", None)]),
        ("  - remove: crank\n", "flywheel", [("shaft", "anticlockwise", "clutch")]),
        ("  - remove: crank\n  - set: clutch\n    to: out\n", "flywheel", []),
        ("  - set: clutch\n    to: out\n", "shaft", []),
        ("", "lid", []),
    ],
)
def test_which_way_a_part_is_turned(steps: str, key: str, expected: list[tuple[str, str, str | None]]) -> None:
    book = book_of(f"{steps}  - inspect: lid\n", machine=MACHINE)
    found = [
        (one.part.key, one.way, one.need.control.name if one.need else None)
        for one in ways(book, book.entries[-1], key)
    ]
    assert found == expected


def test_what_may_turn_together() -> None:
    machine = machine_of(MACHINE)
    train = {"crank", "flywheel", "belt", "pulley", "fan", "shaft"}
    assert {key: turning_parts(machine, key) for key in ("fan", "shaft", "lid")} == {
        "fan": train, "shaft": train, "lid": {"lid"},
    }  # fmt: skip
