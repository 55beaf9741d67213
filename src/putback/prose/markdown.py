"""What a reader reads of a Markdown page: sentences and tables, with the place of every word.

markdown-it-py takes the page apart into blocks, as it does when the manual is made. Code, front matter, comments, the
options of directives and what directives draw themselves are left out. It tells the lines of a block and not the
columns: a line of a paragraph is the end of a line of the file, and so its column is known. Of inline marks only the
characters are blanked (`pages.plain`), and each word keeps its place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

from putback.prose.pages import Passage, Prose, Stretch, TableRow, plain
from putback.prose.statements import may_state, states_one
from putback.source.late import Late

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

DEEPEST = 10
"""Directives that stand in one another and are read. Each level is taken apart again, so that it costs its length."""

READ_OUT = frozenset({
    "admonition", "attention", "caution", "danger", "error", "hint", "important", "note", "seealso", "tip", "warning",
    "figure", "sidebar", "topic", "epigraph", "table", "list-table", "versionadded", "versionchanged", "glossary",
    "div", "dropdown", "card", "grid", "grid-item", "tab-item", "tab-set", "only",
})  # fmt: skip
"""Directives whose content is prose."""
NO_TITLE = frozenset({"figure", "div", "only"})
"""Those of them whose first line is no prose."""
_DIRECTIVE = Late(r"[ \t]*(?:\{([^}\s]{1,60})\})?[ \t]*(.*)")
CAPTION = Late(r"([ \t]*:(?:alt|caption):[ \t]+)(.*)")
"""An option of a directive that is words."""
_OPTION = Late(r"[ \t]*:[A-Za-z][\w-]{0,40}:(?:\s|$)")
_NO_WORDS = ("<!", "<?", "<script", "<style", "<pre", "<textarea")
"""What HTML that is no prose begins with."""
_TAG = Late(r"<[^<>]{0,300}>")
_BREAK = Late(r"\n[ \t>]*")
_WORD = Late(r"[^ \t]+")


class _Line(NamedTuple):
    """One line of what is read: of the page, or of the content of a directive."""

    number: int
    """Its number in the file."""
    column: int
    """The column of its first character."""
    text: str


class _Piece(NamedTuple):
    """A stretch of a line that is prose."""

    number: int
    column: int
    text: str


@lru_cache(maxsize=16)
def read_page(path: str, text: str) -> Prose:
    """Return the prose of a Markdown page, given with line ends made alike. Several checks ask, one after the other."""
    reader = _PageReader(path)
    reader.read([_Line(number, 1, line) for number, line in enumerate(text.split("\n"), 1)], 0)
    return reader.prose


def page_may_state(text: str) -> bool:
    """Tell whether a page may state a torque: as a number with its unit, or in a table whose head names one.

    Most pages that speak of units do not, and need no closer look.
    """
    if not may_state(text):
        return False
    if any("|" in line and may_state(line) for line in text.split("\n")):
        return True
    return states_one(" ".join(word[0] for word in _WORD.finditer(plain(_BREAK.sub(" ", text)))))


@cache
def page_parser(*, front: bool) -> MarkdownIt:
    """Return what takes a page apart, with the extensions that the manual is made with."""
    from markdown_it import MarkdownIt  # slow to import
    from mdit_py_plugins.colon_fence import colon_fence_plugin
    from mdit_py_plugins.deflist import deflist_plugin
    from mdit_py_plugins.footnote import footnote_plugin
    from mdit_py_plugins.front_matter import front_matter_plugin
    from mdit_py_plugins.myst_blocks import myst_block_plugin

    parser = MarkdownIt("commonmark").enable("table")
    for plugin in (myst_block_plugin, footnote_plugin, colon_fence_plugin, deflist_plugin):
        parser.use(plugin)
    if front:
        parser.use(front_matter_plugin)
    # What stands in a line is not taken apart: it has no places.
    parser.core.ruler.enableOnly(["block"])
    return parser


class _PageReader:
    """Gathers the prose of one page."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.prose = Prose()
        self.reached = 0
        """How far the line of a table's row was read."""

    def read(self, lines: list[_Line], depth: int) -> None:
        """Take what is in these lines."""
        cells: list[Passage] = []
        heads: tuple[str, ...] = ()
        inside = ""
        for token in self.tokens(lines, depth):
            match token.type:
                case "thead_open" | "tbody_open":
                    inside = token.type
                case "table_close":
                    inside, heads = "", ()
                case "tr_open":
                    cells, self.reached = [], 0
                case "tr_close" if inside == "thead_open":
                    heads = tuple(cell.text for cell in cells)
                case "tr_close":
                    self.prose.rows.append(TableRow(tuple(_without_empty_ends(cells)), heads))
                case "inline" if inside:
                    cells.append(self.cell(token, lines))
                case "inline":
                    self.passage(_pieces(token, lines))
                case "html_block" if not token.content.lstrip().startswith(_NO_WORDS):
                    self.passage([piece._replace(text=_blanked(piece.text)) for piece in _pieces(token, lines)])
                case "fence" | "colon_fence":
                    self.directive(token, lines, depth)

    def tokens(self, lines: list[_Line], depth: int) -> list[Token]:
        return page_parser(front=depth == 0).parse("\n".join(line.text for line in lines))

    def passage(self, pieces: list[_Piece]) -> None:
        if any(piece.text.strip() for piece in pieces):
            self.prose.passages.append(self.made(pieces))

    def made(self, pieces: list[_Piece]) -> Passage:
        """Return pieces as one line, with one blank between words where marks stood too."""
        # All at once: a role can go over two lines.
        whole, start = plain(" ".join(piece.text for piece in pieces)), 0
        runs: list[Stretch] = []
        words: list[str] = []
        offset = 0
        for number, column, text in pieces:
            last = -1
            for word in _WORD.finditer(whole[start : start + len(text)]):
                if word.start() != last + 1 or last < 0:
                    runs.append(Stretch(offset, number, column + word.start()))
                words.append(word[0])
                last, offset = word.end(), offset + len(word[0]) + 1
            start += len(text) + 1
        return Passage(self.path, " ".join(words), tuple(runs))

    def cell(self, token: Token, lines: list[_Line]) -> Passage:
        """Return a cell of a row; it stands after those that were before it."""
        line = lines[_first(token)]
        written = token.content.replace("|", "\\|")
        at = max(0, line.text.find(written, self.reached))
        self.reached = at + len(written)
        return self.made([_Piece(line.number, line.column + at, written)])

    def directive(self, token: Token, lines: list[_Line], depth: int) -> None:
        """Take the title and the content of a directive whose content is prose."""
        name, title = directive_of(token)
        if name not in READ_OUT or depth >= DEEPEST:
            return
        first = _first(token)
        if "{" in token.info and title and name not in NO_TITLE:
            self.passage([_piece(lines[first], title)])
        content = []
        for number, text in enumerate(token.content.split("\n")[:-1], first + 1):
            line = lines[number]
            content.append(_Line(line.number, line.column + len(line.text) - len(text), text))
        content = content[options_of([line.text for line in content]) :]
        if name == "list-table":
            self.list_table(content)
        elif content:
            self.read(content, depth + 1)

    def list_table(self, lines: list[_Line]) -> None:
        """Take a table that is written as a list of rows, each a list of cells."""
        rows: list[list[list[_Piece]]] = []
        depth = 0
        for token in self.tokens(lines, 1):
            if token.type == "list_item_open":
                depth += 1
                if depth == 1:
                    rows.append([])
                elif depth == 2:
                    rows[-1].append([])
            elif token.type == "list_item_close":
                depth -= 1
            elif token.type == "inline" and rows and rows[-1]:
                rows[-1][-1] += _pieces(token, lines)
        self.prose.rows.extend(TableRow(tuple(self.made(cell) for cell in cells)) for cells in rows if cells)


def _first(token: Token) -> int:
    """Return the number of a block's first line among those that were taken apart."""
    return token.map[0] if token.map else 0


def _pieces(token: Token, lines: list[_Line]) -> list[_Piece]:
    """Return the lines of a block, without what is in front of them."""
    texts = token.content.rstrip("\n").split("\n")
    return [_piece(lines[number], text.strip()) for number, text in enumerate(texts, _first(token))]


def _piece(line: _Line, text: str) -> _Piece:
    """Return a text that is the end of a line, or stands before the marks at the end of a heading."""
    return _Piece(line.number, line.column + max(0, line.text.rfind(text)), text)


def _blanked(text: str) -> str:
    return _TAG.sub(lambda found: " " * len(found[0]), text)


def _without_empty_ends(cells: list[Passage]) -> Iterator[Passage]:
    """Leave out the cells that a short row does not have."""
    last = max((number for number, cell in enumerate(cells) if cell.text), default=-1)
    yield from cells[: last + 1]


def options_of(lines: Sequence[str]) -> int:
    """Return how many lines at the head of a directive are its options."""
    if lines and lines[0].strip() == "---":
        return next((number for number, line in enumerate(lines[1:], 2) if line.strip() == "---"), len(lines))
    return next((number for number, line in enumerate(lines) if not _OPTION.match(line)), len(lines))


def directive_of(token: Token) -> tuple[str | None, str]:
    """Return the name of a directive and what stands after it; None for code."""
    found = _DIRECTIVE.match(token.info)
    name, title = (found[1], found[2].strip()) if found else (None, "")
    if name is None and token.type == "colon_fence":
        return title, title  # `::: note` is a division of the class `note`
    return name, title


@cache
def _inline() -> MarkdownIt:
    from markdown_it import MarkdownIt  # slow to import

    return MarkdownIt("commonmark")


def inline_marks(text: str) -> Iterator[str]:
    """Yield what does something in a line of Markdown: where its links and pictures lead, its code, its HTML."""
    for token in _inline().parseInline(text):
        for inner in token.children or ():
            match inner.type:
                case "link_open":
                    yield f"({inner.attrGet('href')})"
                case "image":
                    yield f"!({inner.attrGet('src')})"
                case "code_inline":
                    yield f"`{inner.content}`"
                case "html_inline":
                    yield inner.content
