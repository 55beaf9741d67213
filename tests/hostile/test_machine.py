"""Names and groups of a machine file that cannot be used."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "names of things": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
  @@
""",
        (
            ("lid: {}", "lid", "not-plain: the key 'lid' is here a second time; the first is on line 3"),
            (
                "Lid: {}",
                "Lid",
                "wrong-shape: 'Lid' is not a valid name; use lower-case letters, digits and hyphens: 'lid'",
            ),
            (
                "LID: {}",
                "LID",
                "wrong-shape: 'LID' is not a valid name; use lower-case letters, digits and hyphens: 'lid'",
            ),
            (
                "lid_2: {}",
                "lid_2",
                "wrong-shape: 'lid_2' is not a valid name; use lower-case letters, digits and hyphens: 'lid-2'",
            ),
            (
                "lid 2: {}",
                "lid 2",
                "wrong-shape: 'lid 2' is not a valid name; use lower-case letters, digits and hyphens: 'lid-2'",
            ),
            ('"": {}', '""', "wrong-shape: '' is not a valid name; use lower-case letters, digits and hyphens"),
            ("-: {}", "-", "wrong-shape: '-' is not a valid name; use lower-case letters, digits and hyphens"),
            (
                "-lid: {}",
                "-lid",
                "wrong-shape: '-lid' is not a valid name; use lower-case letters, digits and hyphens: 'lid'",
            ),
            (
                "lid-: {}",
                "lid-",
                "wrong-shape: 'lid-' is not a valid name; use lower-case letters, digits and hyphens: 'lid'",
            ),
            (
                "lid--x: {}",
                "lid--x",
                "wrong-shape: 'lid--x' is not a valid name; use lower-case letters, digits and hyphens: 'lid-x'",
            ),
            ('"lid ": {}', '"lid "', "not-plain: the key 'lid' has spaces or line ends that cannot be seen"),
            ("ł: {}", "ł", "wrong-shape: 'ł' is not a valid name; use lower-case letters, digits and hyphens"),
            (
                "日本: {}",
                "日本",
                "wrong-shape: '日本' is not a valid name; use lower-case letters, digits and hyphens",
            ),
            (
                '"li\\u0064": {}',
                '"li\\u0064"',
                "not-plain: the key 'lid' is here a second time; the first is on line 3",
            ),
            (
                '"lid\\u200b": {}',
                '"lid\\u200b"',
                "wrong-shape: 'lid<U+200B>' is not a valid name; use lower-case letters, digits and hyphens: 'lid'",
            ),
            (
                "1.5: {}",
                "1.5",
                "wrong-shape: '1.5' is not a valid name; use lower-case letters, digits and hyphens: '1-5'",
            ),
            ("~: {}", "~", "wrong-shape: '~' is not a valid name; use lower-case letters, digits and hyphens"),
            ("[a]: {}", "[a]", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("{a: b}: {}", "{a: b}", "not-plain: a key must be a plain name, not a list or a mapping"),
            ('"a\\nb": {}', '"a\\nb"', "not-plain: the key 'a b' has spaces or line ends that cannot be seen"),
            (
                "a.b: {}",
                "a.b",
                "wrong-shape: 'a.b' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            (
                "a/b: {}",
                "a/b",
                "wrong-shape: 'a/b' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            (
                "../x: {}",
                "../x",
                "wrong-shape: '../x' is not a valid name; use lower-case letters, digits and hyphens: 'x'",
            ),
            (
                "a:b: {}",
                "a:b",
                "wrong-shape: 'a:b' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            ("box: []", "[]", "wrong-shape: 'box' must be a mapping with facts about the part, not an empty list"),
            ("box: x", "x", "wrong-shape: 'box' must be a mapping with facts about the part, not 'x'"),
            ("box:", "box", "wrong-shape: 'box' has no value"),
            ("box: {}\n  box: {}", "box", "not-plain: the key 'box' is here a second time; the first is on line 4"),
            ('box: {name: ""}', '""', "wrong-shape: 'name' is empty"),
            ("box: {name: [a]}", "[a]", "wrong-shape: 'name' must be text, not a list"),
            ("box: {name: {}}", "{}", "wrong-shape: 'name' must be text, not an empty mapping"),
            ("box: {nam: x}", "nam", "wrong-shape: unknown key 'nam'; did you mean 'name'?"),
            ("box: {instead-of: nothing}", "nothing", "unknown-name: nothing is called 'nothing'"),
            ("box: {instead-of: lid}", "lid", "both-there: box is used instead of lid, but both are there"),
            ("box: {instead-of: []}", "[]", "wrong-shape: 'instead-of' is empty"),
            ("box: {needs: {}}", "{}", "wrong-shape: 'needs' is empty"),
            ("box: {needs: {valve: open}}", "valve", "unknown-name: nothing is called 'valve'"),
            ("box: {needs: {lid: open}}", "open", "unknown-name: lid is never 'open'"),
            ("box: {tags: hot}", "hot", "wrong-shape: 'tags' must be a list of names, not 'hot'"),
            ("box: {tags: [[hot]]}", "[hot]", "wrong-shape: item 1 of 'tags' must be a name, not a list"),
            ("box: {replace: never}", "never", "wrong-shape: 'replace' must be 'always', not 'never'"),
            (
                "box: {replace: Always}",
                "Always",
                "wrong-shape: 'replace' must be 'always', not 'Always'; did you mean 'always'?",
            ),
            (
                "box: {rotation: left}",
                "left",
                "wrong-shape: 'rotation' must be clockwise, anticlockwise, or a mapping from one control to the direction in each of its positions, not 'left'",
            ),
            (
                "box: {adjustable: yes}",
                "yes",
                "wrong-shape: 'adjustable' must be true or false, not 'yes'; did you mean 'true'?",
            ),
            (
                "box: {adjustable: ture}",
                "ture",
                "wrong-shape: 'adjustable' must be true or false, not 'ture'; did you mean 'true'?",
            ),
            ('box: {adjustable: "true"}', '"true"', "wrong-shape: 'adjustable' must be true or false, not 'true'"),
            ("box: {wear: {}}", "wear", "wrong-shape: 'wear' needs 'measure'"),
            ("box: {wear: {measure: x, limit: 3}}", "3", "bare-number: '3' has no unit"),
            (
                "box: {wear: {measure: x, limit: soft}}",
                "soft",
                "bad-quantity: 'soft' is not a quantity: a number and then a unit are expected",
            ),
            ("box: {wear: {limit: 3 mm}}", "wear", "wrong-shape: 'wear' needs 'measure'"),
        ),
        (
            "1: {}",
            "0x1: {}",
            "true: {}",
            "null: {}",
            "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx: {}",
            "constructor: {}",
            "none: {}",
            "box: {needs: {lid: off}}",
        ),
    ),
    "groups": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
@@
""",
        (
            ("fasteners:\n  lid: {}", "lid", "same-name: 'lid' names a fastener, but is already the name of a part"),
            (
                "lines:\n  lid: {joins: [lid]}",
                "lid",
                "same-name: 'lid' names a line, but is already the name of a part",
            ),
            (
                "controls:\n  lid: {positions: [a], normal: a}",
                "lid",
                "same-name: 'lid' names a part, but is already the name of a control",
            ),
            ("fluids:\n  lid: {}", "lid", "same-name: 'lid' names a fluid, but is already the name of a part"),
            (
                "fasteners: []",
                "[]",
                "wrong-shape: 'fasteners' must be a mapping from names to fasteners, not an empty list",
            ),
            ("fasteners:", "fasteners", "wrong-shape: 'fasteners' has no value"),
            (
                "parts:\n  box: {}",
                "parts",
                "not-plain: the key 'parts' is here a second time; the first is on line 2",
            ),
            ("lines:\n  hose: {}", "hose", "wrong-shape: 'hose' needs 'joins'"),
            ("lines:\n  hose: {joins: []}", "[]", "wrong-shape: 'joins' is empty"),
            ("lines:\n  hose: {joins: lid}", "lid", "wrong-shape: 'joins' must be a list of names, not 'lid'"),
            ("lines:\n  hose: {joins: [lod]}", "lod", "unknown-name: nothing is called 'lod'"),
            ("controls:\n  valve: {positions: [], normal: a}", "[]", "wrong-shape: 'positions' is empty"),
            (
                "controls:\n  valve: {positions: [open, shut], normal: closed}",
                "closed",
                "unknown-name: valve has no position 'closed'",
            ),
            (
                "controls:\n  valve: {positions: [open, open], normal: open}",
                "[open, open]",
                "wrong-shape: 'positions' has the same value twice",
            ),
            (
                "controls:\n  valve: {positions: open, normal: open}",
                "open",
                "wrong-shape: 'positions' must be a list of positions, or a mapping from positions to what is done, not 'open'",
            ),
            (
                "controls:\n  valve: {positions: [on, off], normal: on, any-at-end: maybe}",
                "maybe",
                "wrong-shape: 'any-at-end' must be true or false, not 'maybe'",
            ),
            ("fasteners:\n  bolt: {secures: lod}", "lod", "unknown-name: nothing is called 'lod'"),
            ("fasteners:\n  bolt: {secures: []}", "[]", "wrong-shape: 'secures' is empty"),
            ("fasteners:\n  bolt: {to: lod}", "lod", "unknown-name: no part is called 'lod'"),
            ("fasteners:\n  bolt: {to: bolt}", "bolt", "unknown-name: 'bolt' is a fastener; 'to' takes a part"),
            (
                "fasteners:\n  bolt: {torque: 5 N·m, by-hand: x}",
                "by-hand",
                "wrong-shape: 'torque' and 'by-hand' cannot be used together",
            ),
            (
                "fasteners:\n  bolt: {by-hand: x, no-torque: y}",
                "no-torque",
                "wrong-shape: 'by-hand' and 'no-torque' cannot be used together",
            ),
            (
                "fasteners:\n  bolt: {torque: 5 N·m, by-hand: x, no-torque: y}",
                "no-torque",
                "wrong-shape: 'torque', 'by-hand' and 'no-torque' cannot be used together",
            ),
            (
                "fasteners:\n  bolt: {releases-when: tight}",
                "tight",
                "wrong-shape: 'releases-when' must be one of out, loose, not 'tight'",
            ),
            ("fluids:\n  oil: {drains: lid}", "lid", "wrong-shape: 'drains' must be a list of names, not 'lid'"),
            ("fluids:\n  oil: {drains: [lod]}", "lod", "unknown-name: nothing is called 'lod'"),
            (
                "stacks: [lid]",
                "lid",
                "wrong-shape: item 1 of 'stacks' must be a list of names, or a mapping with 'when' and 'order', not 'lid'",
            ),
            ("stacks: [[lid, lod]]", "lod", "unknown-name: nothing is called 'lod'"),
            ("stacks: [{when: {a: b}, order: [lid]}]", "a", "unknown-name: no option is called 'a'"),
            ("stacks: [[]]", "[]", "wrong-shape: item 1 of 'stacks' is empty"),
            ("stacks: {}", "{}", "wrong-shape: 'stacks' must be a list of stacks, not an empty mapping"),
            ("stacks: [{}]", "{}", "wrong-shape: item 1 of 'stacks' needs 'order'"),
            ("access-after: {lid: lid}", "lid", "wrong-shape: 'lid' must be a list of names, not 'lid'"),
            ("access-after: {lod: [lid]}", "lod", "unknown-name: nothing is called 'lod'"),
            ("access-after: {lid: [lod]}", "lod", "unknown-name: nothing is called 'lod'"),
            (
                "access-after: []",
                "[]",
                "wrong-shape: 'access-after' must be a mapping from things to lists of names, not an empty list",
            ),
            ("needs: {run: {valve: on}}", "valve", "unknown-name: nothing is called 'valve'"),
            ("needs: {jump: {valve: on}}", "jump", "wrong-shape: 'jump' is not a verb"),
            ("needs: {run: {}}", "{}", "wrong-shape: 'run' is empty"),
            (
                "results-in: {run: valve}",
                "valve",
                "wrong-shape: 'run' must be a mapping from things to how they are, not 'valve'",
            ),
            ("wheels: {}", "wheels", "wrong-shape: unknown key 'wheels'"),
            ("Parts: {}", "Parts", "wrong-shape: unknown key 'Parts'"),
            ("part: {}", "part", "wrong-shape: unknown key 'part'"),
            (" x: y", "x", "not-yaml: a key is expected here"),
            ("- x", "-", "not-yaml: a key is expected here"),
            (
                "machine: Again",
                "machine",
                "not-plain: the key 'machine' is here a second time; the first is on line 1",
            ),
            ("kind: []", "[]", "wrong-shape: 'kind' must be text, not an empty list"),
            ("note: {}", "{}", "wrong-shape: 'note' must be text, not an empty mapping"),
        ),
        (
            "lines:\n  hose: {joins: [lid, lid]}",
            "fasteners:\n  bolt: {secures: [lid, lid]}",
            "stacks: [[lid]]",
            "stacks: [{order: [lid]}]",
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
