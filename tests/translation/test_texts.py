"""Tests of what a translator is given."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from putback.guide.reading import read_guide
from putback.source.schema import FileKind, document
from putback.translation.state import wordings_of
from putback.translation.wording import WORDS
from tests.print import every_key

SCHEMAS = [document(f"{kind}.schema.json") for kind in (*FileKind, "words")]


def enums(node: Any, key: str = "") -> Iterator[tuple[str, str]]:
    """Yield the values that the schemas allow for a key, where they are a list."""
    if isinstance(node, dict):
        yield from ((key, str(value)) for value in node.get("enum", ()))
        for name, inner in node.items():
            for inner_key, value in inner.items() if name == "properties" and isinstance(inner, dict) else ():
                yield from enums(value, inner_key)
            if name != "properties":
                yield from enums(inner, key)
    elif isinstance(node, list):
        for inner in node:
            yield from enums(inner, key)


@pytest.fixture
def press(tmp_path: Path) -> Path:
    return every_key.write(tmp_path)


def test_words_that_the_language_of_guides_has_are_no_texts(press: Path) -> None:
    known = set(enums(SCHEMAS))
    assert ("judge", "largest") in known
    texts = wordings_of(read_guide(press))
    assert [key for key in texts if key.context != WORDS and (key.context.split(".")[-1], key.text) in known] == []


def test_numbers_threads_and_figures_are_no_texts(press: Path) -> None:
    machine = json.dumps([key.text for key in wordings_of(read_guide(press))])
    for text in ("M6 x 1.0", "2026-03-14", "hex 10 mm", "en-GB"):
        assert f'"{text}"' not in machine


def test_every_text_has_a_note_and_a_place(press: Path) -> None:
    for wording in wordings_of(read_guide(press)).values():
        assert wording.note, wording.context
        assert wording.spans
