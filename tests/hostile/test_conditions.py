"""Conditions, options and combinations that mean nothing."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "when": Table(
        "machine.yaml",
        """\
machine: Trial
options:
  shaft: [short, long]
  year: [1990, 2000]
exclude:
  - {shaft: long, year: 1990}
parts:
  lid: {when: @@}
  box: {}
""",
        (
            ("{}", "{}", "wrong-shape: 'when' is empty"),
            ("[]", "[]", "wrong-shape: 'when' is empty"),
            ("{shaft: shorter}", "shorter", "unknown-name: option shaft has no choice 'shorter'"),
            ("{shaf: short}", "shaf", "unknown-name: no option is called 'shaf'"),
            ("{shaft: [short, middle]}", "middle", "unknown-name: option shaft has no choice 'middle'"),
            ("{shaft: []}", "[]", "wrong-shape: 'shaft' is empty"),
            ("{shaft: [[short]]}", "[short]", "wrong-shape: item 1 of 'shaft' must be a choice, not a list"),
            (
                "{shaft: {a: b}}",
                "{a: b}",
                "wrong-shape: 'shaft' must be a choice or a list of choices, not a mapping",
            ),
            ("{shaft: }", "shaft", "wrong-shape: 'shaft' has no value"),
            ('{shaft: ""}', '""', "wrong-shape: 'shaft' is empty"),
            (
                "short",
                "short",
                "wrong-shape: 'when' must be a mapping from options to choices, or a list of such mappings, not 'short'",
            ),
            (
                "[short]",
                "short",
                "wrong-shape: item 1 of 'when' must be a mapping from options to choices, not 'short'",
            ),
            ("[{shaft: short}, {}]", "{}", "wrong-shape: item 2 of 'when' is empty"),
            (
                "[{shaft: short}, short]",
                "short",
                "wrong-shape: item 2 of 'when' must be a mapping from options to choices, not 'short'",
            ),
            (
                "[[{shaft: short}]]",
                "[{shaft: short}]",
                "wrong-shape: item 1 of 'when' must be a mapping from options to choices, not a list",
            ),
            (
                "{shaft: long, year: 1990}",
                "{shaft: long, year: 1990}",
                "impossible-condition: no variant meets this condition",
            ),
            ("{year: 1990.0}", "1990.0", "unknown-name: option year has no choice '1990.0'"),
            ("{year: true}", "true", "wrong-shape: 'year' must be a choice or a list of choices, not true"),
            ('{"": short}', '""', "unknown-name: no option is called ''"),
            ("{Shaft: short}", "Shaft", "unknown-name: no option is called 'Shaft'"),
            ("{lid: short}", "lid", "unknown-name: 'lid' is a part; 'when' takes an option"),
            ("{shaft: Short}", "Short", "unknown-name: option shaft has no choice 'Short'"),
            (
                "true",
                "true",
                "wrong-shape: 'when' must be a mapping from options to choices, or a list of such mappings, not true",
            ),
            (
                "{shaft: short, shaft: long}",
                "shaft",
                "not-plain: the key 'shaft' is here a second time; the first is on line 8",
            ),
            ('{year: "1990"}', "{year: 2000}", "impossible-condition: no variant that meets this condition has lid"),
            ('{shaft: "short\\u200b"}', '"short\\u200b"', "unknown-name: option shaft has no choice 'short<U+200B>'"),
        ),
        (
            "{shaft: [short, short]}",
            "[{shaft: short}, {shaft: long}]",
        ),
        beside={
            "jobs/job.yaml": "job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n    when: {shaft: short}\n  - inspect: lid\n    note: Look for cracks.\n    when: {year: 2000}\n"
        },
    ),
    "options": Table(
        "machine.yaml",
        """\
machine: Trial
options: @@
parts:
  lid: {}
""",
        (
            (
                "[]",
                "[]",
                "wrong-shape: 'options' must be a mapping from options to their choices, not an empty list",
            ),
            ("{shaft: []}", "[]", "wrong-shape: 'shaft' is empty"),
            ("{shaft: short}", "short", "wrong-shape: 'shaft' must be a list of choices, not 'short'"),
            ("{shaft: [short, short]}", "[short, short]", "wrong-shape: 'shaft' has the same value twice"),
            (
                "{Shaft: [a]}",
                "Shaft",
                "wrong-shape: 'Shaft' is not a valid name; use lower-case letters, digits and hyphens: 'shaft'",
            ),
            (
                "{shaft: [A]}",
                "A",
                "wrong-shape: 'A' is not a valid name; use lower-case letters, digits and hyphens: 'a'",
            ),
            (
                '{shaft: [a, ""]}',
                '""',
                "wrong-shape: '' is not a valid name; use lower-case letters, digits and hyphens",
            ),
            (
                "{shaft: [[a]]}",
                "[a]",
                "wrong-shape: item 1 of 'shaft' must be a name of lower-case letters, digits and hyphens, not a list",
            ),
            ("{shaft: {a: b}}", "{a: b}", "wrong-shape: 'shaft' must be a list of choices, not a mapping"),
            ("{shaft: }", "shaft", "wrong-shape: 'shaft' has no value"),
            ('{"": [a]}', '""', "wrong-shape: '' is not a valid name; use lower-case letters, digits and hyphens"),
            (
                "{a b: [c]}",
                "a b",
                "wrong-shape: 'a b' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            (
                "shaft",
                "shaft",
                "wrong-shape: 'options' must be a mapping from options to their choices, not 'shaft'",
            ),
            (
                "{-a: [b]}",
                "-a",
                "wrong-shape: '-a' is not a valid name; use lower-case letters, digits and hyphens: 'a'",
            ),
            (
                "{a-: [b]}",
                "a-",
                "wrong-shape: 'a-' is not a valid name; use lower-case letters, digits and hyphens: 'a'",
            ),
            (
                "{a--b: [c]}",
                "a--b",
                "wrong-shape: 'a--b' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            ("{ä: [c]}", "ä", "wrong-shape: 'ä' is not a valid name; use lower-case letters, digits and hyphens: 'a'"),
            (
                "{shaft: [1.5]}",
                "1.5",
                "wrong-shape: item 1 of 'shaft' must be a name of lower-case letters, digits and hyphens, not 1.5",
            ),
            (
                "{shaft: [true]}",
                "true",
                "wrong-shape: item 1 of 'shaft' must be a name of lower-case letters, digits and hyphens, not true",
            ),
        ),
        (
            "{}",
            "{shaft: [short]}",
        ),
    ),
    "exclude": Table(
        "machine.yaml",
        """\
machine: Trial
options: {shaft: [short, long], year: [old, new]}
exclude: @@
parts:
  lid: {}
""",
        (
            ("{}", "{}", "wrong-shape: 'exclude' must be a list of combinations, not an empty mapping"),
            (
                "{shaft: long}",
                "{shaft: long}",
                "wrong-shape: 'exclude' must be a list of combinations, not a mapping",
            ),
            ("[{}]", "{}", "wrong-shape: item 1 of 'exclude' is empty"),
            (
                "[shaft]",
                "shaft",
                "wrong-shape: item 1 of 'exclude' must be a mapping from options to choices, not 'shaft'",
            ),
            ("[{shaft: middle}]", "middle", "unknown-name: option shaft has no choice 'middle'"),
            ("[{shaf: long}]", "shaf", "unknown-name: no option is called 'shaf'"),
            ("[{shaft: [long]}]", "[long]", "wrong-shape: 'shaft' must be a choice, not a list"),
            ("[{shaft: }]", "shaft", "wrong-shape: 'shaft' has no value"),
            (
                "[[{shaft: long}]]",
                "[{shaft: long}]",
                "wrong-shape: item 1 of 'exclude' must be a mapping from options to choices, not a list",
            ),
        ),
        (
            "[]",
            "[{shaft: long}, {shaft: long}]",
        ),
    ),
}


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
