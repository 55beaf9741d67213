"""DEVELOPERS.md is true to the letter: its stages, its paths, its commands, its calls and its limits are there."""

from __future__ import annotations

import importlib
import importlib.util
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import putback
from tests import test_house
from tests.guard import assert_none
from tests.pasted import ROOT
from tests.test_layers import ORDER

PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
SRC = Path(putback.__file__).parent
LARGE = {"NAME", "NNNN", "STAGE", "FOLDER", "NUMBER", "GUIDE"}
"""Words that stand for something in a path."""


def section(heading: str) -> str:
    """Return what is under a heading, down to the next of its kind."""
    found = PAGE.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    assert found, heading
    return found


def code() -> Iterator[str]:
    """Yield all code of the page: between back-quotes, and the lines that are indented by four and more."""
    plain = re.sub(r"^```.*?^```$", "", PAGE, flags=re.DOTALL | re.MULTILINE)
    yield from (line.strip() for line in re.findall(r"^ {4,}(?![-|])(\S.*)$", plain, re.MULTILINE) if line[0] != "`")
    yield from re.findall(r"`([^`\n]+)`", plain)


def test_the_table_of_stages_is_that_of_the_command() -> None:
    command = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    everything = re.search(r"^ALL=\(([a-z ]+)\)$", command, re.MULTILINE)
    known = re.search(r"^NAMED=\(([a-z ]+)\)", command, re.MULTILINE)
    assert everything is not None
    assert known is not None
    rows = re.findall(r"^\| `([a-z]+)` \| (.*) \|$", section("Set up"), re.MULTILINE)
    assert [name for name, _ in rows] == [*everything[1].split(), *known[1].split()]
    assert [name for name, does in rows if does.startswith("only when you name it")] == known[1].split()


def test_the_folders_are_in_the_order_that_is_held() -> None:
    table = section("Where things are").partition("\nOutside `src`:")[0]
    names = re.findall(r"`([a-z]+)/`", "\n".join(re.findall(r"^\| (.*?) \|", table, re.MULTILINE)))
    assert names == ORDER


def paths() -> Iterator[str]:
    """Yield what looks like a path: with a stroke or the ending of a file, and no other signs."""
    for words in code():
        for word in words.split() if not words.startswith("#") else ():
            looks = re.fullmatch(r"\.?[\w-]+(/[\w.-]+)*(/|\.(py|md|yaml|json|typ|html))", word)
            if looks and not LARGE & set(re.split(r"[/.]", word)) and "your" not in word:
                yield word


def is_there(path: str) -> bool:
    """Tell whether a path is one of the tree: from its top, or from one of the folders that the page is about."""
    tops = [ROOT / top for top in ("", "docs", "tests", "tests/published")]
    tops += [SRC / folder for folder in ("", "checks", "lint", "model", "sphinxext", "typstpdf")]
    return any((top / path).exists() for top in tops)


def test_every_path_is_there() -> None:
    found = set(paths())
    assert len(found) > 60
    assert_none(sorted(path for path in found if not is_there(path)), "DEVELOPERS.md names what is not there")


def test_every_command_has_what_it_names() -> None:
    tried = []
    for words in code():
        parts = [part for part in shlex.split(words, comments=True) if part not in ("...", "…", "&&", "<", ">")]
        if parts[:1] == ["pytest"] and len(parts) > 1:
            files = [part for part in parts[1:] if part.startswith("tests")]
            tried += [(words, (ROOT / file).exists()) for file in files]
        elif parts[:2] == ["python", "-m"]:
            tried.append((words, importlib.util.find_spec(parts[2]) is not None))
        elif parts[:1] == ["python"] and len(parts) > 1:
            tried.append((words, (ROOT / parts[1]).is_file()))
    assert len(tried) > 12
    assert_none([words for words, good in tried if not good], "these commands of DEVELOPERS.md name what is not there")


def test_k_finds_a_check_by_its_name_and_by_its_file() -> None:
    collect = [sys.executable, "-m", "pytest", "--collect-only", "-q", "-p", "no:cacheprovider", "tests/test_checks.py"]
    listed = []
    for name in ("unknown-tool", "unknown_tool"):
        ran = subprocess.run([*collect, "-k", name], cwd=ROOT, capture_output=True, text=True, check=True)
        listed.append(ran.stdout.splitlines())
    tests = [[line for line in lines if "::" in line] for lines in listed]
    assert tests[0] == tests[1]
    assert any("[unknown-tool/in-a-list]" in line for line in tests[0])


def resolved(call: str) -> object:
    """Return what a call of the table names: `guide.reading.read_guide(folder)`, `Book.before`."""
    names = call.partition("(")[0].split(".")
    homes = {"Book": "ledger.book", "Graph": "variants.graph", "Opened": "ledger.opened"}
    if names[0] in homes:
        names = [*homes[names[0]].split("."), *names]
    cut = next((at for at in range(len(names) - 1, 0, -1) if is_module(names[:at])), 1)
    found: object = importlib.import_module(".".join(["putback", *names[:cut]]))
    for name in names[cut:]:
        found = getattr(found, name, None) or getattr(found, "__annotations__", {})[name]
    return found


def is_module(names: list[str]) -> bool:
    return (SRC.joinpath(*names) / "__init__.py").is_file() or SRC.joinpath(*names).with_suffix(".py").is_file()


def calls() -> list[str]:
    found = []
    for row in re.findall(r"^\| (`[^|]*) \|", section("What the core answers"), re.MULTILINE):
        first, *others = re.findall(r"`([^`]+)`", row)
        home = first.partition("(")[0].rpartition(".")[0]
        found += [first, *(other if "." in other.partition("(")[0] else f"{home}.{other}" for other in others)]
    return [call for call in found if "." in call and call.partition(".")[0] in {"Book", "Graph", "Opened", *layers()}]


def layers() -> set[str]:
    return {path.name for path in SRC.iterdir() if path.is_dir()}


@pytest.mark.parametrize("call", calls())
def test_a_call_is_there(call: str) -> None:
    assert resolved(call) is not None


def test_the_limits_of_the_house_are_those_that_are_held() -> None:
    rule = re.search(r"at most (\d+) lines and a check (\d+); a function has fewer than (\d+),", section("House rules"))
    assert rule is not None
    held = (test_house.LONGEST_MODULE, test_house.LONGEST_CHECK, test_house.LONGEST_FUNCTION + 1)
    assert tuple(map(int, rule.groups())) == held
    assert set(re.findall(r"\b(?:utils|helpers|common|base|misc)\b", section("House rules"))) <= test_house.VAGUE
