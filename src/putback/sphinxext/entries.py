"""What is laid out before a job, by the names of the library."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from putback.model.library import Equipment, Tool
from putback.model.machine import Fastener
from putback.sheet import LaidOut, SecondTool
from putback.words import Language

_E = TypeVar("_E", Equipment, Tool)


def entries(
    laid_out: Sequence[LaidOut[str]], known: Mapping[str, _E], told: Callable[[_E], str], words: Language
) -> list[str]:
    """Return names of the library with what is known of each, and the variants and branches that need it."""
    named = {entry.name: entry for entry in known.values()}
    drives = {thing.drive for thing in words.things.values() if isinstance(thing, Fastener)}

    def name(what: str) -> str:
        if what in named:
            return told(named[what])
        return words.tool_for(what) if what in drives else what

    def full(what: str) -> str:
        return words.second_tool(name(str(what))) if isinstance(what, SecondTool) else name(what)

    return [words.row(full(row.what), row.when, row.only_if) for row in laid_out]
