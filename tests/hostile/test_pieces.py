"""How tight, how many and which pieces: what a step can say of a fastener and no fastener has."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "torques of steps": Table(
        "jobs/job.yaml",
        """\
job: Look
steps:
  - remove: bolts
  - install: bolts
  - tighten: bolts
    torque: @@
  - check: lid
    limit: no leak
    otherwise:
      - stop: Do the job again.
""",
        (
            ("0 N·m", "0 N·m", "bad-fastener: '0 N·m' is not a torque that a fastener can have"),
            ("-1 N·m", "-1 N·m", "bad-quantity: '-1 N·m' is a negative torque"),
            (
                "0 N·m .. 3 N·m",
                "0 N·m .. 3 N·m",
                "bad-fastener: '0 N·m .. 3 N·m' is not a torque that a fastener can have",
            ),
            ("9", "9", "bare-number: '9' has no unit"),
            ("9 mm", "9 mm", "bad-quantity: '9 mm' is a length, but a torque is expected"),
            ("tight", "tight", "bad-quantity: 'tight' is not a quantity: a number and then a unit are expected"),
        ),
        (
            "0.0000001 N·m",
            "4000000 N·m",
        ),
        beside={"machine.yaml": "machine: Trial\nparts:\n  lid: {}\nfasteners:\n  bolts: {secures: lid, count: 2}\n"},
    ),
    "pieces": Table(
        "jobs/job.yaml",
        """\
job: Look
steps:
  - remove: bolts
    @@
  - install: bolts
  - tighten: bolts
  - check: lid
    limit: no leak
    otherwise:
      - stop: Do the job again.
""",
        (
            ("at: []", "[]", "wrong-shape: 'at' is empty"),
            ("at: {}", "{}", "wrong-shape: 'at' must be a name or a list of names, not an empty mapping"),
            ('at: ""', '""', "wrong-shape: 'at' is empty"),
            ("at: [a, []]", "[]", "wrong-shape: item 2 of 'at' must be a name, not an empty list"),
            ("count: 0", "0", "wrong-shape: 'count' must be a whole number of at least 1, not 0"),
            ("count: -1", "-1", "wrong-shape: 'count' must be a whole number of at least 1, not -1"),
            ("count: two", "two", "wrong-shape: 'count' must be a whole number of at least 1, not 'two'"),
            ("count: [2]", "[2]", "wrong-shape: 'count' must be a whole number of at least 1, not a list"),
            ("count: 10000", "10000", "wrong-shape: 'count' must be at most 9999, not 10000"),
            ("count: 1.5", "1.5", "wrong-shape: 'count' must be a whole number of at least 1, not 1.5"),
            ("at: true", "true", "wrong-shape: 'at' must be a name or a list of names, not true"),
        ),
        beside={
            "machine.yaml": "machine: Trial\nparts:\n  lid: {}\nfasteners:\n  bolts: {secures: lid, count: 4, torque: 9 N·m, order: crosswise, positions: [a, b, c, d]}\n"
        },
    ),
}


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
