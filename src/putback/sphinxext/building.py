"""Small pieces of doctree that the pages are made of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext import nodes as own
from putback.words.pieces import Phrase, Role

Cell = str | nodes.Node | Sequence[nodes.Node]
"""What stands in a cell: words, one node, or several blocks."""


def paragraph(words: str | Phrase, *classes: str) -> nodes.paragraph:
    """Return a paragraph of plain words or of a phrase."""
    node = nodes.paragraph(classes=list(classes))
    node += [nodes.Text(words)] if isinstance(words, str) else inlines(words)
    return node


def inlines(pieces: Phrase) -> list[nodes.Node]:
    """Return a phrase as inline nodes: torques stand out, things link to the machine's page."""
    result: list[nodes.Node] = []
    for piece in pieces:
        match piece.role:
            case Role.WORDS:
                result.append(nodes.Text(piece.text))
            case Role.TORQUE:
                result.append(own.torque(piece.text, piece.text))
            case Role.THING:
                result.append(link("thing", piece.key or "", piece.text))
    return result


def link(kind: str, target: str, words: str) -> addnodes.pending_xref:
    """Return a reference to a thing, job or caution; it stays plain words when the project has no page for it."""
    node = addnodes.pending_xref(
        "", refdomain="putback", reftype=kind, reftarget=target, refexplicit=True, refwarn=False
    )
    node += nodes.inline(words, words, classes=["thing"] if kind == "thing" else [])
    return node


def bullets(items: Iterable[str | Phrase]) -> nodes.bullet_list:
    """Return a bullet list."""
    node = nodes.bullet_list(bullet="-")
    for item in items:
        node += nodes.list_item("", paragraph(item))
    return node


def bullets_or(none: str, items: Sequence[str]) -> nodes.Node:
    """Return a bullet list; say that there is none, rather than leave the reader to wonder."""
    return bullets(items) if items else paragraph(none)


def section(title: str, ident: str, *children: nodes.Node, classes: Sequence[str] = ()) -> nodes.section:
    """Return a section with a title."""
    node = nodes.section(ids=[ident], names=[], classes=list(classes))
    node += nodes.title(title, title)
    node += list(children)
    return node


class Noted(list[Cell]):
    """The cells of a row, and below all but the first of them a remark; the dash of none is no remark."""

    def __init__(self, cells: Iterable[Cell], remark: str) -> None:
        super().__init__(cells)
        self.remark = "" if remark == NONE else remark


NONE = "–"
"""What stands in a cell that says nothing."""

REMARK = "remark-row"
"""Class of a row that is a remark on the row above it."""


def table(heads: Sequence[str], rows: Iterable[Sequence[Cell]], widths: Sequence[int], *classes: str) -> nodes.table:
    """Return a table; `widths` are relative."""
    node = nodes.table(classes=["putback", *classes])
    group = nodes.tgroup(cols=len(heads))
    node += group
    group += [nodes.colspec(colwidth=width) for width in widths]
    head = nodes.thead()
    head += _row(heads)
    body = nodes.tbody()
    for row in rows:
        if isinstance(row, Noted) and row.remark:
            body += _noted(row)
        else:
            body += _row(row)
    group += head
    group += body
    return node


def _noted(row: Noted) -> list[nodes.row]:
    """Return a row and its remark, as wide as all columns but the first; where these say nothing, in their place."""
    first, *others = row
    if all(cell == NONE for cell in others):
        made = [_row([first, row.remark])]
    else:
        made = [_row(row), _row([row.remark])]
        next(made[0].findall(nodes.entry))["morerows"] = 1
        made[1]["classes"].append(REMARK)
    list(made[-1].findall(nodes.entry))[-1]["morecols"] = len(others) - 1
    return made


def _row(cells: Sequence[Cell]) -> nodes.row:
    row = nodes.row()
    for cell in cells:
        entry = nodes.entry()
        if isinstance(cell, str):
            entry += paragraph(cell)
        elif isinstance(cell, nodes.Node):
            entry += cell
        else:
            entry += list(cell)
        row += entry
    return row


def fact(label: str, *children: nodes.Node | str) -> own.fact:
    """Return a labelled value."""
    node = own.fact(label=label)
    node += [paragraph(child) if isinstance(child, str) else child for child in children]
    return node
