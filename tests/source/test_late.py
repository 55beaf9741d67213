"""Patterns that are compiled late."""

from __future__ import annotations

import re

from putback.source.late import Late


def test_a_pattern_is_compiled_when_it_is_first_used() -> None:
    late = Late("[a-z]+", re.IGNORECASE)
    assert "ready" not in vars(late)
    found = late.search("12 Ab")
    assert found is not None
    assert found[0] == "Ab"
    assert "ready" in vars(late)


def test_it_does_what_a_pattern_does() -> None:
    late, plain = Late("b+"), re.compile("b+")
    text = "abba b"
    assert [m.span() for m in late.finditer(text)] == [m.span() for m in plain.finditer(text)]
    assert late.sub("c", text) == plain.sub("c", text)
    assert late.subn("c", text) == plain.subn("c", text)
    assert late.match(text, 1) is not None
    assert late.match(text) is None
    assert late.fullmatch(text, 1, 3) is not None
    assert late.search(text, 3, 5) is None
