"""Places in a file."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple


@lru_cache(maxsize=8)
def _lines(text: str) -> tuple[str, ...]:
    """The lines of a file: asked for many places of it in a row."""
    return tuple(text.split("\n"))


class Span(NamedTuple):
    """A run of characters in one file. Lines and columns count from 1; the end column is exclusive."""

    path: str
    """The file as the user would name it."""
    line: int
    """First line."""
    column: int
    """First column, in characters."""
    end_line: int
    """Last line."""
    end_column: int
    """The column just after the last character."""

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"

    def cut(self, text: str) -> str:
        """Return the part of `text` (the whole file) that this span covers."""
        lines = list(_lines(text)[self.line - 1 : self.end_line])
        if not lines:
            return ""
        lines[-1] = lines[-1][: self.end_column - 1]
        lines[0] = lines[0][self.column - 1 :]
        return "\n".join(lines)


def top_of(path: str) -> Span:
    """Return the first character of a file: the place of a fault that concerns all of it."""
    return Span(path, 1, 1, 1, 2)
