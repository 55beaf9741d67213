"""Words of a file as a message quotes them: on one line, not too long, with what cannot be seen written out."""

from __future__ import annotations

from collections.abc import Iterable

from putback.characters import visible

_LONGEST = 40
"""Characters of a value that a message quotes."""


def short(written: str) -> str:
    """Return a text on one line, cut when it is long."""
    line = " ".join(written.split())
    return visible(line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…")


def quote(written: str) -> str:
    """Return a text in quotes, on one line, cut when it is long."""
    return f"'{short(written)}'"


def quoted(words: Iterable[str]) -> str:
    """Return words in quotes as a list in a sentence: `'a', 'b' and 'c'`."""
    shown = [quote(word) for word in words]
    return f"{', '.join(shown[:-1])} and {shown[-1]}" if len(shown) > 1 else "".join(shown)
