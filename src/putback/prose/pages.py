"""The prose of a guide, with the place of every word: passages of its pages, and the texts in its YAML files."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from putback.model.said import Said
from putback.source.late import Late
from putback.source.span import Span


class Stretch(NamedTuple):
    """Characters of a passage that stand side by side in the file as well."""

    offset: int
    """Offset of the first in the passage."""
    line: int
    """Its line in the file, from 1."""
    column: int
    """Its column, from 1."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A paragraph, a heading, a cell of a table, or a text of a YAML file, on one line."""

    path: str
    """The file, as shown."""
    text: str
    """Its characters, line breaks as spaces."""
    runs: tuple[Stretch, ...]
    """Where they stand."""
    whole: Span | None = None
    """The place of all of it, for when no closer one is known."""

    def span(self, start: int, end: int) -> Span:
        """Return the place in the file of the characters from `start` to before `end` (more than none)."""
        if not self.runs and self.whole is not None:
            return self.whole
        line, column = self._place(start)
        end_line, end_column = self._place(end - 1)
        return Span(self.path, line, column, end_line, end_column + 1)

    def _place(self, offset: int) -> tuple[int, int]:
        run = self.runs[max(0, bisect_right(self.runs, offset, key=lambda run: run.offset) - 1)]
        return run.line, run.column + offset - run.offset


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table."""

    cells: tuple[Passage, ...]
    """Its cells."""
    heads: tuple[str, ...] = ()
    """The heads of the columns, as far as there are any."""


@dataclass(frozen=True, slots=True)
class Prose:
    """What a reader reads of a page."""

    passages: list[Passage] = field(default_factory=list)
    """Paragraphs, items of lists and headings."""
    rows: list[TableRow] = field(default_factory=list)
    """Rows of tables, without their heads."""


def passage_of(said: Said) -> Passage:
    """Return what an author said with the place of every word; where escapes hide that, only the place of all of it."""
    raw, span = said.written, said.span
    style = raw[:1] if raw[:1] in ("'", '"', "|", ">") else ""
    position = raw.find("\n") + 1 if style in ("|", ">") else 0
    runs: list[Stretch] = []
    offset, line, line_start, counted = 0, span.line, 1 - span.column, 0
    for word in said.split():
        written = word.replace("'", "''") if style == "'" else word
        found = raw.find(written, position)
        if found < 0 or raw[position:found].strip(" \t\n'\""):
            return Passage(span.path, said, (), span)
        breaks = raw.count("\n", counted, found)
        if breaks:
            line += breaks
            line_start = raw.rfind("\n", 0, found) + 1
        counted = found
        runs.append(Stretch(offset, line, found - line_start + 1))
        position, offset = found + len(written), offset + len(word) + 1
    return Passage(span.path, said, tuple(runs), span)


_ALT = ":alt: "


def alternatives(path: str, page: str) -> Iterator[Passage]:
    """Yield what a page says for who cannot see its pictures: an option of a directive, on one line."""
    if _ALT in page:
        for number, line in enumerate(page.split("\n"), 1):
            if line.startswith(_ALT):
                yield Passage(path, line[len(_ALT) :], (Stretch(0, number, len(_ALT) + 1),))


_ROLE = Late(r"\{([a-z][\w:+.-]{0,40})\}`([^`\n]{0,200})`")
_MARKS = Late(r"\*\*|__|`|(?<![A-Za-z0-9])[*_]|[*_](?![A-Za-z0-9])|\\(?=[^A-Za-z0-9\s])")
_ENTITIES = {"&nbsp;": " ", "&middot;": "·", "&sdot;": "·", "&thinsp;": " ", "&ndash;": "–", "&plusmn;": "±"}
_ENTITY = Late("|".join(_ENTITIES))


def plain(text: str) -> str:
    """Return the words of a line of Markdown with each character in its place: marks and roles become spaces.

    A role that prints a machine's own torque says nothing by itself. Any other keeps what stands in it.
    """
    if "{" in text:
        text = _ROLE.sub(_role, text)
    if "&" in text:
        text = _ENTITY.sub(lambda found: _ENTITIES[found[0]].ljust(len(found[0])), text)
    return _MARKS.sub(lambda found: " " * len(found[0]), text)


def _role(found: re.Match[str]) -> str:
    name, content = found[1], found[2]
    if name.endswith("torque"):
        return " " * len(found[0])
    words, _, target = content.partition("<")
    shown = words if target and words.strip() else content.replace("-", " ")
    return (" " * (len(name) + 3) + shown).ljust(len(found[0]))
