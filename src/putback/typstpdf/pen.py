"""What a visitor writes with. Every look of a node is a pair of functions that take a pen and the node.

A visitor that prints the whole of its node raises `SkipNode`; else docutils goes on to the children.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from docutils import nodes
from sphinx import addnodes
from sphinx.config import Config
from sphinx.environment import BuildEnvironment

from putback.typstpdf.album import Album


@dataclass(slots=True)
class Headings:
    """How far the pen has come in sections and documents."""

    depth: int = 0
    """Sections that are open."""
    base: int = 0
    """Sections that stand above the chapters: 1 in the first document, whose heading is the title on the cover."""
    opens_with_words: bool = False
    """Whether the first document has words of its own."""
    last: int = 0
    """Level of the last heading."""
    kicker: str = ""
    """What stands above the next heading."""
    own_page: bool = False
    """Whether the next heading begins a page, and is named at the head of the pages that follow."""
    minor: bool = False
    """Whether headings are too many for the contents and the bookmarks."""
    inner: bool = False
    """Whether headings are too many for the contents: those within what has a page of its own."""
    tabs: int = 0
    """Chapters and jobs so far: each has a tab in the thumb index."""
    entries: int = 0
    """Headings so far that the contents name."""
    after_page: bool = False
    """Whether what came last had a page of its own: the next chapter begins another."""


@dataclass(slots=True)
class Notes:
    """Notes at the foot, by document and id."""

    known: dict[str, nodes.footnote] = field(default_factory=dict)
    """All of them."""
    wanted: set[str] = field(default_factory=set)
    """Those that a text points at."""
    printed: set[str] = field(default_factory=set)
    """Those that stand in the source already."""


class Pen(Protocol):
    """Writes the Typst source of a manual.

    The source is Typst code, not markup: one expression a line, text as string literals, blocks as `{[] … }`. Blanks
    and line ends of the source therefore print nothing.
    """

    docname: str
    """The document that is being written."""
    in_title: bool
    """Whether a heading is being written: it is printed in the contents too, so it has no targets and no notes."""
    headings: Headings
    """Sections and documents."""
    notes: Notes
    """Notes at the foot."""

    @property
    def config(self) -> Config:
        """The settings of the project."""

    @property
    def env(self) -> BuildEnvironment:
        """What Sphinx knows of the project."""

    @property
    def album(self) -> Album:
        """The pictures."""

    @property
    def labels(self) -> dict[str, str]:
        """The words that the template prints, by what they are for."""

    def emit(self, code: str) -> None:
        """Write one expression."""

    def render(self, children: Iterable[nodes.Node]) -> str:
        """Return the source of `children` instead of writing it."""

    def content(self, children: Iterable[nodes.Node], before: str = "") -> str:
        """Return `children` as one Typst content block; `before` is source that stands first in it."""

    def run_in(self, children: Iterable[nodes.Node], before: str = "") -> str:
        """Return `children` as a content block whose first paragraph goes on the line that is already begun."""

    def quoted(self, text: str, node: nodes.Node | None = None, *, blanks: bool = False) -> str:
        """Return `text` as a Typst string that prints; a letter without a glyph is told of at `node`.

        Runs of blanks and line ends become one blank, but not with `blanks`.
        """

    def drawing(self, svg: str, alt: str) -> str:
        """Return a drawing that was made, as an image of Typst, with what it shows in words."""
        ...

    def name(self, docname: str, target: str) -> str:
        """Return the Typst label of an id in a document; an empty id is the document itself."""

    def names(self, node: nodes.Element) -> list[str]:
        """Return the distinct labels of a node."""

    def anchors(self, node: nodes.Element) -> str:
        """Return the source of the targets that `node` carries, to be put first inside it."""

    def named(self, names: Iterable[str]) -> None:
        """Take note that these labels are set."""

    def filed(self, docname: str, children: Iterable[nodes.Node]) -> str:
        """Return the source of a whole document."""


Visitor = Callable[[Any, Any], None]
"""Takes a pen and a node of the class that it is for."""

Look = tuple[Visitor, Visitor]
"""What to do at the beginning of a node, and at its end."""

Looks = dict[type[Any], Look]
"""How nodes print, by their class; a class without a look has that of the class that it is made from."""


def depart(pen: Pen, node: nodes.Element) -> None:
    """Do nothing at the end of a node."""


def passed(pen: Pen, node: nodes.Element) -> None:
    """Print what is in a node, and nothing of its own but its targets."""
    if anchors := pen.anchors(node):
        pen.emit(anchors)


def skip(pen: Pen, node: nodes.Element) -> None:
    """Leave a node out of print."""
    raise nodes.SkipNode


def wrap(pen: Pen, function: str, node: nodes.Element) -> None:
    """Print a node as a call of a function of the template with all that is in it."""
    pen.emit(f"{function}({pen.content(node.children, pen.anchors(node))})")
    raise nodes.SkipNode


def wrapped(function: str) -> Look:
    """Return the look of a node that is a call of a function of the template."""

    def visit(pen: Pen, node: nodes.Element) -> None:
        wrap(pen, function, node)

    return visit, depart


def whole(visitor: Visitor) -> Look:
    """Return the look of a node whose visitor prints all of it."""

    def visit(pen: Pen, node: nodes.Element) -> None:
        visitor(pen, node)
        raise nodes.SkipNode

    return visit, depart


# Pieces of source


def option(name: str, value: str) -> str:
    """Return a named argument to append, with its comma, or nothing when `value` is empty."""
    return f", {name}: {value}" if value else ""


def yes(value: bool) -> str:
    """Return a truth as Typst writes it."""
    return "true" if value else "false"


def listed(parts: Iterable[str]) -> str:
    """Return parts as the inside of a Typst list."""
    return "".join(part + ",\n" for part in parts)


_RANGE = re.compile(r"\d–\d")
"""What a line does not break at, and the template looks for: only where there is one, because a search is dear."""


def ranged(source: str) -> str:
    """Return the source of a body in which no range is broken over two lines."""
    return f"ranged({source})" if _RANGE.search(source) else source


# Facts of a node


def elements(node: nodes.Element, docname: str) -> Iterator[tuple[str, nodes.Element]]:
    """Yield every element below `node` in the order of the page, each with the document that it comes from."""
    for child in node.children:
        if isinstance(child, nodes.Element):
            yield docname, child
            yield from elements(child, child["docname"] if isinstance(child, addnodes.start_of_file) else docname)


def ids(node: nodes.Element) -> Sequence[str]:
    """Return the ids of a node."""
    found: Sequence[str] = node.get("ids", ())
    return found


def plain_classes(node: nodes.Element) -> Sequence[str]:
    """Return the class names of a node."""
    classes: Sequence[str] = node.get("classes", ())
    return classes


def is_within(node: nodes.Node, kind: type[nodes.Element]) -> bool:
    """Tell whether a node stands somewhere in a node of another class."""
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, kind):
        parent = parent.parent
    return parent is not None
