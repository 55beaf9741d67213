"""The translator: from one document tree to calls into `manual.typ`.

The looks of everything live in the template. The visitors are spread over `inline`, `blocks`, `tables` and `pictures`,
each building on the one before; the nodes of this extension have theirs in `visitors`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes
from sphinx.util import logging

from putback.sphinxext import nodes as own
from putback.typstpdf.escape import literal
from putback.typstpdf.pictures import PictureVisitors
from putback.typstpdf.sheet import ids, plain_classes

if TYPE_CHECKING:
    from putback.typstpdf.builder import TypstPdfBuilder

logger = logging.getLogger(__name__)

WORDLESS = (
    nodes.Invisible,
    nodes.title,
    addnodes.start_of_file,
    nodes.section,
    addnodes.index,
    nodes.target,
)
"""What in the first document does not count as prose of its own."""


class TypstTranslator(PictureVisitors):
    """Sections and documents, and what is left out of print."""

    def __init__(self, document: nodes.document, builder: TypstPdfBuilder) -> None:
        super().__init__(document, builder)
        self.depth = 0
        self.base = 0
        self.opens_with_words = False
        self.last_level = 0
        self.kicker = ""
        self.branches = 0
        self.in_setup = False
        self.pages: list[tuple[str, str]] = []
        """The source of each document of the outermost table of contents, by its name."""
        self._inside = 0

    # documents and sections

    def visit_document(self, node: nodes.Element) -> None:
        pass

    def depart_document(self, node: nodes.Element) -> None:
        pass

    def visit_start_of_file(self, node: nodes.Element) -> None:
        outer, self.docname = self.docname, node["docname"]
        depth, base = self.depth, self.base
        if _is_job(node):
            self.emit("new-page()")
        self.kicker = node.get("kicker", "")
        if not any(isinstance(child, nodes.section) for child in node.children):
            self.emit(f"anchor({literal(self.name(self.docname, ''))})")
        self._inside += 1
        source = self.render(node.children)
        self._inside -= 1
        if not self._inside:
            self.pages.append((self.docname, source))
        self.emit(source)
        self.docname, self.depth, self.base, self.kicker = outer, depth, base, ""
        raise nodes.SkipNode

    def visit_section(self, node: nodes.Element) -> None:
        if self.depth == 0:
            # The heading of the first document is the title on the cover: what is below it are the chapters. With
            # words of its own it is a chapter too, and keeps its own sections.
            self.base = 1 if self.docname == self.config.root_doc else 0
            self.opens_with_words = bool(self.base) and self._has_prose(node)
        self.depth += 1

    def depart_section(self, node: nodes.Element) -> None:
        self.depth -= 1

    def visit_title(self, node: nodes.Element) -> None:
        section = node.parent
        if not isinstance(section, nodes.section):
            self._wrap("rubric", node)
        opening = self.docname == self.config.root_doc and self.opens_with_words
        level = self.depth if opening else self.depth - self.base
        if level < 1:
            if not self._has_prose(section):
                raise nodes.SkipNode
            level = 1
        # PDF/UA-1 refuses a heading that skips a level.
        level = min(level, self.last_level + 1)
        self.last_level = level
        self.in_title = True
        body = self.content(node.children, self._section_number(section))
        self.in_title = False
        options = self.option("label-name", literal(self.names(section)[0]) if section["ids"] else "")
        options += self.option("kicker", self.quoted(self.kicker, node) if self.kicker else "")
        if isinstance(section.parent, addnodes.start_of_file) and _is_job(section.parent):
            options += ", mark: true"
        if self.in_setup:
            options += ", minor: true"
        self.kicker = ""
        self._named.update(self.names(section))
        self.emit(f"head({level}, {body}{options})")
        raise nodes.SkipNode

    def _section_number(self, section: nodes.Element) -> str:
        numbers = self.builder.env.toc_secnumbers.get(self.docname, {})
        first = isinstance(section.parent, addnodes.start_of_file | nodes.document)
        for key in ("" if first else None, *(f"#{target}" for target in ids(section))):
            if key is not None and numbers.get(key):
                return self.quoted(".".join(map(str, numbers[key])) + " ", section)
        return ""

    @staticmethod
    def _has_prose(section: nodes.Element) -> bool:
        return any(
            not isinstance(child, WORDLESS) and "toctree-wrapper" not in plain_classes(child)
            for child in section.children
            if isinstance(child, nodes.Element)
        )

    def visit_toctree(self, node: nodes.Element) -> None:
        raise nodes.SkipNode

    def visit_raw(self, node: nodes.Element) -> None:
        # `raw:: typst` as well: what an author writes never becomes a program.
        raise nodes.SkipNode

    visit_comment = visit_index = visit_meta = visit_substitution_definition = visit_raw
    visit_tabular_col_spec = visit_highlightlang = visit_system_message = visit_pending = visit_colspec = visit_raw
    visit_header = visit_footer = visit_decoration = visit_sidebar_title = visit_raw

    # what only holds other things together

    def visit_compound(self, node: nodes.Element) -> None:
        self._pass(node)

    depart_compound = PictureVisitors._leave

    visit_container = visit_legend = visit_only = visit_glossary = visit_acks = visit_desc = visit_compound
    visit_hlist = visit_hlistcol = visit_productionlist = visit_definition = visit_compound
    depart_container = depart_legend = depart_only = depart_glossary = depart_acks = depart_desc = depart_compound
    depart_hlist = depart_hlistcol = depart_productionlist = depart_definition = depart_compound

    def visit_subtitle(self, node: nodes.Element) -> None:
        self._wrap("rubric", node)

    def visit_production(self, node: nodes.Element) -> None:
        self.visit_literal_block(node)


def _document_of(node: nodes.Element) -> nodes.Element | None:
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, addnodes.start_of_file):
        parent = parent.parent
    return parent


def _is_job(document: nodes.Element) -> bool:
    return any(_document_of(step) is document for step in document.findall(own.steps))
