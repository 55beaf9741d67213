"""Jobs and steps of a wrong shape, or with words that mean nothing there."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "file": Table(
        "jobs/job.yaml",
        "@@",
        (
            ("", "", "not-yaml: the file is empty"),
            ("# x", "#", "not-yaml: the file is empty"),
            (
                "[]",
                "[]",
                "wrong-shape: the file must be a mapping with 'job', and 'steps' or 'sections', not an empty list",
            ),
            (
                "job",
                "job",
                "wrong-shape: the file must be a mapping with 'job', and 'steps' or 'sections', not 'job'",
            ),
            (
                "- job: x",
                "- job: x",
                "wrong-shape: the file must be a mapping with 'job', and 'steps' or 'sections', not a list",
            ),
            ("job: x", "job", "wrong-shape: 'steps' is missing"),
            ("job: x\nsteps:", "steps", "wrong-shape: 'steps' has no value"),
            ("job: x\nsteps: []", "[]", "wrong-shape: 'steps' is empty"),
            ("job: x\nsteps: {}", "{}", "wrong-shape: 'steps' must be a list of steps, not an empty mapping"),
            ("job: x\nsteps: x", "x", "wrong-shape: 'steps' must be a list of steps, not 'x'"),
            ("job: x\nsteps: [x]", "x", "wrong-shape: step 1 must be a mapping with one verb, not 'x'"),
            ("job: x\nsteps: [[]]", "[]", "wrong-shape: step 1 must be a mapping with one verb, not an empty list"),
            ("job: x\nsteps: [{}]", "{}", "wrong-shape: this step has no verb"),
            ("job: x\nsteps: [null]", "steps", "wrong-shape: step 1 has no value"),
            ("job: x\nsteps:\n  -", "steps", "wrong-shape: step 1 has no value"),
            (
                "job: x\nsteps:\n  - inspect",
                "inspect",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect'",
            ),
            (
                "job: x\nsteps:\n  - inspect lid",
                "inspect lid",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect lid'",
            ),
            (
                "job: x\nsteps:\n  - inspect:lid",
                "inspect:lid",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect:lid'",
            ),
            (
                "job: x\nsteps:\n  - inspect: lid\n  inspect: lid",
                "i",
                "not-yaml: a '-' is expected here, as before the other items of this list",
            ),
            (
                "job: x\nsteps:\n  inspect: lid",
                "inspect: lid",
                "wrong-shape: 'steps' must be a list of steps, not a mapping",
            ),
            (
                "job: x\nsteps:\n- inspect: lid\nsections: [{title: a, steps: [{inspect: lid}]}]",
                "sections",
                "wrong-shape: 'steps' and 'sections' cannot be used together",
            ),
            ("job: x\nsections: []", "[]", "wrong-shape: 'sections' is empty"),
            ("job: x\nsections: [{title: a}]", "title", "wrong-shape: section 1 needs 'steps'"),
            ("job: x\nsections: [{steps: [{inspect: lid}]}]", "steps", "wrong-shape: section 1 needs 'title'"),
            ('job: ""\nsteps: [{inspect: lid}]', '""', "wrong-shape: 'job' is empty"),
            ("job: true\nsteps: [{inspect: lid}]", "true", "wrong-shape: 'job' must be text, not true"),
            ("job: [x]\nsteps: [{inspect: lid}]", "[x]", "wrong-shape: 'job' must be text, not a list"),
            ("Job: x\nsteps: [{clean: lid}]", "Job", "wrong-shape: unknown key 'Job'; did you mean 'job'?"),
            ("steps: [{inspect: lid}]", "steps", "wrong-shape: 'job' is missing"),
            ("job: x\nstep: [{clean: lid}]", "step", "wrong-shape: unknown key 'step'; did you mean 'steps'?"),
            ("job: x\nblock: y\nsteps: [{inspect: lid}]", "block", "wrong-shape: unknown key 'block'"),
            (
                "job: x\nbegins-with: [lid]\nsteps: [{inspect: lid}]",
                "begins-with",
                "wrong-shape: unknown key 'begins-with'",
            ),
        ),
        ("job: 7\nsteps: [{clean: lid}]",),
    ),
    "step": Table(
        "jobs/job.yaml",
        """\
job: Look
steps:
  - @@
""",
        (
            ("inspect: []", "[]", "wrong-shape: 'inspect' is empty"),
            ("inspect: {}", "{}", "wrong-shape: 'inspect' must be a name or a list of names, not an empty mapping"),
            ('inspect: ""', '""', "wrong-shape: 'inspect' is empty"),
            ("inspect: true", "true", "wrong-shape: 'inspect' must be a name or a list of names, not true"),
            ("inspect:", "inspect", "wrong-shape: 'inspect' has no value"),
            ("inspect: [lid, []]", "[]", "wrong-shape: item 2 of 'inspect' must be a name, not an empty list"),
            (
                "inspect: lid\n    inspect: lid",
                "inspect",
                "not-plain: the key 'inspect' is here a second time; the first is on line 3",
            ),
            ("inspect: lid\n    remove: lid", "remove", "wrong-shape: two verbs in one step: 'inspect' and 'remove'"),
            ("inspect: lid\n    to: x", "to", "wrong-shape: 'to' does not go with 'inspect'"),
            ("inspect: lid\n    otherwise: []", "[]", "wrong-shape: 'otherwise' is empty"),
            (
                "inspect: lid\n    otherwise: {}",
                "{}",
                "wrong-shape: 'otherwise' must be a list of steps, not an empty mapping",
            ),
            ("inspect: lid\n    otherwise: [{}]", "{}", "wrong-shape: this step has no verb"),
            (
                "inspect: lid\n    otherwise: stop",
                "stop",
                "wrong-shape: 'otherwise' must be a list of steps, not 'stop'",
            ),
            (
                "inspect: lid\n    otherwise: [stop]",
                "stop",
                "wrong-shape: step 1 must be a mapping with one verb, not 'stop'",
            ),
            ("inspect: lid\n    otherwise: [{stop: }]", "stop", "wrong-shape: 'stop' has no value"),
            (
                "check: lid\n    limit: dry\n    otherwise: [{back-to: nothing}]",
                "nothing",
                "unknown-name: no earlier step is called 'nothing'",
            ),
            (
                "inspect: lid\n    otherwise: [{back-to: []}]",
                "[]",
                "wrong-shape: 'back-to' must be a name, not an empty list",
            ),
            (
                "inspect: lid\n    otherwise: [{back-to: a, stop: b}]",
                "stop",
                "wrong-shape: two verbs in one step: 'back-to' and 'stop'",
            ),
            (
                "clean: lid\n    name: A B",
                "A B",
                "wrong-shape: 'A B' is not a valid name; use lower-case letters, digits and hyphens: 'a-b'",
            ),
            (
                "inspect: lid\n    name: [a]",
                "[a]",
                "wrong-shape: 'name' must be a name of lower-case letters, digits and hyphens, not a list",
            ),
            ("inspect: lid\n    figure: {}", "figure", "wrong-shape: 'figure' needs 'image'"),
            ("inspect: lid\n    figure: {alt: x}", "figure", "wrong-shape: 'figure' needs 'image'"),
            (
                "inspect: lid\n    figure: []",
                "[]",
                "wrong-shape: 'figure' must be a picture, or a mapping with 'image', 'alt', 'caption' and 'width', not an empty list",
            ),
            (
                "inspect: lid\n    waive: []",
                "[]",
                "wrong-shape: 'waive' must be a mapping from checks to reasons, not an empty list",
            ),
            ("inspect: lid\n    waive: {left-off: }", "left-off", "wrong-shape: 'left-off' has no value"),
            (
                "clean: lid\n    waive: {left-of: x}",
                "left-of",
                "bad-waiver: no check is called 'left-of'; did you mean 'left-off'?",
            ),
            (
                "inspect: lid\n    waive: {left-off: true}",
                "true",
                "wrong-shape: 'left-off' must be text: the reason, not true",
            ),
            (
                "inspect: lid\n    tool: {}",
                "{}",
                "wrong-shape: 'tool' must be a name or a list of names, not an empty mapping",
            ),
            ("clean: lid\n    tool: hammer", "hammer", "unknown-tool: no tool is called 'hammer'"),
            ("clean: lid\n    time: 5", "5", "bare-number: '5' has no unit"),
            ("inspect: lid\n    for: []", "[]", "wrong-shape: 'for' is empty"),
            (
                "inspect: lid\n    for: {}",
                "{}",
                "wrong-shape: 'for' must be text or a list of text, not an empty mapping",
            ),
            ("back-to: a", "back-to", "wrong-shape: 'back-to' can only be in a step of 'otherwise' or 'outcomes'"),
            ('stop: ""', '""', "wrong-shape: 'stop' is empty"),
            ("stop: []", "[]", "wrong-shape: 'stop' must be text, not an empty list"),
            ("note: []", "[]", "wrong-shape: 'note' must be text, not an empty list"),
            ("do: nothing", "nothing", "unknown-name: no block is called 'nothing'"),
            ("do: [a, b]", "[a, b]", "wrong-shape: 'do' must be a name, not a list"),
            ("reverse: job", "job", "unknown-name: no block is called 'job'"),
            ("set: lid", "set", "wrong-shape: 'set' needs 'to'"),
            ("set: lid\n    to: open", "lid", "unknown-name: 'lid' is a part; 'set' takes a control"),
            ("apply: grease", "apply", "wrong-shape: 'apply' needs 'to'"),
            ("apply: grease\n    to: lid", "grease", "unknown-name: no consumable is called 'grease'"),
            ("caution: hot", "hot", "unknown-name: no caution is called 'hot'"),
            ("place: stand", "stand", "unknown-name: no equipment is called 'stand'"),
            ("run: []", "[]", "wrong-shape: 'run' must be a name, not an empty list"),
            ("wait: []", "[]", "wrong-shape: 'wait' must be a quantity with its unit, not an empty list"),
            ("lift: lid\n    people: 0", "0", "wrong-shape: 'people' must be a whole number of at least 1, not 0"),
            (
                "lift: lid\n    grip: strong",
                "strong",
                "wrong-shape: 'grip' must be one of good, fair, poor, not 'strong'",
            ),
            ("lift: lid\n    with: hoist", "hoist", "unknown-name: no equipment is called 'hoist'"),
            ("remove: lid\n    count: 0", "0", "wrong-shape: 'count' must be a whole number of at least 1, not 0"),
            ("remove: lid\n    count: 2", "lid", "left-off: lid comes off and never goes back"),
            ("remove: lid lid", "lid lid", "unknown-name: nothing is called 'lid lid'"),
            ("tighten: lid", "lid", "unknown-name: 'lid' is a part; 'tighten' takes a fastener"),
            ("drain: lid", "lid", "unknown-name: 'lid' is a part; 'drain' takes a fluid"),
            ("connect: lid", "lid", "unknown-name: 'lid' is a part; 'connect' takes a line"),
            (
                "measure: lid\n    limit: []",
                "[]",
                "wrong-shape: 'limit' must be a quantity with its unit, not an empty list",
            ),
            ('measure: lid\n    limit: ""', '""', "wrong-shape: 'limit' is empty"),
            ("check: lid\n    limit: 5", "check", "no-way-out: nothing says what to do if this fails: 5"),
            ("jump: lid", "jump", "wrong-shape: 'jump' is not a verb"),
            (
                "Inspect: lid\n    note: Look for cracks.",
                "Inspect",
                "wrong-shape: 'Inspect' is not a verb; did you mean 'inspect'?",
            ),
            ("remove : lid", "lid", "left-off: lid comes off and never goes back"),
            ('"remove": lid', "lid", "left-off: lid comes off and never goes back"),
            ("? remove\n    : lid", "lid", "left-off: lid comes off and never goes back"),
            (
                "remove: lid\n    when: lid",
                "lid",
                "wrong-shape: 'when' must be a mapping from options to choices, or a list of such mappings, not 'lid'",
            ),
            ("remove: lid # lid", "lid", "left-off: lid comes off and never goes back"),
            ('"\\u0072emove": lid', "lid", "left-off: lid comes off and never goes back"),
            (
                "insp\u200bect: lid\n    note: Look for cracks.",
                "insp\u200bect",
                "wrong-shape: 'insp<U+200B>ect' is not a verb; did you mean 'inspect'?",
            ),
            (
                "inspect\u200b: lid\n    note: Look for cracks.",
                "inspect\u200b",
                "wrong-shape: 'inspect<U+200B>' is not a verb; did you mean 'inspect'?",
            ),
            ("text: x", "text", "wrong-shape: this step has no verb"),
            ("when: {a: b}", "when", "wrong-shape: this step has no verb"),
            ("time: 5 min", "time", "wrong-shape: this step has no verb"),
            ("name: x", "name", "wrong-shape: this step has no verb"),
        ),
        ("clean: [lid, lid]",),
    ),
}


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
