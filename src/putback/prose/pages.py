"""The prose of a guide, with the place of every word: its Markdown pages, and the texts in its YAML files.

Of a page, what a reader reads as sentences and tables is kept. Code, front matter, comments, the options of directives
and what directives draw themselves are left out. A page is read line by line, once: whatever is in it, that takes a
time that grows with its length and no faster, and nothing is raised.
"""

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
class Row:
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
    rows: list[Row] = field(default_factory=list)
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


# Pages

_FENCE = Late(r"[ \t>]*+(`{3,}|~{3,}|:{3,})[ \t]*(?:\{([^}\s]{1,60})\})?")
_READ_OUT = frozenset({
    "admonition", "attention", "caution", "danger", "error", "hint", "important", "note", "seealso", "tip", "warning",
    "figure", "sidebar", "topic", "epigraph", "table", "list-table", "versionadded", "versionchanged", "glossary",
    "div", "dropdown", "card", "grid", "grid-item", "tab-item", "tab-set", "only",
})  # fmt: skip
"""Directives whose content is prose."""
_NO_TITLE = frozenset({"figure", "div", "only"})
"""Those of them whose first line is no prose."""
_OPTION = Late(r"[ \t]*:[A-Za-z][\w-]{0,40}:(?:\s|$)")
_BLOCK = Late(r"[ \t>]*+(#{1,6}[ \t]|[-*+][ \t]|[0-9]{1,9}[.)][ \t]|:[ \t])?[ \t]*")
_RULE = Late(r"[ \t]*(?:=+|-+|\*{3,}|_{3,})[ \t]*$")
_CODE = Late(r"(?: {4}|\t)")
_CELL = Late(r"[ \t]*([*-][ \t]+)?(-[ \t]+)?")


class _Open(NamedTuple):
    """A fence that is not closed yet."""

    mark: str
    """The character that it is made of."""
    length: int
    prose: bool
    """Whether its content is read."""
    rows: bool
    """Whether it is a table written as a list."""


class _Pages:
    """Goes through the lines of one page."""

    def __init__(self, path: str, text: str) -> None:
        self.path = path
        self.lines = text.split("\n")
        self.prose = Prose()
        self.paragraph: list[tuple[int, int, str]] = []
        self.row: list[tuple[int, int, str]] = []
        self.fences: list[_Open] = []
        self.heads: tuple[str, ...] | None = None
        self.in_list = False

    def read(self) -> Prose:
        number, options, yaml, comment = self.front_matter(), False, False, False
        while number < len(self.lines):
            line = self.lines[number]
            number += 1
            fence = _FENCE.match(line)
            if self.fences and not self.fences[-1].prose:
                if fence:
                    self.at_fence(number, line, fence)
            elif comment or line.lstrip().startswith("<!--"):
                self.end()
                comment = "-->" not in line
            elif yaml:
                yaml = line.strip() != "---"
            elif fence:
                options = self.at_fence(number, line, fence)
            elif options and line.strip() == "---":
                options, yaml = False, True
            elif options and _OPTION.match(line):
                continue
            else:
                options = False
                self.at_line(number, line)
        self.end()
        return self.prose

    def front_matter(self) -> int:
        if self.lines[0].rstrip() != "---":
            return 0
        for number, line in enumerate(self.lines[1:], 2):
            if line.rstrip() in ("---", "..."):
                return number
        return 1

    def at_fence(self, number: int, line: str, fence: re.Match[str]) -> bool:
        """Open or close a fence; tell whether options can follow."""
        mark, length = fence[1][0], len(fence[1])
        top = self.fences[-1] if self.fences else None
        if top and top.mark == mark and length >= top.length and not line[fence.end() :].strip() and not fence[2]:
            self.end()
            self.fences.pop()
            return False
        if top and not top.prose:
            return False
        if mark == "`" and "`" in line[fence.end(1) :]:  # a code span at the start of a line
            return False
        self.end()
        title = line[fence.end() :].strip()
        # `::: note` is a division of the class `note`.
        name = fence[2] or (title if mark == ":" else "")
        prose = name in _READ_OUT
        self.fences.append(_Open(mark, length, prose, name == "list-table"))
        if prose and fence[2] and title and name not in _NO_TITLE:
            self.paragraph.append((number, line.index(title, fence.end()), title))
            self.end()
        return True

    def at_line(self, number: int, line: str) -> None:
        if not line.strip():
            self.end()
            return
        if line.startswith("%") or (line.startswith("(") and line.rstrip().endswith(")=")):
            self.end()
            return
        if self.fences and self.fences[-1].rows:
            self.at_list_row(number, line)
            return
        if self.heads is not None:
            self.prose.rows.append(Row(tuple(self.cells(number, line)), self.heads))
            return
        under = "|" in line and "-" in line and not set(line) - set("|:- \t>")
        if under and self.paragraph and "|" in self.paragraph[-1][2]:
            head_number, _, _ = self.paragraph.pop()
            cells = self.cells(head_number, self.lines[head_number - 1])
            self.end()
            self.heads = tuple(cell.text for cell in cells)
            return
        block = _BLOCK.match(line)
        if _RULE.match(line):
            self.end()
            return
        if not self.paragraph and not self.in_list and _CODE.match(line):
            return
        start = block.end() if block else 0
        if block and block[1]:
            self.end()
            self.in_list = block[1][0] != "#"
        elif not self.paragraph and line[0] not in " \t":
            self.in_list = False
        self.paragraph.append((number, start, line[start:].rstrip()))
        if block and block[1] and block[1][0] == "#":
            self.end()

    def at_list_row(self, number: int, line: str) -> None:
        """A row of a list-table begins with `*`, a cell with `-`."""
        cell = _CELL.match(line)
        start = cell.end() if cell else 0
        if cell and cell[1] and cell[1][0] == "*":
            self.end()
        new = bool(cell and (cell[1] or cell[2]))
        self.row.append((number, start, ("\n" if new else "") + line[start:].rstrip()))

    def end(self) -> None:
        """Close the paragraph or the row that is open."""
        if self.paragraph:
            self.prose.passages.append(self.made(self.paragraph))
            self.paragraph = []
        if self.row:
            cells: list[list[tuple[int, int, str]]] = []
            for number, start, text in self.row:
                if text.startswith("\n") or not cells:
                    cells.append([])
                cells[-1].append((number, start, text.removeprefix("\n")))
            self.prose.rows.append(Row(tuple(self.made(cell) for cell in cells)))
            self.row = []
        self.heads = None

    def made(self, pieces: list[tuple[int, int, str]]) -> Passage:
        runs, offset = [], 0
        for number, start, text in pieces:
            runs.append(Stretch(offset, number, start + 1))
            offset += len(text) + 1
        return Passage(self.path, plain(" ".join(text for _, _, text in pieces)), tuple(runs))

    def cells(self, number: int, line: str) -> Iterator[Passage]:
        """Yield the cells of a row, parted by `|`; `\\|` is a stroke in a cell."""
        start = len(line) - len(line.lstrip(" \t>"))
        start += line.startswith("|", start)
        end = len(line.rstrip())
        if line.endswith("|", start, end) and not line.endswith("\\|", start, end):
            end -= 1
        while start <= end:
            stroke = line.find("|", start, end)
            while stroke > 0 and line[stroke - 1] == "\\":
                stroke = line.find("|", stroke + 1, end)
            stop = end if stroke < 0 else stroke
            text = line[start:stop]
            lead = len(text) - len(text.lstrip())
            yield self.made([(number, start + lead, text.strip())])
            start = stop + 1


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


def read_page(path: str, text: str) -> Prose:
    """Return the prose of a Markdown page, given with line ends made alike."""
    return _Pages(path, text).read()
