"""The caret notation: how an example is taken apart, and how it is run."""

from __future__ import annotations

import pytest

from putback.lint.run import check_guide
from putback.testing import assert_example
from putback.testing.examples import BENCH, JOB, Caret, marks_of, parse_example, run_example


def test_carets_mark_a_place_and_the_rest_is_the_message() -> None:
    example = parse_example("""
steps:
  - remove: cover-screws
            ^^^^^^^^^^^^ six cover screws come off and never go back
  - inspect: belt
""")
    assert example.files == {JOB: "steps:\n  - remove: cover-screws\n  - inspect: belt\njob: Example\n"}
    assert example.marks == [Caret(JOB, 2, 13, 25, "six cover screws come off and never go back")]


def test_several_marks_under_one_line() -> None:
    example = parse_example("steps:\n  - set: tap\n    ^^^ one\n         ^^^ [control-not-returned] two\n")
    assert example.marks == [Caret(JOB, 2, 5, 8, "one"), Caret(JOB, 2, 10, 13, "two", "control-not-returned")]


def test_a_mark_may_belong_to_another_check() -> None:
    (mark,) = parse_example("job: x\n^^^ [not-there] [it] is off\n").marks
    assert (mark.check, mark.message) == ("not-there", "[it] is off")


def test_other_files_and_files_that_are_absent() -> None:
    example = parse_example("""
# machine.yaml
machine: Pump
^^^^^^^ one
# cautions.yaml absent
# guide.yaml absent
^ two
# blocks/look.yaml
block: Look
""")
    assert example.files == {"machine.yaml": "machine: Pump\n", "blocks/look.yaml": "block: Look\n"}
    assert example.absent == ["cautions.yaml", "guide.yaml"]
    assert example.marks == [Caret("machine.yaml", 1, 1, 8, "one"), Caret("guide.yaml", 1, 1, 2, "two")]


def test_a_remark_in_front_of_a_file_is_no_job() -> None:
    example = parse_example("# About this case.\n# machine.yaml\nmachine: Pump\n")
    assert example.files == {"machine.yaml": "machine: Pump\n"}


def test_a_remark_in_a_file_keeps_its_line() -> None:
    example = parse_example("# machine.yaml\n# A remark.\nmachine: Pump\n         ^^^^ one\n")
    assert example.files == {"machine.yaml": "# A remark.\nmachine: Pump\n"}
    assert example.marks[0].line == 2


def test_a_job_with_a_title_keeps_it() -> None:
    assert parse_example("job: Mine\nsteps: []\n").files[JOB] == "job: Mine\nsteps: []\n"


def test_a_mark_above_the_first_line_is_for_the_whole_file() -> None:
    [mark] = parse_example("^ this file is not read\njob: Extra\n").marks
    assert (mark.line, mark.column, mark.end_column) == (1, 1, 2)


def test_a_longer_mark_a_shorter_one_and_another_line_are_other_marks() -> None:
    found = marks_of(run_example(parse_example("steps:\n  - clean: beltt\n")), "unknown-name")
    text = "steps:\n  - clean: beltt\n           {} nothing is called 'beltt'\n"
    assert parse_example(text.format("^^^^^")).marks == found
    assert parse_example(text.format("^^^^")).marks != found
    assert parse_example(text.format("^^^^^^")).marks != found
    assert parse_example(text.replace("   {}", "  {}").format("^^^^^")).marks != found
    assert parse_example(text.format("^^^^^") + "\n").marks == found


def test_findings_as_marks_name_their_check_but_the_expected_one() -> None:
    findings = run_example(parse_example("steps:\n  - clean: beltt\n"))
    assert [mark.check for mark in marks_of(findings, "unknown-name")] == [None]
    assert [mark.check for mark in marks_of(findings)] == ["unknown-name"]


def test_a_place_over_several_lines_is_marked_at_its_start() -> None:
    findings = run_example(parse_example("steps:\n  - clean: belt\n    count:\n      - 1\n      - 2\n"))
    assert [(mark.line, mark.column) for mark in marks_of(findings)] == [(3, 5)]


def test_the_bench_is_a_whole_guide_with_its_own_library() -> None:
    assert run_example(parse_example("steps:\n  - clean: belt\n")) == []
    assert (BENCH / "images" / "belt-guard.svg").is_file()


def test_an_example_leaves_the_bench_as_it_is() -> None:
    before = {path: path.read_bytes() for path in BENCH.rglob("*") if path.is_file()}
    run_example(parse_example("# machine.yaml\nmachine: Other\n# guide.yaml absent\n"))
    assert {path: path.read_bytes() for path in BENCH.rglob("*") if path.is_file()} == before
    assert check_guide(BENCH)[0].machine is not None


def test_what_is_told_of_an_unmarked_finding_can_be_pasted() -> None:
    text = "steps:\n  - remove: guard-bolts\n    count: two\n"
    with pytest.raises(AssertionError) as told:
        assert_example(text, "wrong-shape")
    (line,) = [line for line in str(told.value).splitlines() if line.lstrip().startswith("^")]
    assert line.startswith(" " * 11 + "^^^ ")
    assert_example(text + line + "\n", "wrong-shape")


LOOSE = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
             ^^^^^^^^^^^ two guard bolts go in hand-tight and are never tightened
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


@pytest.mark.parametrize(
    ("line", "mark", "wrong"),
    [
        (3, "           ^^^^^^^^^^^ hint: add 'tighten: guard-bolts' after 'install: guard-bolts' in line 3", "line 2"),
        (2, "          ^^^^^^^^^^^ also: taken out here", "put in here"),
    ],
)
def test_what_is_said_besides_is_marked_where_an_example_is_about_it(line: int, mark: str, wrong: str) -> None:
    assert_example(LOOSE, "left-loose")
    lines = LOOSE.splitlines(keepends=True)
    text = "".join([*lines[: line + 1 + (line == 3)], f"  {mark}\n", *lines[line + 1 + (line == 3) :]])
    assert_example(text, "left-loose")
    with pytest.raises(AssertionError) as told:
        assert_example(text.replace(mark[-6:], wrong), "left-loose")
    assert [said[:17] for said in str(told.value).splitlines()[1:3]] == ["marked, not found", "found, not marked"]
    assert f"  {mark}" in str(told.value).splitlines()
