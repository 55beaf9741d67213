"""Words of the language that have another name now, as `docs/changes/renames.tsv` lists them.

Read only when a file has a word that nobody knows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple


class Rename(NamedTuple):
    """A word that has another name now."""

    where: str
    """The kind of the file (`machine`, `job`, …), or `step`, `verb`, `file`, `check`."""
    at: str
    """The mapping that a key stands in, from the top of the file: `fasteners/*`; empty for the file itself."""
    was: str
    """The old word."""
    now: str
    """The new one."""


def new_name(where: str, word: str, place: Sequence[str | int] = ()) -> str | None:
    """Return what an old word is called now; None for a word that has no other name.

    `place` is the mapping that a key stands in, from the top of the file.
    """
    return next((now for at, now in _renames().get((where, word.casefold()), ()) if _is_at(place, at)), None)


def now_called(word: str, now: str) -> str:
    """Return what is told of an old word: `'angle' is now called 'wrench-angle'`."""
    return f"'{word}' is now called '{now}'"


def _is_at(place: Sequence[str | int], at: str) -> bool:
    wanted = at.split("/") if at else []
    return len(wanted) == len(place) and all(each in ("*", name) for each, name in zip(wanted, place, strict=True))


@cache
def _renames() -> Mapping[tuple[str, str], list[tuple[str, str]]]:
    found: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for rename in all_renames():
        found.setdefault((rename.where, rename.was), []).append((rename.at, rename.now))
    return found


def all_renames() -> list[Rename]:
    """Return all lines of the list."""
    lines = _list().read_text(encoding="utf-8").splitlines()
    return [Rename(*line.split("\t")) for line in lines if line and not line.startswith("#")]


def _list() -> Path:
    package = Path(__file__).resolve().parents[1]
    inside = package / "_shipped" / "renames.tsv"
    return inside if inside.is_file() else package.parents[1] / "docs" / "changes" / "renames.tsv"
