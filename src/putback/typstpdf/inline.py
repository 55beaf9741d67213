"""Visitors for what stands inside a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from docutils import nodes
from sphinx.util import logging

from putback.typstpdf.escape import clean, literal
from putback.typstpdf.sheet import Sheet, elements, plain_classes

if TYPE_CHECKING:
    from putback.typstpdf.builder import TypstPdfBuilder

logger = logging.getLogger(__name__)

INTERNAL = "%"
"""First character of the address of another document of the same manual."""

STRESSED = frozenset({"guilabel", "menuselection", "kbd"})
"""Classes of `inline` that print as strong."""


class InlineVisitors(Sheet):
    """Emphasis, links, footnotes."""

    def __init__(self, document: nodes.document, builder: TypstPdfBuilder) -> None:
        super().__init__(document, builder)
        self._notes: dict[str, nodes.footnote] = {}
        self._wanted_notes: set[str] = set()
        self._printed_notes: set[str] = set()
        for docname, element in elements(document, builder.config.root_doc):
            if isinstance(element, nodes.footnote):
                self._notes.update((f"{docname}:{target}", element) for target in element["ids"])
            elif isinstance(element, nodes.footnote_reference) and not _in_heading(element):
                self._wanted_notes.add(f"{docname}:{element.get('refid', '')}")

    def visit_Text(self, node: nodes.Text) -> None:
        self.emit(self.quoted(node.astext(), node.parent))
        raise nodes.SkipNode

    def _wrap(self, function: str, node: nodes.Element) -> None:
        self.emit(f"{function}({self.content(node.children, self.anchors(node))})")
        raise nodes.SkipNode

    def visit_emphasis(self, node: nodes.Element) -> None:
        self._wrap("emph", node)

    visit_title_reference = visit_literal_emphasis = visit_desc_parameter = visit_emphasis

    def visit_strong(self, node: nodes.Element) -> None:
        self._wrap("strong", node)

    visit_literal_strong = visit_strong

    def visit_subscript(self, node: nodes.Element) -> None:
        self._wrap("sub", node)

    def visit_superscript(self, node: nodes.Element) -> None:
        self._wrap("super", node)

    def visit_literal(self, node: nodes.Element) -> None:
        self.emit(f"lit({self.quoted(node.astext(), node)})")
        raise nodes.SkipNode

    def visit_inline(self, node: nodes.Element) -> None:
        if STRESSED.intersection(plain_classes(node)):
            self._wrap("strong", node)
        self._pass(node)

    def _pass(self, node: nodes.Element) -> None:
        anchors = self.anchors(node)
        if anchors:
            self.emit(anchors)

    def _leave(self, node: nodes.Element) -> None:
        pass

    visit_generated = visit_abbreviation = visit_acronym = visit_manpage = visit_pending_xref = _pass
    visit_number_reference_text = visit_desc_sig_space = visit_problematic = _pass
    depart_inline = depart_generated = depart_abbreviation = depart_acronym = depart_manpage = _leave
    depart_pending_xref = depart_problematic = _leave

    def visit_math(self, node: nodes.Element) -> None:
        self._tell_math(node)
        self.emit(f"lit({self.quoted(node.astext(), node)})")
        raise nodes.SkipNode

    def _tell_math(self, node: nodes.Element) -> None:
        logger.warning(
            "the printed manual does not set formulas; printed as it is written: %s",
            " ".join(node.astext().split()),
            location=node,
            type="putback",
            subtype="math",
        )

    # links

    def visit_reference(self, node: nodes.Element) -> None:
        body = self.content(node.children, self.anchors(node))
        if self.in_title:
            # A heading is printed in the contents too, where it is a link already.
            self.emit(body)
            raise nodes.SkipNode
        if "refid" in node:
            self.emit(f"xref({literal(self.name(self.docname, node['refid']))}, {body})")
            raise nodes.SkipNode
        address = clean(node.get("refuri", "")).replace("\n", " ").strip()
        if address.startswith(INTERNAL):
            docname, _, target = address[1:].partition("#")
            self.emit(f"xref({literal(self.name(docname, target))}, {body})")
        elif address:
            text = node.astext().strip()
            shown = "" if text in (address, address.removeprefix("mailto:")) or self._is_picture(node) else address
            self.emit(f"ext({literal(address)}, {body}, {self.quoted(shown.removeprefix('mailto:'), node)})")
        else:
            self.emit(body)
        raise nodes.SkipNode

    visit_number_reference = visit_reference

    @staticmethod
    def _is_picture(node: nodes.Element) -> bool:
        return any(isinstance(child, nodes.image) for child in node.children)

    def visit_download_reference(self, node: nodes.Element) -> None:
        address = clean(node.get("refuri", "")).strip()
        body = self.content(node.children, self.anchors(node))
        self.emit(f"ext({literal(address)}, {body}, {self.quoted(address, node)})" if address else body)
        raise nodes.SkipNode

    def visit_target(self, node: nodes.Element) -> None:
        self._pass(node)

    depart_target = _leave

    # notes at the foot

    def visit_footnote_reference(self, node: nodes.Element) -> None:
        key = f"{self.docname}:{node.get('refid', '')}"
        note = self._notes.get(key)
        if self.in_title or note is None:
            # A note in a heading would be printed in the contents as well.
            self.emit(f"super({self.quoted(node.astext(), node)})")
        elif key in self._printed_notes:
            self.emit(f"again({literal('note:' + key)})")
        else:
            self._printed_notes.add(key)
            words = [child for child in note.children if not isinstance(child, nodes.label)]
            self.emit(f"foot({literal('note:' + key)}, {self.run_in(words)})")
        raise nodes.SkipNode

    def visit_footnote(self, node: nodes.Element) -> None:
        if not any(f"{self.docname}:{target}" in self._wanted_notes for target in node["ids"]):
            # Nothing points at it, so no foot of a page will print it.
            self.visit_citation(node)
        raise nodes.SkipNode

    def visit_citation(self, node: nodes.Element) -> None:
        label = "".join(child.astext() for child in node.children if isinstance(child, nodes.label))
        rest = [child for child in node.children if not isinstance(child, nodes.label)]
        body = self.run_in(rest, self.anchors(node))
        self.emit(f"terms(terms.item({self.quoted('[' + label + ']', node)}, {body}))")
        raise nodes.SkipNode

    def visit_citation_reference(self, node: nodes.Element) -> None:
        name = literal(self.name(self.docname, node.get("refid", "")))
        self.emit(f"xref({name}, {self.quoted('[' + node.astext() + ']', node)})")
        raise nodes.SkipNode


def _in_heading(node: nodes.Element) -> bool:
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, nodes.title):
        parent = parent.parent
    return parent is not None and isinstance(parent.parent, nodes.section)
