"""The machinery of the bench page, in node: each check of each file."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from putback.sphinxext.lean import lean
from tests.bench_js.machinery import CHECKS, HARNESS, HERE, MACHINERY, ORDER, SCRIPTS
from tests.browser.conftest import missing


def in_node(*files: Path) -> list[tuple[str, str | None]]:
    """Return the name of each check, and what was wrong."""
    node = shutil.which("node")
    if node is None:
        missing("node")
    command = [node, str(HERE / "run.js"), *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return [(name, error) for name, error in json.loads(done.stdout)]


@pytest.mark.parametrize("checks", CHECKS, ids=lambda path: path.name)
def test_every_check_holds_in_node(checks: Path) -> None:
    results = in_node(*MACHINERY, *HARNESS, checks)
    assert len(results) == len(re.findall(r"^  check\(", checks.read_text("utf-8"), re.MULTILINE))
    assert [(name, error) for name, error in results if error] == []


def test_a_check_that_fails_is_seen(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.js"
    wrong.write_text('check("one", () => same(1, 2)); check("two", () => same([1], [1]));', "utf-8")
    [(one, error), two] = in_node(*HARNESS, wrong)
    assert (one, two) == ("one", ("two", None))
    assert error is not None
    assert "found 1 instead of 2" in error


def test_each_script_uses_only_those_loaded_before_it() -> None:
    offered: set[str] = set()
    for path in MACHINERY:
        text = path.read_text("utf-8")
        used = {name.strip().partition(":")[0] for names in re.findall(r"const \{([^}]*)\} = Putback;", text)
                for name in names.split(",")}  # fmt: skip
        assert used <= offered, path.name
        assert '"use strict";' in text
        offered |= set(re.findall(r"^  Putback\.(\w+) = ", text, re.MULTILINE))
    assert offered == set(ORDER)


def test_scripts_mean_the_same_without_their_comments(tmp_path: Path) -> None:
    written = tmp_path / "lean.js"
    written.write_text("".join(lean(path.read_text("utf-8")) for path in MACHINERY), "utf-8")
    assert not re.search(r"^(\s|//|/\*|$)", written.read_text("utf-8").rstrip("\n"), re.MULTILINE)
    [whole, shorter] = [in_node(*files, *HARNESS, *CHECKS) for files in (MACHINERY, [written])]
    assert shorter == whole


def test_no_script_has_a_text_over_several_lines() -> None:
    for path in SCRIPTS.glob("*.js"):
        for line in lean(path.read_text("utf-8")).splitlines():
            assert line.count("`") % 2 == 0, (path.name, line)


@pytest.mark.parametrize(
    ("script", "left"),
    [
        ("/* one */ two();\n  /* three */\n", "/* one */ two();\n"),
        ("  a();\n\n  /* b\n   * c\n   */\n  // d\n  e(); // f\n", "a();\ne(); // f\n"),
        ('x("/* y */");\n', 'x("/* y */");\n'),
    ],
)
def test_only_comments_with_lines_of_their_own_are_left_out(script: str, left: str) -> None:
    assert lean(script) == left


RECORD_PAGE = Path(__file__).parents[2] / "docs" / "reference" / "bench-record.md"


def test_the_record_that_the_documentation_shows_is_read_whole(tmp_path: Path) -> None:
    page = RECORD_PAGE.read_text("utf-8")
    [shown] = re.findall(r"^```json\n(.*?)^```", page, re.MULTILINE | re.DOTALL)
    script = tmp_path / "shown.js"
    script.write_text(
        f"const text = {json.dumps(shown)}; const found = Putback.record.fromText(text);"
        "check(JSON.stringify(found), () => {});",
        "utf-8",
    )
    [(read, _)] = in_node(*MACHINERY, *HARNESS, script)
    found, given = json.loads(read), json.loads(shown)
    assert found["ok"]
    marks = found["record"]["marks"]
    assert {**found["record"], "marks": {kind: marks[kind] for kind in marks if marks[kind]}} == given
    described = re.findall(r"^\| `(\w+)` \|", page.partition("| kind |")[2].partition("\n\n")[0], re.MULTILINE)
    assert sorted(described) == sorted(marks)


UNWANTED = re.compile(r"\b(document|navigator|fetch|eval|import|innerHTML|localStorage|XMLHttpRequest|Function\()")


def test_no_script_of_the_machinery_touches_the_page_or_the_network() -> None:
    for path in MACHINERY:
        code = re.sub(r"/\*.*?\*/|//[^\n]*", "", path.read_text("utf-8"), flags=re.DOTALL)
        assert UNWANTED.findall(code) == [], path.name
    assert UNWANTED.findall("window.localStorage")


def test_no_script_is_longer_than_a_module_may_be() -> None:
    assert [path.name for path in SCRIPTS.glob("*.js") if len(path.read_text("utf-8").splitlines()) > 300] == []
