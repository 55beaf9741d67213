"""The lines of the files in which something was found."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from putback.source.intake import NotReadError, take


def source_lines(path: str) -> tuple[str, ...]:
    """Return the lines of a file; none when it cannot be read as text."""
    try:
        return _lines(path, Path(path).stat().st_mtime_ns)
    except (OSError, ValueError):  # ValueError: of a name that no file can have
        return ()


@lru_cache(maxsize=64)
def _lines(path: str, changed: int) -> tuple[str, ...]:
    del changed  # part of the key: a file that was saved meanwhile is read again
    try:
        text = take(Path(path)).decode("utf-8-sig", errors="replace")
    except NotReadError:
        return ()
    return tuple(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
