"""How the sheet of one job prints: its head, the block that opens it, and the tray for parts."""

from __future__ import annotations

from collections.abc import Sequence

from docutils import nodes

from putback.sphinxext import nodes as own
from putback.typstpdf import sections
from putback.typstpdf.escape import literal
from putback.typstpdf.pen import Looks, Pen, is_within, listed, option, plain_classes, whole, wrapped, yes


def is_sheet(pen: Pen) -> bool:
    """Tell whether the sheet of one job is printed, and not the book."""
    return str(pen.config.putback_form) == "sheet"


def print_title(pen: Pen, node: nodes.Element) -> None:
    """Print a heading; that of a sheet stands in its head."""
    section = node.parent
    if is_sheet(pen) and isinstance(section, nodes.section) and isinstance(section.parent, nodes.document):
        pen.headings.last = 1
        pen.named(pen.names(section))
        return
    sections.print_title(pen, node)


def print_masthead(pen: Pen, node: nodes.Element) -> None:
    """Print the head of a sheet, with its title and the code of its address."""
    section = node.parent
    assert isinstance(section, nodes.section)
    title = next(child for child in section.children if isinstance(child, nodes.title))
    address = [child for child in node.children if isinstance(child, nodes.Element) and "web" in plain_classes(child)]
    notice = [child for child in node.children if child not in address]
    config = pen.config
    told = (node["kicker"], config.putback_title, config.putback_subtitle, config.putback_edition)
    kicker = pen.quoted(" · ".join(each for each in told if each), node)
    code = pen.drawing(node["svg"], node["alt"]) if node["svg"] else ""
    names = pen.names(section)
    pen.emit(
        f"masthead({kicker}, {pen.content(title.children)}, {_or_none(pen, notice)}, {_or_none(pen, address)}"
        f"{option('label-name', literal(names[0]) if names else '')}{option('code', code)})"
    )


def _or_none(pen: Pen, children: Sequence[nodes.Node]) -> str:
    return pen.content(children) if children else "none"


def print_sheet_setup(pen: Pen, node: nodes.Element) -> None:
    """Print the block that opens a job, in columns."""
    pen.headings.minor = True
    parts = listed([pen.content([child]) for child in node.children])
    pen.headings.minor = False
    pen.emit(f"sheet-setup(({parts}), before: {pen.content([], pen.anchors(node))})")


def print_tray(pen: Pen, node: nodes.Element) -> None:
    """Print the tray, and lines for notes."""
    notes = [child for child in node.children if isinstance(child, own.note_lines)]
    body = pen.content([child for child in node.children if child not in notes], pen.anchors(node))
    options = f"small: {yes(bool(node.get('small')))}, wide: {yes(is_within(node, own.wide))}"
    pen.emit(f"tray(flat => {body}, {pen.content(notes)}, {options})")


def print_fields(pen: Pen, node: nodes.Element) -> None:
    """Print the fields of a tray."""
    fields = [_field(pen, child) for child in node.children if isinstance(child, own.tray_field)]
    pen.emit(f"tray-fields(({listed(fields)}), flat: flat)")


def _field(pen: Pen, node: own.tray_field) -> str:
    outlines = [
        f"({pen.drawing(each.svg, each.alt) if not at else f'pdf.artifact({pen.drawing(each.svg, each.alt)})'}, "
        f"{each.width:.3f}mm, {pen.quoted(each.place, node)})"
        for at, each in enumerate(node["outlines"])
    ]
    return f"({pen.quoted(node['number'], node)}, {pen.content(node.children)}, ({listed(outlines)}), {node['room']}mm)"


def print_note_lines(pen: Pen, node: nodes.Element) -> None:
    """Print lines to write on."""
    pen.emit(f"note-lines({pen.quoted(node.astext(), node)})")


SHEET: Looks = {
    nodes.title: whole(print_title),
    own.masthead: whole(print_masthead),
    own.wide: wrapped("wide"),
    own.tray: whole(print_tray),
    own.tray_fields: whole(print_fields),
    own.note_lines: whole(print_note_lines),
}
"""Looks of the sheet of one job."""
