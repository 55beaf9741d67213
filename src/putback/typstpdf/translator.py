"""The translator: walks one document tree and writes calls into the template, with the looks of the tables it is given.

It knows Typst but no node. What a node of an extension looks like, Sphinx adds (`app.add_node(…, typst=(…))`).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Protocol, cast

from docutils import nodes
from sphinx.builders import Builder
from sphinx.util import logging
from sphinx.util.docutils import SphinxTranslator

from putback.typstpdf.album import Album
from putback.typstpdf.blocks import BLOCKS
from putback.typstpdf.escape import breakable, clean, clusters, drawable, literal, one_line, printed
from putback.typstpdf.inline import INLINE
from putback.typstpdf.pen import Headings, Look, Looks, Notes, elements, ids
from putback.typstpdf.pictures import PICTURES
from putback.typstpdf.sections import SECTIONS
from putback.typstpdf.tables import TABLES

logger = logging.getLogger(__name__)

LOOKS: Looks = {**INLINE, **BLOCKS, **TABLES, **PICTURES, **SECTIONS}
"""How the nodes of docutils and Sphinx print."""

PLACE = re.compile(r"^//@ (\d+)$")
"""A comment in the Typst source: what follows comes from place number such-and-such of the author's files."""


class Stock(Protocol):
    """What a builder has at hand for the translator."""

    unprintable: frozenset[str]
    """Letters that no font of the manual has."""
    album: Album
    """The pictures."""
    labels: dict[str, str]
    """The words that the template prints, by what they are for."""


class TypstTranslator(SphinxTranslator):
    """A pen (`pen.Pen`) that docutils can walk a tree with."""

    def __init__(self, document: nodes.document, builder: Builder) -> None:
        super().__init__(document, builder)
        stock = cast(Stock, builder)
        self.env = builder.env
        self.album, self.labels, self._unprintable = stock.album, stock.labels, stock.unprintable
        self.docname: str = builder.config.root_doc
        self.lines: list[str] = []
        self.places: list[tuple[str, int]] = []
        """Where in the author's files things come from: the numbers that `PLACE` finds count them."""
        self.pages: list[tuple[str, str]] = []
        """The source of each document of the outermost table of contents, by its name."""
        self.headings = Headings()
        self.notes = Notes()
        self.in_title = False
        self._place: tuple[str, int] | None = None
        self._same: dict[str, str] = {}
        self._named: set[str] = set()
        self._told: set[str] = set()
        self._looks: dict[type, Look | None] = {}
        self._inside = 0
        self._survey(document)

    # looks

    def dispatch_visit(self, node: nodes.Node) -> None:
        """Write down where the node comes from, then print it."""
        if isinstance(node, nodes.Element) and node.line and node.source:
            place = (str(node.source), int(node.line))
            if place != self._place:
                self._place = place
                self.emit(f"//@ {len(self.places)}")
                self.places.append(place)
        look = self._look(node)
        if look is not None:
            look[0](self, node)
        else:
            self._print_unknown(node)

    def dispatch_departure(self, node: nodes.Node) -> None:
        """End a node."""
        look = self._look(node)
        if look is not None:
            look[1](self, node)

    def _look(self, node: nodes.Node) -> Look | None:
        kind = type(node)
        if kind not in self._looks:
            self._looks[kind] = next(filter(None, map(self._look_of, kind.__mro__)), None)
        return self._looks[kind]

    def _look_of(self, kind: type) -> Look | None:
        """Return the look of a class: that which an extension gave comes before that of the table."""
        # Sphinx makes it methods of this one translator.
        visit = getattr(self, f"visit_{kind.__name__}", None)
        if visit is None:
            return LOOKS.get(kind)
        leave = getattr(self, f"depart_{kind.__name__}", None)
        return lambda _, node: visit(node), lambda _, node: leave(node) if leave else None

    def _print_unknown(self, node: nodes.Node) -> None:
        """Warn, and go on to the children, so that the words are kept."""
        kind = type(node).__name__
        if kind not in self._told:
            self._told.add(kind)
            logger.warning(
                "the printed manual has no look for %r; its text is printed plainly",
                kind,
                location=node if isinstance(node, nodes.Element) else None,
                type="putback",
                subtype="node",
            )
        if isinstance(node, nodes.Element):
            self.emit(self.anchors(node))
            # Words that stand bare in an unknown block must not run into the paragraph before.
            if isinstance(node, nodes.TextElement) and not isinstance(node.parent, nodes.TextElement):
                self.emit(f"p({self.content(node.children)})")
                raise nodes.SkipNode

    # writing

    def emit(self, code: str) -> None:
        """Write one expression."""
        self.lines.append(code)

    def render(self, children: Iterable[nodes.Node]) -> str:
        """Return the source of `children` instead of writing it."""
        outer, self.lines = self.lines, []
        # What is returned may be put after other text, so that it has to carry its place with it.
        place, self._place = self._place, None
        try:
            for child in children:
                child.walkabout(self)
            return "\n".join(self.lines)
        finally:
            self.lines = outer
            self._place = place

    def content(self, children: Iterable[nodes.Node], before: str = "") -> str:
        """Return `children` as one Typst content block; `before` is source that stands first in it."""
        return "\n".join(part for part in ("{[]", before, self.render(children), "}") if part)

    def run_in(self, children: Iterable[nodes.Node], before: str = "") -> str:
        """Return `children` as a content block whose first paragraph goes on the line that is already begun."""
        parts: list[str] = []
        for child in children:
            first = not parts and isinstance(child, nodes.paragraph)
            parts.append(self.render(child.children if first else [child]))
        return "\n".join(part for part in ("{[]", before, "\nparbreak()\n".join(parts), "}") if part)

    def quoted(self, text: str, node: nodes.Node | None = None, *, blanks: bool = False) -> str:
        """Return `text` as a Typst string that prints; a letter without a glyph is told of at `node`.

        Runs of blanks and line ends become one blank, but not with `blanks`.
        """
        missing = self._unprintable
        for letter in clusters(clean(text)) if not text.isascii() else ():
            shown = letter if letter.isascii() or letter in self._told else printed(letter, missing)
            if shown != letter:
                self._told.add(letter)
                logger.warning(
                    "no font of the manual has the character %s; printed as %s",
                    " ".join(f"U+{ord(part):04X}" for part in letter),
                    shown,
                    location=node,
                    type="putback",
                    subtype="glyph",
                )
        text = printed(text, missing)
        return literal(breakable(text if blanks else one_line(text)))

    def drawing(self, svg: str, alt: str) -> str:
        """Return a drawing that was made, as an image of Typst, with what it shows in words."""
        return f'image(bytes({literal(drawable(svg, self._unprintable))}), format: "svg", alt: {literal(alt)})'

    # names of targets

    def name(self, docname: str, target: str) -> str:
        """Return the Typst label of an id in a document; an empty id is the document itself."""
        full = f"{docname}:{target}"
        return self._same.get(full, full)

    def anchors(self, node: nodes.Element) -> str:
        """Return the source of the targets that `node` carries, to be put first inside it."""
        if self.in_title:
            return ""
        fresh = [name for name in self.names(node) if name not in self._named]
        self._named.update(fresh)
        return "\n".join(f"anchor({literal(name)})" for name in fresh)

    def names(self, node: nodes.Element) -> list[str]:
        """Return the distinct labels of a node."""
        return list(dict.fromkeys(self.name(self.docname, target) for target in ids(node)))

    def named(self, names: Iterable[str]) -> None:
        """Take note that these labels are set."""
        self._named.update(names)

    def filed(self, docname: str, children: Iterable[nodes.Node]) -> str:
        """Return the source of a whole document."""
        self._inside += 1
        source = self.render(children)
        self._inside -= 1
        if not self._inside:
            self.pages.append((docname, source))
        return source

    def _survey(self, document: nodes.document) -> None:
        """Note which ids mean the same heading, which heading stands for a whole document, and the notes."""
        for docname, element in elements(document, self.config.root_doc):
            if isinstance(element, nodes.section) and element["ids"]:
                first = f"{docname}:{element['ids'][0]}"
                for target in element["ids"][1:]:
                    self._same.setdefault(f"{docname}:{target}", first)
                self._same.setdefault(f"{docname}:", first)
                for title in element.children[:1]:
                    # A target inside a heading would be printed in the contents as well.
                    for inner in title.findall(nodes.Element):
                        for target in ids(inner):
                            self._same.setdefault(f"{docname}:{target}", first)
            elif isinstance(element, nodes.footnote):
                self.notes.known.update((f"{docname}:{target}", element) for target in element["ids"])
            elif isinstance(element, nodes.footnote_reference) and not _in_heading(element):
                self.notes.wanted.add(f"{docname}:{element.get('refid', '')}")


def _in_heading(node: nodes.Element) -> bool:
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, nodes.title):
        parent = parent.parent
    return parent is not None and isinstance(parent.parent, nodes.section)
