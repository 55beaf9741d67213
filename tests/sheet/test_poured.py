"""How much of each fluid a job takes in all, and how quantities are added."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sheet import sheet_of
from putback.source.intake import Memory
from putback.units import Kind, parse
from putback.units.adding import sum_of

MACHINE = """\
machine: Trial
options: {sump: [small, large]}
fasteners:
  plug: {kind: plug, by-hand: until it stops}
  cap: {kind: cap, by-hand: until it stops}
fluids: {oil: {volume: 1.5 l, drains: [plug], fills: [cap]}}
"""
DRAIN = "- {remove: plug}\n- {drain: oil}\n- {install: plug}\n"


def filled(steps: str) -> list[tuple[str | None, tuple[str, ...], bool]]:
    files = {"guide.yaml": "title: T", "machine.yaml": MACHINE, "jobs/j.yaml": f"job: J\nsteps:\n{steps}"}
    guide = read_guide(Path("/g"), store=Memory({Path("/g") / name: text.encode() for name, text in files.items()}))
    assert guide.faults == ()
    sheet = sheet_of(guide.jobs["j"], open_guide(guide))
    assert sheet is not None
    rows = sheet.set_up.fluids
    return [(row.what[1].text if row.what[1] else None, row.only_if, row.when is not None) for row in rows]


@pytest.mark.parametrize(
    ("steps", "rows"),
    [
        (f"{DRAIN}- {{fill: oil}}\n", [("1.5 l", (), False)]),
        # Filled to flush, drained, and filled again: twice as much has to be bought.
        (f"{DRAIN}- {{fill: oil}}\n{DRAIN}- {{fill: oil}}\n", [("3.0 l", (), False)]),
        # Topped up after a run: no volume, no more of it.
        (f"{DRAIN}- {{fill: oil}}\n- {{fill: oil}}\n", [("1.5 l", (), False)]),
        (f"{DRAIN}- {{fill: oil}}\n- {{fill: oil, volume: 50 ml}}\n", [("1.55 l", (), False)]),
        (
            f"{DRAIN}- {{fill: oil}}\n- {{fill: oil, volume: 500 ml, when: {{sump: large}}}}\n",
            [("1.5 l", (), True), ("2.0 l", (), True)],
        ),
        (
            f"{DRAIN}- {{fill: oil}}\n- {{check: oil, otherwise: [{{fill: oil, volume: 100 ml}}]}}\n",
            [("1.5 l", (), False), ("100 ml", ("5",), False)],
        ),
    ],
)
def test_what_is_filled_in_is_summed(steps: str, rows: list[tuple[str | None, tuple[str, ...], bool]]) -> None:
    assert filled(steps) == rows


@pytest.mark.parametrize(
    ("parts", "whole"),
    [
        (["1.5 l"], "1.5 l"),
        (["1.5 l", "350 ml"], "1.85 l"),
        (["350 ml", "1.5 l", "150 ml"], "2.0 l"),
        (["1 l .. 1.2 l", "1 l"], "2 .. 2.2 l"),
        ([], None),
        (["≥ 1 l", "1 l"], None),
    ],
)
def test_quantities_are_added_in_the_unit_of_the_largest(parts: list[str], whole: str | None) -> None:
    total = sum_of([parse(part, Kind.VOLUME) for part in parts])
    assert (total.text if total else None) == whole


def test_there_is_no_sum_of_more_digits_than_a_quantity_has() -> None:
    most, least = parse("9" * 28 + " m", Kind.LENGTH), parse("0." + "0" * 150 + "1 m", Kind.LENGTH)
    assert sum_of([most, most]) is None
    assert sum_of([most, least]) is None


def test_there_is_no_sum_of_a_volume_and_a_mass() -> None:
    assert sum_of([parse("1 l", Kind.VOLUME), parse("1 kg", Kind.MASS)]) is None
