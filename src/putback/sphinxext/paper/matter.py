"""How the index prints: in two columns, with pages in place of steps."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.typstpdf.escape import literal
from putback.typstpdf.inline import INTERNAL
from putback.typstpdf.pen import Looks, Pen, depart, listed, whole, wrapped


def print_entry(pen: Pen, node: nodes.Element) -> None:
    """Print one thing with its jobs; what has no page of this book is left out."""
    head, *uses = node.children
    assert isinstance(head, nodes.Element)
    if node.get("brief"):
        pen.emit(f"index-entry({pen.quoted(head.astext(), head)}, ({listed(map(literal, _wanted(pen, uses)))}), ())")
        return
    lines = [_use(pen, use) for use in uses if isinstance(use, own.index_use)]
    pen.emit(f"index-entry({pen.quoted(head.astext(), head)}, {_names(pen, head)}, ({listed(lines)}))")


def _wanted(pen: Pen, uses: list[nodes.Node]) -> Iterator[str]:
    """Yield the targets of all jobs: the steps, or where a job begins that only needs it."""
    for use in uses:
        if isinstance(use, own.index_use):
            parts: list[nodes.Element] = list(use.findall(own.numbers))
            yield from (name for part in parts or [use] for name in _targets(pen, part))


def _use(pen: Pen, use: nodes.Element) -> str:
    first = use.children[0]
    assert isinstance(first, nodes.Element)
    parts = [f"({pen.quoted(part['label'], part)}, {_names(pen, part)})" for part in use.findall(own.numbers)]
    # What a job only needs, it lays out where it begins.
    parts = parts or [f'("", {_names(pen, first)})']
    return f"({pen.quoted(first.astext(), first)}, ({listed(parts)}))"


def _names(pen: Pen, node: nodes.Element) -> str:
    return f"({listed(literal(name) for name in _targets(pen, node))})"


def _targets(pen: Pen, node: nodes.Element) -> Iterator[str]:
    for reference in node.findall(nodes.reference):
        if "refid" in reference:
            yield pen.name(pen.docname, reference["refid"])
        elif reference.get("refuri", "").startswith(INTERNAL):
            docname, _, target = reference["refuri"][len(INTERNAL) :].partition("#")
            yield pen.name(docname, target)


MATTER: Looks = {
    own.index_list: wrapped("index-list"),
    own.index_entry: whole(print_entry),
    own.index_use: (depart, depart),
    own.numbers: (depart, depart),
}
"""Looks of the index."""
