"""Places, what is done for each, what a block takes, follow-ups, assemblies, needs and references, written wrongly."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

PLACED = """\
machine: Trial
places: {cylinder: 3, corner: [left, right]}
controls:
  cock: {positions: [open, closed], normal: open}
  engine: {positions: [stopped, running], normal: stopped}
parts:
  lid: {}
  cap: {each: cylinder}
  shaft: {}
fasteners:
  nut: {kind: nut, each: cylinder, by-hand: until it stops, secures: cap}
settings:
  gap: {limit: 0.1 mm .. 0.2 mm}
"""
BLOCK = """\
block: Turn it
takes: {it: fastener}
steps:
  - loosen: it
  - tighten: it
"""
OTHER = "job: Other\nsteps:\n  - clean: lid\n    name: there\n"
TABLES = {
    "places": Table(
        "machine.yaml",
        "machine: Trial\nplaces: @@\nparts:\n  lid: {each: cylinder}\n",
        (
            ("{}", "cylinder", "unknown-name: no place is called 'cylinder'"),
            ("[cylinder]", "[cylinder]", "wrong-shape: 'places' must be a mapping from places to how many there are, or to their names, not a list"),
            ("{cylinder: 1}", "1", "wrong-shape: 'cylinder' must be a whole number of at least 2, or a list of names, not 1"),
            ("{cylinder: 500}", "500", "wrong-shape: 'cylinder' must be at most 24, not 500"),
            ("{cylinder: two}", "two", "wrong-shape: 'cylinder' must be a whole number of at least 2, or a list of names, not 'two'"),
            ("{cylinder: [a]}", "[a]", "wrong-shape: 'cylinder' must be a whole number of at least 2, or a list of names, but has 1 item"),
            ("{cylinder: [a, a]}", "[a, a]", "wrong-shape: 'cylinder' has the same value twice"),
            ("{cylinder: [a, [b]]}", "[b]", "wrong-shape: item 2 of 'cylinder' must be a name of lower-case letters, digits and hyphens, not a list"),
            ("{cylinder: [a, B]}", "B", "wrong-shape: 'B' is not a valid name; use lower-case letters, digits and hyphens: 'b'"),
            ("{cylinder: }", "cylinder", "wrong-shape: 'cylinder' has no value"),
            ("{cylinders: 2}", "cylinder", "unknown-name: no place is called 'cylinder'"),
        ),
        ("{cylinder: 2}", "{cylinder: 24}", "{cylinder: [1, 2]}", "{cylinder: [lid, corner], corner: 2}"),
    ),
    "each": Table(
        "jobs/job.yaml",
        "job: Look\nsteps:\n@@",
        (
            ("  - each: cylinder\n", "each", "wrong-shape: 'each' needs 'steps'"),
            ("  - each: cylinder\n    steps: []\n", "[]", "wrong-shape: 'steps' is empty"),
            ("  - each: cylinder\n    steps: {clean: lid}\n", "{clean: lid}", "wrong-shape: 'steps' must be a list of steps, not a mapping"),
            ("  - each: [cylinder]\n    steps: [{clean: lid}]\n", "[cylinder]", "wrong-shape: 'each' must be a name, not a list"),
            ("  - each: lid\n    steps: [{clean: lid}]\n", "lid", "unknown-name: 'lid' is a part; 'each' takes a place"),
            ("  - each: cylindre\n    steps: [{clean: lid}]\n", "cylindre", "unknown-name: no place is called 'cylindre'"),
            ("  - each: cylinder\n    steps:\n      - each: cylinder\n        steps: [{clean: cap}]\n", "cylinder", "wrong-shape: 'each: cylinder' is inside another 'each', which is already for one cylinder"),
            ("  - each: cylinder\n    steps:\n      - check: cap\n        limit: dry\n        otherwise:\n          - each: cylinder\n            steps: [{clean: lid}]\n          - stop: Ask.\n", "cylinder", "wrong-shape: 'each: cylinder' is inside another 'each', which is already for one cylinder"),
            ("  - clean: cap\n    at: 7\n", "7", "unknown-name: cap has no place '7'"),
            ("  - clean: cap\n    at: left\n", "left", "unknown-name: cap has no place 'left'"),
            ("  - clean: lid\n    at: 2\n", "2", "unknown-name: lid has no place '2'"),
            ("  - clean: cap\n    at: [[2]]\n", "[2]", "wrong-shape: item 1 of 'at' must be a name, not a list"),
            ("  - clean: cap\n    at: {cylinder: 2}\n", "{cylinder: 2}", "wrong-shape: 'at' must be a name or a list of names, not a mapping"),
        ),
        (
            "  - each: cylinder\n    steps:\n      - each: corner\n        steps: [{clean: cap}]\n",
            "  - each: corner\n    steps: [{clean: cap}]\n",
            "  - run: engine\n    at: idle\n  - note: Look at the cock.\n",
            "  - each: cylinder\n    name: all\n    steps: [{clean: cap}]\n  - check: lid\n    limit: dry\n    otherwise:\n      - clean: lid\n      - back-to: all\n",
            "  - check: lid\n    limit: dry\n    otherwise:\n      - each: cylinder\n        steps: [{clean: cap}]\n      - stop: Ask.\n",
        ),
        beside={"machine.yaml": PLACED},
    ),
    "what a block takes": Table(
        "jobs/job.yaml",
        "job: Look\nsteps:\n@@  - check: for leaks\n    limit: dry\n    otherwise: [{stop: Ask.}]\n",
        (
            ("  - do: turn\n", "turn", "not-given: turn needs a fastener for 'it', but none is given"),
            ("  - do: turn\n    with: {}\n", "{}", "wrong-shape: 'with' is empty"),
            ("  - do: turn\n    with: nut\n", "nut", "wrong-shape: 'with' must be a mapping from the names that a block takes to things, not 'nut'"),
            ("  - do: turn\n    with: {it: [nut]}\n", "[nut]", "wrong-shape: 'it' must be a name, not a list"),
            ("  - do: turn\n    with: {it: lid}\n", "lid", "unknown-name: 'lid' is a part; 'with' takes a fastener"),
            ("  - do: turn\n    with: {it: nuts}\n", "nuts", "unknown-name: no fastener is called 'nuts'"),
            ("  - do: turn\n    with: {it: nut, that: nut}\n", "that", "unknown-name: the block turn takes no 'that'"),
            ("  - do: turn\n    with: {it: nut, it: nut}\n", "it", "not-plain: the key 'it' is here a second time; the first is on line 4"),
            ("  - do: shut\n    with: {it: engine}\n", "engine", "not-given: engine has no position 'closed'"),
            ("  - do: plain\n    with: {it: nut}\n", "it", "unknown-name: the block plain takes no 'it'"),
        ),
        ("  - do: turn\n    with: {it: nut}\n", "  - do: shut\n    with: {it: cock}\n"),
        beside={
            "machine.yaml": PLACED,
            "blocks/turn.yaml": BLOCK,
            "blocks/plain.yaml": "block: Clean\nsteps:\n  - clean: lid\n",
            "blocks/shut.yaml": "block: Shut\ntakes: {it: control}\nsteps:\n  - set: it\n    to: closed\n  - set: it\n    to: open\n",
        },
    ),
    "references": Table(
        "jobs/job.yaml",
        "job: Look\nsteps:\n  - clean: lid\n    note: 'See @@.'\n",
        (
            ("{step}", "{step}", "unknown-reference: '{step}' refers to nothing"),
            ("{step }", "{step }", "unknown-reference: '{step }' refers to nothing"),
            ("{step there of }", "{step there of }", "unknown-reference: '{step there of }' refers to nothing"),
            ("{step a of b of c}", "{step a of b of c}", "unknown-reference: '{step a of b of c}' refers to nothing"),
            ("{step there of other", "{step there of other.", "unknown-reference: '{step there of other.' refers to nothing"),
            ("{step {job other}}", "{step", "unknown-reference: '{step' refers to nothing"),
            ("{step é}", "é", "unknown-reference: no step here is called 'é'"),
            ("{step there of nowhere}", "nowhere", "unknown-reference: no job is called 'nowhere'"),
            ("{job}", "{job}", "unknown-reference: '{job}' refers to nothing"),
            ("{job other of job}", "{job other of job}", "unknown-reference: '{job other of job}' refers to nothing"),
            ("{limit gap of other}", "{limit gap of other}", "unknown-reference: '{limit gap of other}' refers to nothing"),
            ("{figure}", "{figure}", "unknown-reference: '{figure}' refers to nothing"),
            ("{figure ../x.svg}", "../x.svg", "unknown-reference: no step here shows '../x.svg'"),
            ("{Steps there}", "{Steps there}", "unknown-reference: '{Steps there}' refers to nothing"),
        ),
        ("{", "}", "{}", "{{}}", "{torque}", "{step there of other}", "{limit gap}", "{job other}", "{step-by-step}"),
        beside={"machine.yaml": PLACED, "jobs/other.yaml": OTHER},
    ),
    "follow-ups": Table(
        "jobs/job.yaml",
        "job: Look\nfollow-ups: @@\nsteps:\n  - clean: lid\n    name: first\n",
        (
            ("[]", "[]", "wrong-shape: 'follow-ups' is empty"),
            ("{after: 2 h}", "{after: 2 h}", "wrong-shape: 'follow-ups' must be a list of mappings with 'after' and 'steps', not a mapping"),
            ("[{after: 2 h}]", "after", "wrong-shape: item 1 of 'follow-ups' needs 'steps'"),
            ("[{after: 2, steps: [{clean: lid}]}]", "2", "bare-number: '2' has no unit"),
            ("[{after: 0 h, steps: [{clean: lid}]}]", "0 h", "bad-quantity: nothing is due '0 h' after a job"),
            ("[{after: -2 h, steps: [{clean: lid}]}]", "-2 h", "bad-quantity: '-2 h' is a negative time"),
            ("[{after: 2 kg, steps: [{clean: lid}]}]", "2 kg", "bad-quantity: '2 kg' is a mass, but a time is expected"),
            ("[{after: 2 h, steps: [{check: lid, limit: dry, otherwise: [{back-to: first}]}]}]", "first", "unknown-name: no earlier step is called 'first'"),
        ),
        ("[{after: 2 h, steps: [{clean: lid}]}]", "[{after: the first run, steps: [{clean: lid}]}]", "[{after: 100 km, steps: [{clean: lid}]}]"),
    ),
    "assemblies": Table(
        "machine.yaml",
        "machine: Trial\nparts:\n  lid: {}\n  box: {assembly: [seal]}\n  seal: {}\n  pump: {assembly: @@}\nstacks: [[lid, box, pump]]\n",
        (
            ("[]", "[]", "wrong-shape: 'assembly' is empty"),
            ("lid", "lid", "wrong-shape: 'assembly' must be a list of names, not 'lid'"),
            ("[pump]", "pump", "bad-cycle: pump cannot be a part of itself"),
            ("[seal]", "seal", "bad-cycle: seal is already a part of box"),
            ("[nothing]", "nothing", "unknown-name: nothing is called 'nothing'"),
        ),
    ),
    "sets": Table(
        "machine.yaml",
        "machine: Trial\nparts:\n  lid: {}\n  belt: {count: 2}\nstacks: [[lid, belt]]\nrenew-together: @@\n",
        (
            ("[]", "[]", "wrong-shape: 'renew-together' is empty"),
            ("[[]]", "[]", "wrong-shape: item 1 of 'renew-together' is empty"),
            ("[belt]", "belt", "wrong-shape: item 1 of 'renew-together' must be a list of names, not 'belt'"),
            ("[[lid, lid]]", "[lid, lid]", "wrong-shape: item 1 of 'renew-together' has the same value twice"),
            ("[[lid]]", "lid", "half-renewed: lid alone is not a set"),
        ),
        ("[[belt]]", "[[lid, belt]]"),
    ),
    "needs": Table(
        "machine.yaml",
        "machine: Trial\ncontrols:\n  cock: {positions: [open, closed], normal: open}\nparts:\n  lid: {needs: @@}\n  box: {}\nstacks: [[lid, box]]\n",
        (
            ("{box: banana}", "banana", "unknown-name: box is never 'banana'"),
            ("{box: loose}", "loose", "unknown-name: box is never 'loose'"),
            ("{cock: off}", "off", "unknown-name: cock has no position 'off'"),
            ("{box: [on]}", "[on]", "wrong-shape: 'box' must be a position, not a list"),
            ("{nothing: on}", "nothing", "unknown-name: nothing is called 'nothing'"),
        ),
        ("{box: on}", "{cock: open}"),
    ),
}  # fmt: skip


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
