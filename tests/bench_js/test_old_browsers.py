"""The scripts of the page run on old tablets, too: one word that a browser cannot read takes all of them away."""

from __future__ import annotations

import re

import pytest

from putback.sphinxext import live

YOUNG = re.compile(
    r"\(\?<[=!]|\?\?=|\|\|=|&&=|\.at\(|\.replaceAll\(|\.findLast|Object\.hasOwn\(|structuredClone|static \{"
)
"""Look-behind came to Safari in 2023, the others in 2021 or later."""


@pytest.mark.parametrize("module", live.MODULES)
def test_no_script_has_what_an_old_browser_cannot_read(module: str) -> None:
    text = (live._SOURCES / f"{module}.js").read_text("utf-8")
    assert YOUNG.findall(text) == []


def test_what_is_too_young_is_seen() -> None:
    assert YOUNG.findall(r"/(?<![a-z])x/; list.at(-1)") == ["(?<!", ".at("]
