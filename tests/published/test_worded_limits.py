"""Words that say nothing are told from words that say something, and what is measured is known by its name.

The lists under limits/ are what manuals print. What is measured: `python -m tests.published.worded_limits`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.published.worded_limits import Named, Words, read_named, read_words, report

PAGE = (Path(__file__).parents[2] / "docs" / "why" / "numbers.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("words", [each for each in read_words() if not each.empty], ids=lambda words: words.limit)
def test_what_says_something_is_never_called_empty(words: Words) -> None:
    assert words.right


def test_nearly_all_that_says_nothing_is_found() -> None:
    empty = [each for each in read_words() if each.empty]
    assert sum(each.right for each in empty) / len(empty) >= 0.95


@pytest.mark.parametrize("named", read_named(), ids=lambda named: named.words)
def test_no_measure_is_called_wrong(named: Named) -> None:
    assert not named.wronged


def test_nearly_all_that_is_measured_is_known() -> None:
    names = read_named()
    assert sum(each.right for each in names) / len(names) >= 0.95


def test_the_page_has_what_is_measured_today() -> None:
    assert report() in PAGE
