"""How HTML shows tables: heads that say what they are heads of, boxes to tick, and what columns there is room for."""

from __future__ import annotations

import math
import re
from itertools import zip_longest
from typing import Any

from docutils import nodes

from putback.sphinxext.building import REMARK
from putback.words import labels_for

NARROW = 14
"""A cell of at most so many characters stands on one line: a part number is not broken at its hyphen."""

LONG = 20
"""A cell with a word of more characters may break it anywhere, or the other columns would have no room."""

BOX = "☐"
"""What stands in a cell that is a box to tick."""

LETTER, BOLD, SPACE = 0.5, 0.6, 1.05
"""Widths, em: a letter of the usual faces, a bold one, and what is beside a column. Ours is narrower."""

PHONE = 24
"""On less than this, em, columns have no room whatever stands in them."""

SPANNED = "putback_spanned"
"""Attribute of a row: so many of its columns, at the left, are taken by cells of rows above it."""

_BREAKS = re.compile(r"[ \t\n\u200b]+|(?<=[-–—])")
"""Where a line may break; not at a no-break space."""


def visit_table(self: Any, node: nodes.table) -> None:
    """Open a table; when it is too wide, it scrolls in a box of its own, which the keyboard reaches."""
    if _scrolls(self, node):
        label = self.attval(labels_for(self.config.language).book.table)
        need = f' style="--putback-need: {_need(node)}"' if "putback" in node["classes"] else ""
        self.body.append(f'<div class="table-box" role="group" aria-label="{label}" tabindex="0"{need}>\n')
    type(self).visit_table(self, node)


def depart_table(self: Any, node: nodes.table) -> None:
    """Close a table, and its box."""
    type(self).depart_table(self, node)
    if _scrolls(self, node):
        self.body.append("</div>\n")


def _scrolls(self: Any, node: nodes.table) -> bool:
    # Other themes have their own way with tables, but not with ours: theirs would be boxes in boxes.
    return self.config.html_theme == "putback" or "putback" in node["classes"]


def _need(node: nodes.table) -> int:
    """Return how wide a table of ours must be for its columns to stand side by side, em.

    That is, for each column, the longest of what is not broken in it. In a face much wider than the usual ones, a table
    that is but little wider than this scrolls in its box.
    """
    columns: list[float] = []
    for row in (each for each in node.findall(nodes.row) if REMARK not in each["classes"]):
        head = isinstance(row.parent, nodes.thead)
        widths = [_unbroken(cell.astext(), head, bold=head or not at) for at, cell in enumerate(row.children)]
        columns = [max(pair) for pair in zip_longest(columns, widths, fillvalue=0.0)]
    return max(PHONE, math.ceil(sum(columns) + SPACE * len(columns)))


def _unbroken(text: str, head: bool, *, bold: bool) -> float:
    """Return how much of a cell stands on one line whatever happens, em."""
    whole = [text] if len(text) <= NARROW and not head else _BREAKS.split(text)
    return max(min(len(part), LONG) for part in whole) * (BOLD if bold else LETTER)


def visit_entry(self: Any, node: nodes.entry) -> None:
    """Open a cell. Heads say what they are heads of; a cell of our tables carries the head of its column.

    So the rows of our tables can stand as blocks of labelled values where the screen is narrow.
    """
    row: Any = node.parent
    column = row.column + row.get(SPANNED, 0)
    group = row.parent.parent
    in_head = isinstance(row.parent, nodes.thead)
    # A remark on the row above it speaks for itself, and has no head.
    if "putback" not in group.parent["classes"] or REMARK in row["classes"]:
        type(self).visit_entry(self, node)
        if in_head:
            _with(self, 'scope="col"')
        return
    for below in _rows_below(row, node.get("morerows", 0)):
        below[SPANNED] = below.get(SPANNED, 0) + 1
    label = _head_of(group, column)
    if max(map(len, _BREAKS.split(node.astext()))) > LONG:
        node["classes"].append("long")
    if in_head:
        type(self).visit_entry(self, node)
        _with(self, 'scope="col"')
    elif column == 0:
        row.column += 1
        down = {"rowspan": node["morerows"] + 1} if "morerows" in node else {}
        self.body.append(self.starttag(node, "th", "", scope="row", **down))
        self.context.append("</th>\n")
    elif node.astext() == BOX:
        row.column += 1
        name = self.attval(f"{row.children[0].astext()}: {label.lower()}")
        self.body.append(f'<td data-label="{self.attval(label)}">{tick_box(name)}</td>\n')
        raise nodes.SkipNode
    else:
        _open_value(self, node, label)


def _open_value(self: Any, node: nodes.entry, label: str) -> None:
    """Open a cell with a value; what stands across several columns is a remark, and has no head."""
    text = node.astext()
    if text in ("–", ""):
        node["classes"].append("none")
    elif len(text) <= NARROW:
        node["classes"].append("short")
    type(self).visit_entry(self, node)
    if "morecols" not in node:
        _with(self, f'data-label="{self.attval(label)}"')


def _rows_below(row: nodes.Element, count: int) -> list[Any]:
    """Return so many rows after a row."""
    rows = row.parent.children if count else []
    at = rows.index(row) + 1 if count else 0
    return list(rows[at : at + count])


def _head_of(group: nodes.Element, column: int) -> str:
    """Return the words at the head of a column; nothing when there are none."""
    for rows in group.findall(nodes.thead):
        head = next(iter(rows.findall(nodes.row)))
        return head.children[column].astext() if column < len(head.children) else ""
    return ""


def depart_entry(self: Any, node: nodes.entry) -> None:
    """Close a cell."""
    type(self).depart_entry(self, node)


def tick_box(name: str, beside: str = "") -> str:
    """Return a box to tick, as HTML; its name and what stands beside it are HTML already."""
    return f'<label class="tick"><input type="checkbox" aria-label="{name}">{beside}</label>'


def _with(self: Any, attribute: str) -> None:
    """Add an attribute to the tag that was written last."""
    self.body[-1] = f"{self.body[-1].rstrip().removesuffix('>')} {attribute}>"
