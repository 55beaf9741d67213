"""Each promise of the page on security is held by tests that are there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "reference" / "security.md"

_NAMED = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")
_PROMISE = re.compile(r"^- \*\*.*?(?=^- |^\n|^#|\Z)", re.DOTALL | re.MULTILINE)


def promises() -> list[str]:
    """Return the promises of the page: the points of its first two lists."""
    text = PAGE.read_text(encoding="utf-8").partition("## What is not promised")[0]
    return [" ".join(found[0].split()) for found in _PROMISE.finditer(text)]


def lacking(text: str) -> list[str]:
    """Return the tests that a text names and that are not there."""
    return [
        f"{file}::{name}"
        for file, name in _NAMED.findall(text)
        if not (ROOT / file).is_file()
        or not re.search(rf"^def {name}\(", (ROOT / file).read_text(encoding="utf-8"), re.MULTILINE)
    ]


@pytest.mark.parametrize("promise", promises(), ids=lambda promise: promise.partition("**")[2].partition("**")[0])
def test_a_promise_names_its_test(promise: str) -> None:
    assert _NAMED.search(promise), "name the test that holds it: `tests/FILE.py::test_NAME`"


def test_each_named_test_is_there() -> None:
    assert lacking(PAGE.read_text(encoding="utf-8")) == []


def test_there_are_promises_and_one_that_lies_is_seen() -> None:
    assert len(promises()) >= 15
    assert lacking("`tests/test_none.py::test_x` `tests/test_cli.py::test_none`") == [
        "tests/test_none.py::test_x",
        "tests/test_cli.py::test_none",
    ]
