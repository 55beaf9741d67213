"""The texts of a page of prose, a block each, and the page with other texts in their places.

A block is a paragraph, an item of a list, a heading, a cell of a table, the title of a directive, or the words for who
cannot see a picture. What is around it stays: a translation stands where the text stood, on one line, and is of one
block again, or the page stays as it is there.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from putback.prose.markdown import CAPTION, DEEPEST, NO_TITLE, READ_OUT, directive_of, options_of, page_parser
from putback.source.late import Late
from putback.source.span import Span

if TYPE_CHECKING:
    from markdown_it.token import Token


ROLE = Late(r"\{[a-z][\w:+.-]{0,40}\}`[^`\n]{0,200}`")
"""A role, with what stands in it."""


class PagePlace(NamedTuple):
    """A part of one line of a page."""

    line: int
    """The line, from 0."""
    start: int
    """Where it begins, in characters from 0."""
    end: int
    """Where it ends."""


class PageText(NamedTuple):
    """A text of a page."""

    text: str
    """How it reads, on one line, with its marks."""
    stretches: tuple[PagePlace, ...]
    """Where it stands, a line each."""
    note: str
    """What it is."""
    span: Span
    """Where it begins, in the file."""
    cell: bool = False
    """Whether it is a cell of a table, where a bar ends it."""


class _PageLine(NamedTuple):
    """One line of what is read: of the page, or of the content of a directive."""

    number: int
    """Its number in the page, from 0."""
    skipped: int
    """How many characters of the page's line are before it."""
    text: str


@lru_cache(maxsize=32)
def blocks_of(path: str, page: str) -> tuple[PageText, ...]:
    """Return the texts of a page, in its order."""
    reader = _BlockReader(path)
    reader.read([_PageLine(number, 0, line) for number, line in enumerate(page.split("\n"))], 0)
    return tuple(reader.blocks)


@lru_cache(maxsize=32)
def form_of(page: str) -> tuple[str, ...]:
    """Return how a page is built, without its texts: a translation must not change it."""
    reader = _BlockReader("")
    reader.read([_PageLine(number, 0, line) for number, line in enumerate(page.split("\n"))], 0)
    return tuple(reader.form)


def retold(path: str, page: str, told: Mapping[str, str]) -> str:
    """Return a page with other texts in the places of some; those that would change how it is built are left out."""
    blocks = [(block, words) for block in blocks_of(path, page) if (words := told.get(block.text))]
    whole = _replaced(page, blocks)
    form = form_of(page)
    if form_of(whole) == form:
        return whole
    return _replaced(page, [each for each in blocks if form_of(_replaced(page, [each])) == form])


def keeps_form(page: str, block: PageText, words: str) -> bool:
    """Tell whether a page is built as before with other words in the place of a block."""
    return form_of(_replaced(page, [(block, words)])) == form_of(page)


def _replaced(page: str, told: list[tuple[PageText, str]]) -> str:
    lines: list[str | None] = list(page.split("\n"))
    # From the end of a line to its start: cells of one row stand in one line.
    for block, words in sorted(told, key=lambda each: each[0].stretches[0], reverse=True):
        said = " ".join(words.split())
        if block.cell:
            said = said.replace("\\|", "|").replace("|", "\\|")
        first, *others = block.stretches
        line = lines[first.line] or ""
        lines[first.line] = line[: first.start] + said + line[first.end :]
        for other in others:
            lines[other.line] = None
    return "\n".join(line for line in lines if line is not None)


class _BlockReader:
    """Gathers the texts of one page."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.blocks: list[PageText] = []
        self.form: list[str] = []
        self.reached = 0
        """How far the line of a table's row was read."""

    def read(self, lines: list[_PageLine], depth: int) -> None:
        """Take what is in these lines."""
        note = ""
        parser = page_parser(front=depth == 0)
        for token in parser.parse("\n".join(line.text for line in lines)):
            if token.type not in ("fence", "colon_fence"):
                kept = "" if token.type == "inline" else token.content
                self.form.append(f"{token.type} {token.tag} {token.level} {token.markup} {token.info} {kept}")
            match token.type:
                case "tr_open":
                    self.reached = 0
                case "inline" if token.level and note == "a cell of a table":
                    self.cell(token, lines)
                case "inline":
                    self.paragraph(token, lines, note or "a paragraph")
                case "fence" | "colon_fence":
                    self.directive(token, lines, depth)
                case "heading_open":
                    note = "a heading"
                case "th_open" | "td_open":
                    note = "a cell of a table"
                case "paragraph_open" | "heading_close" | "th_close" | "td_close":
                    note = ""

    def add(self, stretches: list[tuple[_PageLine, int, str]], note: str, *, cell: bool = False) -> None:
        """Take a text that stands in some lines: each with where it begins there, and how it reads."""
        text = " ".join(each for _, _, each in stretches)
        if not any(letter.isalpha() for letter in ROLE.sub("", text)):
            return
        places = tuple(
            PagePlace(line.number, line.skipped + start, line.skipped + start + len(each))
            for line, start, each in stretches
        )
        line, start, each = places[0].line + 1, places[0].start + 1, stretches[0][2]
        span = Span(self.path, line, start, line, start + len(each))
        self.blocks.append(PageText(" ".join(text.split()), places, note, span, cell))

    def paragraph(self, token: Token, lines: list[_PageLine], note: str) -> None:
        """Take a paragraph or heading; a line that ends in a break of its own ends the text as well."""
        first, gathered = (token.map or [0])[0], list[tuple[_PageLine, int, str]]()
        for number, written in enumerate(token.content.rstrip("\n").split("\n"), first):
            line, text = lines[number], written.strip()
            breaks = text.endswith("\\")
            text = text.removesuffix("\\").rstrip()
            gathered.append((line, max(0, line.text.rfind(text)), text))
            if breaks or written.endswith("  "):
                self.add(gathered, note)
                gathered = []
        if gathered:
            self.add(gathered, note)

    def cell(self, token: Token, lines: list[_PageLine]) -> None:
        """Take a cell of a row; it stands after those that were before it."""
        line = lines[(token.map or [0])[0]]
        written = token.content.replace("|", "\\|")
        at = line.text.find(written, self.reached)
        if written and at >= 0:
            self.reached = at + len(written)
            self.add([(line, at, written)], "a cell of a table", cell=True)

    def directive(self, token: Token, lines: list[_PageLine], depth: int) -> None:
        """Take the title, the options and the content of a directive, as far as they are words."""
        name, title = directive_of(token)
        first = (token.map or [0])[0]
        titled = bool(title) and name in READ_OUT - NO_TITLE and "{" in token.info
        self.form.append(f"{token.type} {token.level} {token.markup} {name} {'' if titled else token.info}")
        if titled:
            self.add([(lines[first], max(0, lines[first].text.rfind(title)), title)], f"the title of: {name}")
        content = []
        for number, text in enumerate(token.content.split("\n")[:-1], first + 1):
            line = lines[number]
            content.append(_PageLine(line.number, line.skipped + len(line.text) - len(text), text))
        options = options_of([line.text for line in content]) if name is not None else 0
        for line in content[:options]:
            self.option(line)
        rest = content[options:]
        if name not in READ_OUT or depth >= DEEPEST:
            self.form += [line.text for line in rest]
        elif rest:
            self.read(rest, depth + 1)

    def option(self, line: _PageLine) -> None:
        """Take the words of an option of a directive."""
        found = CAPTION.match(line.text)
        self.form.append(found[1] if found else line.text)
        if found and found[2].strip():
            self.add([(line, found.start(2), found[2].rstrip())], f"an option of a directive: {found[1].strip(': ')}")
