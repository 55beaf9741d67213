"""What the documentation quotes from the page of a job stands there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

import pytest

from putback.words import labels_for
from tests.pasted import ROOT


def texts(value: Any) -> Iterator[str]:
    """Yield every text in a value."""
    if isinstance(value, str):
        yield value.lower()
    elif isinstance(value, dict | list | tuple):
        for each in value.values() if isinstance(value, dict) else value:
            yield from texts(each)


@pytest.mark.parametrize("page", ["tasks/at-the-bench.md", "reference/bench-record.md"])
def test_what_is_quoted_from_the_page_of_a_job_stands_there(page: str) -> None:
    said = list(texts(asdict(labels_for("en").at_bench)))
    text = re.sub(r"^```.*?^```", "", (ROOT / "docs" / page).read_text("utf-8"), flags=re.MULTILINE | re.DOTALL)
    quoted = re.findall(r'"([A-Za-z ]+)"', re.sub(r"`[^`]*`", "", text))
    assert quoted
    assert [words for words in quoted if not any(words.lower() in each for each in said)] == []
