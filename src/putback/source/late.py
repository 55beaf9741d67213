"""Patterns that are compiled when they are first used.

Most runs need few of them, and compiling all of them took a fifth of the time of a small check.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Any


class Late:
    """A regular expression, compiled when it is first used."""

    def __init__(self, pattern: str, flags: int = 0) -> None:
        self.pattern = pattern
        self.flags = flags

    @cached_property
    def ready(self) -> re.Pattern[str]:
        """The compiled pattern."""
        return re.compile(self.pattern, self.flags)

    def match(self, text: str, start: int = 0) -> re.Match[str] | None:
        """Match at a place."""
        return self.ready.match(text, start)

    def fullmatch(self, text: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        """Match the whole text."""
        return self.ready.fullmatch(text, start, end)

    def search(self, text: str, start: int = 0, end: int = sys.maxsize) -> re.Match[str] | None:
        """Find the first match between two places."""
        return self.ready.search(text, start, end)

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Find all matches."""
        return self.ready.finditer(text)

    def findall(self, text: str) -> list[Any]:
        """Return all that matches: the texts, or the groups in them."""
        return self.ready.findall(text)

    def split(self, text: str) -> list[str | Any]:
        """Return what stands between the matches."""
        return self.ready.split(text)

    def sub(self, instead: str | Callable[[re.Match[str]], str], text: str) -> str:
        """Replace all matches."""
        return self.ready.sub(instead, text)

    def subn(self, instead: str, text: str) -> tuple[str, int]:
        """Replace all matches, and count them."""
        return self.ready.subn(instead, text)
