"""How things inside a line print: emphasis, links, notes at the foot."""

from __future__ import annotations

from typing import Any

from docutils import nodes
from sphinx import addnodes
from sphinx.util import logging

from putback.typstpdf.escape import clean, literal
from putback.typstpdf.pen import Looks, Pen, depart, option, passed, plain_classes, whole, wrap, wrapped

logger = logging.getLogger(__name__)

INTERNAL = "%"
"""First character of the address of another document of the same manual."""

STRESSED = frozenset({"guilabel", "menuselection", "kbd"})
"""Classes of `inline` that print as strong."""


def print_text(pen: Pen, node: nodes.Text) -> None:
    """Print words."""
    pen.emit(pen.quoted(node.astext(), node.parent))


def print_inline(pen: Pen, node: nodes.Element) -> None:
    """Print a span of words, strong where it names what is to be pressed."""
    if STRESSED.intersection(plain_classes(node)):
        wrap(pen, "strong", node)
    passed(pen, node)


def print_literal(pen: Pen, node: nodes.Element) -> None:
    """Print what is to be read letter by letter."""
    pen.emit(f"lit({pen.quoted(node.astext(), node)})")


def print_math(pen: Pen, node: nodes.Element) -> None:
    """Print a formula as it is written."""
    tell_math(node)
    print_literal(pen, node)


def tell_math(node: nodes.Element) -> None:
    """Warn that formulas are not set."""
    logger.warning(
        "the printed manual does not set formulas; printed as it is written: %s",
        " ".join(node.astext().split()),
        location=node,
        type="putback",
        subtype="math",
    )


# links


def print_reference(pen: Pen, node: nodes.Element) -> None:
    """Print a link: with its page when it leads into the manual, with its address when it leads out."""
    body = pen.content(node.children, pen.anchors(node))
    if pen.in_title:
        # A heading is printed in the contents too, where it is a link already.
        pen.emit(body)
        return
    last = option("last", "true" if _is_last(node) else "")
    if "refid" in node:
        pen.emit(f"xref({literal(pen.name(pen.docname, node['refid']))}, {body}{last})")
        return
    address = clean(node.get("refuri", "")).replace("\n", " ").strip()
    if address.startswith(INTERNAL):
        docname, _, target = address[1:].partition("#")
        pen.emit(f"xref({literal(pen.name(docname, target))}, {body}{last})")
    elif address:
        text = node.astext().strip()
        shown = "" if text in (address, address.removeprefix("mailto:")) or _is_picture(node) else address
        pen.emit(f"ext({literal(address)}, {body}, {pen.quoted(shown.removeprefix('mailto:'), node)})")
    else:
        pen.emit(body)


def _is_last(node: nodes.Element) -> bool:
    """Tell whether nothing follows a link in its paragraph."""
    around: Any = node
    while isinstance(around.parent, nodes.Inline):
        if around.next_node(descend=False, siblings=True) is not None:
            return False
        around = around.parent
    return around.next_node(descend=False, siblings=True) is None


def _is_picture(node: nodes.Element) -> bool:
    return any(isinstance(child, nodes.image) for child in node.children)


def print_download(pen: Pen, node: nodes.Element) -> None:
    """Print a file to download: its name and its address."""
    address = clean(node.get("refuri", "")).strip()
    body = pen.content(node.children, pen.anchors(node))
    pen.emit(f"ext({literal(address)}, {body}, {pen.quoted(address, node)})" if address else body)


# notes at the foot


def print_note_mark(pen: Pen, node: nodes.Element) -> None:
    """Print the mark of a note, and with the first mark of each the note."""
    key = f"{pen.docname}:{node.get('refid', '')}"
    note = pen.notes.known.get(key)
    if pen.in_title or note is None:
        # A note in a heading would be printed in the contents as well.
        pen.emit(f"super({pen.quoted(node.astext(), node)})")
    elif key in pen.notes.printed:
        pen.emit(f"again({literal('note:' + key)})")
    else:
        pen.notes.printed.add(key)
        words = [child for child in note.children if not isinstance(child, nodes.label)]
        pen.emit(f"foot({literal('note:' + key)}, {pen.run_in(words)})")


def print_note(pen: Pen, node: nodes.Element) -> None:
    """Print a note where it stands when nothing points at it: no foot of a page will print it."""
    if not any(f"{pen.docname}:{target}" in pen.notes.wanted for target in node["ids"]):
        print_citation(pen, node)


def print_citation(pen: Pen, node: nodes.Element) -> None:
    """Print a source, or a note, with its label in brackets."""
    label = "".join(child.astext() for child in node.children if isinstance(child, nodes.label))
    rest = [child for child in node.children if not isinstance(child, nodes.label)]
    body = pen.run_in(rest, pen.anchors(node))
    pen.emit(f"terms(terms.item({pen.quoted('[' + label + ']', node)}, {body}))")


def print_citation_mark(pen: Pen, node: nodes.Element) -> None:
    """Print a link to a source."""
    name = literal(pen.name(pen.docname, node.get("refid", "")))
    pen.emit(f"xref({name}, {pen.quoted('[' + node.astext() + ']', node)})")


_PASSED = (passed, depart)

INLINE: Looks = {
    nodes.Text: whole(print_text),
    nodes.emphasis: wrapped("emph"),
    nodes.title_reference: wrapped("emph"),
    addnodes.literal_emphasis: wrapped("emph"),
    addnodes.desc_parameter: wrapped("emph"),
    nodes.strong: wrapped("strong"),
    addnodes.literal_strong: wrapped("strong"),
    nodes.subscript: wrapped("sub"),
    nodes.superscript: wrapped("super"),
    nodes.literal: whole(print_literal),
    nodes.math: whole(print_math),
    nodes.inline: (print_inline, depart),
    nodes.generated: _PASSED,
    nodes.abbreviation: _PASSED,
    nodes.acronym: _PASSED,
    addnodes.manpage: _PASSED,
    addnodes.pending_xref: _PASSED,
    addnodes.desc_sig_space: _PASSED,
    nodes.problematic: _PASSED,
    nodes.target: _PASSED,
    nodes.reference: whole(print_reference),
    addnodes.number_reference: whole(print_reference),
    addnodes.download_reference: whole(print_download),
    nodes.footnote_reference: whole(print_note_mark),
    nodes.footnote: whole(print_note),
    nodes.citation: whole(print_citation),
    nodes.citation_reference: whole(print_citation_mark),
}
"""Looks of what stands inside a line, and of notes."""
