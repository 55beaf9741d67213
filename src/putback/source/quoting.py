"""Words of a file as a message quotes them: on one line, not too long, with what cannot be seen written out."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate

from putback.source.characters import visible

_LONGEST = 40
"""Characters of a value that a message quotes."""
SENTENCE = 200
"""Characters of a sentence, where a message is about its words."""


def short(written: str, longest: int = _LONGEST) -> str:
    """Return a text on one line, cut when it is long, as it is seen."""
    line = " ".join(written.split())
    shown = visible(line if len(line) <= longest else f"{line[: longest - 1]}…")
    if len(shown) <= 2 * longest:
        return shown
    # Much of it cannot be seen, and is written out.
    pieces = [visible(character) for character in line[:longest]]
    room = [*accumulate(map(len, pieces))]
    return "".join(piece for piece, reached in zip(pieces, room, strict=True) if reached < longest) + "…"


def quote(written: str, longest: int = _LONGEST) -> str:
    """Return a text in quotes, on one line, cut when it is long."""
    return f"'{short(written, longest)}'"


def quoted(words: Iterable[str]) -> str:
    """Return words in quotes as a list in a sentence: `'a', 'b' and 'c'`."""
    shown = [quote(word) for word in words]
    return f"{', '.join(shown[:-1])} and {shown[-1]}" if len(shown) > 1 else "".join(shown)
