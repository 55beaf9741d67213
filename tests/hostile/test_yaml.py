"""YAML that is broken, that is not plain, or that only looks so."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "behind other keys": Table(
        "machine.yaml",
        "machine: Trial\nparts:\n  lid: {}\n@@",
        (
            ("note: >= 5 mm", ">", "not-yaml: a value cannot start with '>' unless it is in quotes"),
            ("note: > 5 mm", ">", "not-yaml: a value cannot start with '>' unless it is in quotes"),
            ("note: >5", ">5", "wrong-shape: 'note' is empty"),
            ("note: | x", "|", "not-yaml: a value cannot start with '|' unless it is in quotes"),
            ("note: |x", "|", "not-yaml: a value cannot start with '|' unless it is in quotes"),
            ("note: @x", "@", "not-yaml: a value cannot start with '@' unless it is in quotes"),
            ("note: `x`", "`", "not-yaml: a value cannot start with '`' unless it is in quotes"),
            ("note: %x", "%", "not-yaml: a value cannot start with '%' unless it is in quotes"),
            ("note: & x", "&", "not-yaml: a value cannot start with '&' unless it is in quotes"),
            ("note: &", "&", "not-yaml: a value cannot start with '&' unless it is in quotes"),
            ("note: *", "*", "not-yaml: a value cannot start with '*' unless it is in quotes"),
            ("note: * x", "*", "not-yaml: a value cannot start with '*' unless it is in quotes"),
            ("note: &x y", "&x y", "not-plain: '&x' is an anchor"),
            ("note: *x", "*x", "not-plain: '*x' is an alias"),
            ("note: !x y", "!x y", "not-plain: '!x' is a tag"),
            ("note: !!str x", "!!str x", "not-plain: '!!str' is a tag"),
            (
                "note: !!python/object/apply:os.system [x]",
                "!!python/object/apply:os.system [",
                "not-plain: '!!python/object/apply:os.system' is a tag",
            ),
            ("note: !<x> y", "!<x> y", "not-plain: 'x' is a tag"),
            ("note: !", "!", "not-plain: '!' is a tag"),
            ("note: ! x", "! x", "not-plain: '!' is a tag"),
            ('note: "\\q"', "\\", "not-yaml: '\\q' is not a valid escape"),
            ('note: "\\x1"', "\\", "not-yaml: '\\x1\"' is not a valid escape"),
            ('note: "\\u12"', "\\", "not-yaml: '\\u12\"' is not a valid escape"),
            ('note: "\\ud800"', "\\", "not-yaml: '\\ud800' is not a valid escape"),
            ('note: "\\U00110000"', "\\", "not-yaml: '\\U00110000' is not a valid escape"),
            ('note: "x', '"', "not-yaml: a quotation mark is opened here and never closed"),
            ("note: 'x", "'", "not-yaml: a quotation mark is opened here and never closed"),
            ('note: "x" y', "y", "not-yaml: a key is expected here"),
            ("note: 'x'y", "y", "not-yaml: a key is expected here"),
            ("note: x: y", ":", "not-yaml: there is a colon where no key can be"),
            ("note: x:", ":", "not-yaml: there is a colon where no key can be"),
            ("note: [x", "[", "not-yaml: the list that '[' opens here is not closed"),
            ("note: {x", "{", "not-yaml: the mapping that '{' opens here is not closed"),
            ("note: ]", "]", "not-yaml: a value is expected here"),
            ("note: }", "}", "not-yaml: a value is expected here"),
            ("note: ,", ",", "not-yaml: a value is expected here"),
            ("note: -", "-", "not-yaml: a list cannot begin on the same line as its key"),
            ("note: - x", "-", "not-yaml: a list cannot begin on the same line as its key"),
            ("note: ?", "?", "not-yaml: a value cannot start with '?' unless it is in quotes"),
            ("note: ? x", "?", "not-yaml: a value cannot start with '?' unless it is in quotes"),
            ("note: : x", ":", "not-yaml: there is a colon where no key can be"),
            ("note: |0\n  x", "0", "not-yaml: after '|' or '>', an indentation must be 1 to 9"),
            ("note: |9\n  x", "x", "not-yaml: a key is expected here"),
            ("note: >-+\n  x", "+", "not-yaml: only a comment can be here"),
            ("note: [x}", "[", "not-yaml: the list that '[' opens here is not closed"),
            ("note: {x: y]", "{", "not-yaml: the mapping that '{' opens here is not closed"),
            (" note: x", "n", "not-yaml: a key is expected here"),
            ("note: x\n  kind: y", ":", "not-yaml: there is a colon where no key can be"),
            ("note: x\n kind: y", ":", "not-yaml: there is a colon where no key can be"),
            ("- note: x", "-", "not-yaml: a key is expected here"),
            ("note: x\n...\nkind: y", "k", "not-yaml: nothing can follow what has ended above"),
            ("---\nnote: x", "---", "not-plain: a second document starts here"),
            ("note: x\n---\nkind: y", "---", "not-plain: a second document starts here"),
            ("note: x\nnote: y", "note", "not-plain: the key 'note' is here a second time; the first is on line 4"),
            ("<<: {note: x}", "<<", "not-plain: '<<' is a merge key"),
            ('"<<": x', '"<<"', "wrong-shape: unknown key '<<'"),
            ("[note]: x", "[note]", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("{note: x}: y", "{note: x}", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("[{a: 1}]: x", "[{a: 1}]", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("? [a]\n: x", "[a]", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("? {a: b}\n: x", "{a: b}", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("? - a\n: x", "- a", "not-plain: a key must be a plain name, not a list or a mapping"),
            ("? |\n  note\n: x", "|\n  note", "not-plain: the key 'note' has spaces or line ends that cannot be seen"),
            ("?", "", "wrong-shape: unknown key ''"),
            ("note:x", "n", "not-yaml: a ':' with a space after it is expected after this"),
            ("\tnote: x", "\t", "not-yaml: a tab is used to indent"),
            ("note:\n\t- x", "\t", "not-yaml: a tab is used to indent"),
            ("note: x #1", " #1", "not-plain: '#1' is ignored: what follows ' #' is a comment"),
            ("note: socket #2", " #2", "not-plain: '#2' is ignored: what follows ' #' is a comment"),
            ("note: #x", "note", "wrong-shape: 'note' has no value"),
            ("note: null", "note", "wrong-shape: 'note' has no value"),
            ("note: ~", "note", "wrong-shape: 'note' has no value"),
            ("note: true", "true", "wrong-shape: 'note' must be text, not true"),
            ('note: ""', '""', "wrong-shape: 'note' is empty"),
            ("%YAML 1.2", "%", "not-yaml: '%YAML 1.2' is a directive"),
            ("\ufeffnote: x", "\ufeff", "not-yaml: there is an invisible character (U+FEFF zero width no-break space)"),
            ("note: \ufeffx", "\ufeff", "not-yaml: there is an invisible character (U+FEFF zero width no-break space)"),
        ),
        (
            "note: x\n...\n",
            "? note\n: x",
            '"note": x',
            '"note" : x',
            "'note': x",
            "note : x",
            "note:\tx",
            "note: x\t",
            "note: \t x",
            'note: "socket #2"',
            "note: x # y",
            "note: yes",
            "note: 1e5",
            "note: 0o7",
            "note: .nan",
            "note: 2026-11-25",
            "note: 12:30:45",
            "note: =",
            "note: 'it''s'",
            "note: it's",
            'note: "a\\\n  b"',
            'note: "a\\\\b"',
            "note: x\n  y",
            "note:\n  x\n\n  y",
            "note: |\n  x\n",
            "note: >\n  x\n   y\n",
            'note: "\\/"',
            "note: é",
            "note: 🔧",
        ),
    ),
    "before all keys": Table(
        "machine.yaml",
        """\
@@machine: Trial
parts:
  lid: {}
""",
        (
            ("%YAML 1.2\n", "m", "not-yaml: nothing can follow what has ended above"),
            ("%YAML 9.9\n---\n", "%", "not-yaml: '%YAML 9.9' is a directive"),
            ("%YAML 1.2\n---\n", "%YAML 1.2\n---", "not-plain: a directive is not allowed here"),
            ("%TAG ! tag:x,2026:\n---\n", "%TAG ! tag:x,2026:\n---", "not-plain: a directive is not allowed here"),
            ("%FOO bar\n---\n", "%", "not-yaml: '%FOO bar' is a directive"),
            ("...\n", ".", "not-yaml: a value is expected here"),
            ("x\n", "x", "not-yaml: a ':' with a space after it is expected after this"),
            ("x: [\n", "[", "not-yaml: the list that '[' opens here is not closed"),
            ("{machine: x}\n", "m", "not-yaml: nothing can follow what has ended above"),
            ("- x\n", "m", "not-yaml: a '-' is expected here, as before the other items of this list"),
            ("!x\n", "!x\n", "not-plain: '!x' is a tag"),
            ("&x\n", "&x\n", "not-plain: '&x' is an anchor"),
            ('"', '"', "not-yaml: a quotation mark is opened here and never closed"),
            ("\t\n", "\t", "not-yaml: a tab is used to indent"),
        ),
        (
            "---\n",
            "--- # x\n",
            "# x\n",
            "\n\n",
            "\ufeff",
            "\ufeff\ufeff",
            "  \n",
        ),
    ),
    "steps": Table(
        "jobs/job.yaml",
        "job: Look\nsteps:\n@@",
        (
            (
                "  - check: lid\n    limit: >= 5 mm\n",
                ">",
                "not-yaml: a value cannot start with '>' unless it is in quotes",
            ),
            (
                "  - {check: lid, limit: >= 5 mm}\n",
                ">",
                "not-yaml: a value cannot start with '>' unless it is in quotes",
            ),
            (
                "  - check: lid\n    limit: > 5 mm # or so\n",
                ">",
                "not-yaml: a value cannot start with '>' unless it is in quotes",
            ),
            (
                "  - check: lid\n    for: [>= 5 mm]\n",
                ">",
                "not-yaml: a value cannot start with '>' unless it is in quotes",
            ),
            ("    - >= 5 mm\n", ">", "not-yaml: a value cannot start with '>' unless it is in quotes"),
            ("  - inspect: [lid\n  - inspect: lid\n", "[", "not-yaml: the list that '[' opens here is not closed"),
            ("  - inspect: {lid\n", "{", "not-yaml: the mapping that '{' opens here is not closed"),
            ("  - inspect: lid\n - inspect: lid\n", "-", "not-yaml: a key is expected here"),
            (
                "  - inspect: lid\n   for: cracks\n",
                "f",
                "not-yaml: a '-' is expected here, as before the other items of this list",
            ),
            ("  - inspect: lid\n     for: cracks\n", ":", "not-yaml: there is a colon where no key can be"),
            ("  - inspect: lid\n\tfor: cracks\n", "\t", "not-yaml: a tab is used to indent"),
            (
                "  - inspect: lid\n    for: cracks\n    for: rust\n",
                "for",
                "not-plain: the key 'for' is here a second time; the first is on line 4",
            ),
            ("  -inspect: lid\n", "-inspect: lid", "wrong-shape: 'steps' must be a list of steps, not a mapping"),
            (
                "  - - inspect: lid\n",
                "- inspect: lid",
                "wrong-shape: step 1 must be a mapping with one verb, not a list",
            ),
            ("  * inspect: lid\n", "*", "not-yaml: a value cannot start with '*' unless it is in quotes"),
            ("  • inspect: lid\n", "• inspect: lid", "wrong-shape: 'steps' must be a list of steps, not a mapping"),
            ("  – inspect: lid\n", "– inspect: lid", "wrong-shape: 'steps' must be a list of steps, not a mapping"),
            (
                "  1. inspect: lid\n",
                "1. inspect: lid",
                "wrong-shape: 'steps' must be a list of steps, not a mapping",
            ),
            (
                "  - inspect：lid\n",
                "inspect：lid",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect：lid'",
            ),
            (
                "  - inspect; lid\n",
                "inspect; lid",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect; lid'",
            ),
            (
                "  - inspect = lid\n",
                "inspect = lid",
                "wrong-shape: step 1 must be a mapping with one verb, not 'inspect = lid'",
            ),
            ("  - note: Look: a lid\n", ":", "not-yaml: there is a colon where no key can be"),
            ('  - note: Look at "lid": x\n', ":", "not-yaml: there is a colon where no key can be"),
            ('  - note: "Look" at it\n', "a", "not-yaml: a key is expected here"),
            ("  - note: [ ] tick\n", "t", "not-yaml: a key is expected here"),
            ("  - note: {lid} first\n", "f", "not-yaml: a key is expected here"),
            ("  - note: - first\n", "-", "not-yaml: a list cannot begin on the same line as its key"),
            ("  - note: ? why\n", "?", "not-yaml: a value cannot start with '?' unless it is in quotes"),
            ("  - note: 'don't'\n", "t", "not-yaml: a key is expected here"),
            ('  - note: "6" wrench"\n', "w", "not-yaml: a key is expected here"),
            ("  {inspect: lid}\n", "{inspect: lid}", "wrong-shape: 'steps' must be a list of steps, not a mapping"),
            ("  - clean: lid,\n", "lid,", "unknown-name: nothing is called 'lid,'"),
            ("  - clean: lid;\n", "lid;", "unknown-name: nothing is called 'lid;'"),
        ),
        (
            "  - note: 50 % of it\n",
            "  - note: don't\n",
            "  - note: C:\\temp\n",
            '  - note: "C:\\temp"\n',
            '  - note: "C:\\new"\n',
            "- clean: lid\n",
            "      - clean: lid\n",
            "  [{clean: lid}]\n",
            "  - clean: 'lid'\n",
            "  - clean: “lid”\n",
        ),
    ),
    "depth": Table(
        "jobs/job.yaml",
        """\
job: Look
steps:
  - note: x
    waive: @@
""",
        (
            (
                "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
                "[",
                "not-yaml: the file is nested more than 50 levels deep",
            ),
            (
                "{a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: {a: }}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}}",
                "{",
                "not-yaml: the file is nested more than 50 levels deep",
            ),
            (
                "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[",
                "[",
                "not-yaml: the file is nested more than 50 levels deep",
            ),
            (
                "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
                "[",
                "not-yaml: the file is nested more than 50 levels deep",
            ),
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
