"""How safety messages and the block to sign print."""

from __future__ import annotations

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.sphinxext.paper.steps import closes, may_be_tall
from putback.typstpdf import blocks, tables
from putback.typstpdf.escape import literal
from putback.typstpdf.pen import Looks, Pen, listed, option, whole, wrap, wrapped, yes

SIGNALS = ("danger", "warning", "caution", "notice")
"""The signal words of ANSI Z535.6, gravest first."""


def print_panel(pen: Pen, node: nodes.Element) -> None:
    """Print a safety message: signal word, hazard, consequence, how to avoid it."""
    signal = node.get("signal", "")
    if signal not in SIGNALS:
        # A signal that nobody knows must not look harmless.
        signal = "warning"
    body = pen.content(node.children, pen.anchors(node))
    # In a list of messages, nothing holds one to the next: all together would find no room on a page.
    listed = isinstance(node.next_node(descend=False, siblings=True), own.panel)
    options = option("alone", "true" if listed and isinstance(node.parent, nodes.section) else "")
    pen.emit(f"panel({literal(signal)}, {body}, measured: {yes(may_be_tall([node]))}{options})")


FEW, SHORT = 3, 80
"""More ways to avoid a hazard than this stand in two columns, when none of them has more characters."""


def print_avoid(pen: Pen, node: nodes.Element) -> None:
    """Print how to avoid a hazard."""
    lines = [child for child in node.children if isinstance(child, nodes.Element)]
    lengths = [len(line.astext()) + SHORT // 2 for line in lines]
    left = 0
    if len(lines) > FEW and all(len(line.astext()) <= SHORT for line in lines):
        left = min(range(1, len(lines)), key=lambda at: abs(sum(lengths[:at]) - sum(lengths[at:])))
    items = [pen.content([line]) for line in lines]
    pen.emit(pen.content([], pen.anchors(node)))
    pen.emit(f"avoid(({listed(items)}), left: {left})")


def print_signoff(pen: Pen, node: nodes.Element) -> None:
    """Print the block to sign, never over two pages."""
    blanks: list[nodes.Node] = []
    rest: list[nodes.Node] = []
    for child in node.children:
        (blanks if isinstance(child, own.blank) else rest).append(child)
    lines = [pen.content([blank]) for blank in blanks]
    pen.emit(f"signoff({pen.content(rest, pen.anchors(node))}, ({listed(lines)}))")


ONE_LINE = 26
"""A torque of no more characters is not broken in a table."""

TAIL = "62mm"
"""The height of the block to sign, with its heading."""


def print_table(pen: Pen, node: nodes.Element) -> None:
    """Print a table, its torques each on one line; the last rows of one before the block to sign stay with it."""
    for torque in node.findall(own.torque):
        if len(torque.astext()) <= ONE_LINE:
            torque["classes"].append(tables.UNBROKEN)
    tables.print_table(pen, node, tail=TAIL if closes(node) else "")


def print_paragraph(pen: Pen, node: nodes.Element) -> None:
    """Print a paragraph; one before the block to sign stays with it."""
    if closes(node):
        wrap(pen, "leading", node)
    blocks.print_paragraph(pen, node)


PANELS: Looks = {
    own.panel: whole(print_panel),
    own.panel_hazard: wrapped("hazard"),
    own.panel_consequence: wrapped("p"),
    own.panel_avoid: whole(print_avoid),
    own.panel_wear: wrapped("wear"),
    own.signoff: whole(print_signoff),
    nodes.table: whole(print_table),
    nodes.paragraph: whole(print_paragraph),
}
"""Looks of safety messages and of the block to sign."""
