"""What a terminal, a reader or a CI platform would obey is written out."""

from __future__ import annotations

import pytest

from putback.source.plainly import printable


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("::error::lid", r"\x3a:error::lid"), (" ::stop::", r" \x3a:stop::"), ("lid ::b", "lid ::b"),
        ("##vso[task]", r"#\x23vso[task]"), ("lid ##[group]", r"lid #\x23[group]"), ("## lid", "## lid"),
    ],
)  # fmt: skip
def test_a_text_gives_no_command_to_a_ci_platform(text: str, shown: str) -> None:
    assert printable(text) == shown
