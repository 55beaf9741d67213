"""What every visitor writes on: the growing Typst source, the author's places in it, and the names of link targets."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes
from sphinx.util import logging
from sphinx.util.docutils import SphinxTranslator

from putback.typstpdf.escape import breakable, clean, clusters, literal, one_line, printed

if TYPE_CHECKING:
    from putback.typstpdf.builder import TypstPdfBuilder

logger = logging.getLogger(__name__)

PLACE = re.compile(r"^//@ (\d+)$")
"""A comment in the Typst source: what follows comes from place number such-and-such of the author's files."""


class Sheet(SphinxTranslator):
    """The part of the translator that knows Typst but no node.

    The source is Typst code, not markup: one expression a line, text as string literals, blocks as `{[] … }`. Blanks
    and line ends of the source therefore print nothing.
    """

    builder: TypstPdfBuilder

    def __init__(self, document: nodes.document, builder: TypstPdfBuilder) -> None:
        super().__init__(document, builder)
        self.docname: str = builder.config.root_doc
        self.lines: list[str] = []
        self.places: list[tuple[str, int]] = []
        self._place: tuple[str, int] | None = None
        self._same: dict[str, str] = {}
        self._named: set[str] = set()
        self._told: set[str] = set()
        self.in_title = False
        self._survey(document)

    # writing

    def emit(self, code: str) -> None:
        """Write one expression."""
        self.lines.append(code)

    def render(self, children: Iterable[nodes.Node]) -> str:
        """Return the source of `children` instead of writing it."""
        outer, self.lines = self.lines, []
        # What is returned may be put behind other text, so that it has to carry its place with it.
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
        missing = self.builder.unprintable
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

    def option(self, name: str, value: str) -> str:
        """Return a named argument to append, with its comma, or nothing when `value` is empty."""
        return f", {name}: {value}" if value else ""

    # places

    def dispatch_visit(self, node: nodes.Node) -> None:
        """Write down where the node comes from, then visit it."""
        if isinstance(node, nodes.Element) and node.line and node.source:
            place = (str(node.source), int(node.line))
            if place != self._place:
                self._place = place
                self.emit(f"//@ {len(self.places)}")
                self.places.append(place)
        super().dispatch_visit(node)

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

    def _survey(self, document: nodes.document) -> None:
        """Note which ids mean the same heading, and which heading stands for a whole document."""
        for docname, element in elements(document, self.builder.config.root_doc):
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

    # what nobody knows

    def unknown_visit(self, node: nodes.Node) -> None:
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

    def unknown_departure(self, node: nodes.Node) -> None:
        """Do nothing."""


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
