"""How things on lines of their own print: paragraphs, lists, quotes, code, remarks, descriptions."""

from __future__ import annotations

from typing import Any

from docutils import nodes
from sphinx import addnodes
from sphinx.locale import admonitionlabels

from putback.typstpdf.escape import clean, literal
from putback.typstpdf.inline import tell_math
from putback.typstpdf.pen import Look, Looks, Pen, depart, option, passed, plain_classes, skip, whole, wrap, wrapped

NUMBERINGS = {
    "arabic": "1",
    "loweralpha": "a",
    "upperalpha": "A",
    "lowerroman": "i",
    "upperroman": "I",
}

GRAVE = frozenset({"danger", "error", "warning", "caution", "attention", "important"})
"""Remarks that stand out."""

STAYS = "leads-in"
"""Class of a paragraph that stays with what is below it."""

ALONE = 300
"""A paragraph of at most so many characters, alone below a heading, stays with the table that follows it."""


def print_paragraph(pen: Pen, node: nodes.Element) -> None:
    """Print a paragraph."""
    if is_lone(node):
        # A picture that stands alone is no part of a line; in a paragraph, Typst would press it into one.
        pictures = [child for child in node.children if isinstance(child, nodes.image)]
        pen.emit(f"block({pen.content(pictures, pen.anchors(node))})")
    else:
        wrap(pen, "leading" if leads_in(node) else "p", node)


def leads_in(node: nodes.Element) -> bool:
    """Tell whether a paragraph says what comes below it, and so stays with it: a table, or a list after a colon.

    What stands alone between a heading and a table stays with it as well: else the two were the foot of a page.
    """
    if STAYS in plain_classes(node):
        return True
    following = node.next_node(descend=False, siblings=True)
    at = node.parent.index(node) if node.parent is not None else 0
    if at and isinstance(node.parent[at - 1], nodes.title) and len(node.astext()) <= ALONE:
        leading = isinstance(following, nodes.paragraph) and STAYS in plain_classes(following)
        if leading or isinstance(following, nodes.table):
            return True
    return isinstance(following, FOLLOWING) and node.astext().rstrip().endswith(":")


FOLLOWING = (nodes.bullet_list, nodes.enumerated_list, nodes.definition_list, nodes.table, nodes.literal_block)
"""What a paragraph can lead in to."""


def is_lone(node: nodes.Element) -> bool:
    """Tell whether a paragraph is nothing but a picture, or several, as Markdown writes a picture of its own."""
    pictures = [child for child in node.children if isinstance(child, nodes.image)]
    rest = [child for child in node.children if child not in pictures]
    return (
        isinstance(node, nodes.paragraph)
        and bool(pictures)
        and not any(isinstance(child, nodes.Element) or child.astext().strip() for child in rest)
    )


def print_transition(pen: Pen, node: nodes.Element) -> None:
    """Print a line between two parts of a text."""
    # MyST draws a line above its footnotes, which stand at the foot of the page here.
    if "footnotes" not in plain_classes(node):
        pen.emit("transition()")


# lists


def _tight(node: nodes.Element) -> str:
    for item in node.children:
        blocks = [child for child in item.children if not isinstance(child, nodes.Invisible)]
        if len([child for child in blocks if isinstance(child, nodes.paragraph)]) > 1:
            return "false"
        if not all(isinstance(child, nodes.paragraph | nodes.bullet_list | nodes.enumerated_list) for child in blocks):
            return "false"
    return "true"


def _items(pen: Pen, node: nodes.Element, function: str) -> str:
    items = []
    for item in node.children:
        if isinstance(item, nodes.Element):
            items.append(f"{function}({pen.content(item.children, pen.anchors(item))})")
    return ",\n".join(items)


def print_bullets(pen: Pen, node: nodes.Element) -> None:
    """Print a list with dots."""
    passed(pen, node)
    if node.children:
        pen.emit(f"list(tight: {_tight(node)},\n{_items(pen, node, 'list.item')})")


def print_numbered(pen: Pen, node: nodes.Element) -> None:
    """Print a list with numbers or letters."""
    passed(pen, node)
    if node.children:
        sign = NUMBERINGS.get(node.get("enumtype", "arabic"), "1")
        pattern = clean(node.get("prefix", "")) + sign + clean(node.get("suffix", "."))
        start = int(node.get("start", 1))
        items = _items(pen, node, "enum.item")
        pen.emit(f"enum(tight: {_tight(node)}, start: {start}, numbering: {literal(pattern)},\n{items})")


def _terms(pen: Pen, items: list[str]) -> None:
    if items:
        pen.emit("terms(" + ",\n".join(items) + ")")


def print_definitions(pen: Pen, node: nodes.Element) -> None:
    """Print a list of words and what they mean."""
    passed(pen, node)
    items = []
    for item in node.findall(nodes.definition_list_item):
        if item.parent is not node:
            continue
        words = [child for child in item.children if isinstance(child, nodes.term | nodes.classifier)]
        rest = [child for child in item.children if child not in words]
        heads = [pen.content(term.children, pen.anchors(term)) for term in words]
        body = pen.run_in(_inner(rest), pen.anchors(item))
        items.append(f"terms.item(({','.join(heads)},).join({literal(', ')}), {body})")
    _terms(pen, items)


def _inner(children: list[nodes.Node]) -> list[nodes.Node]:
    return [
        inner for child in children for inner in (child.children if isinstance(child, nodes.definition) else [child])
    ]


def print_fields(pen: Pen, node: nodes.Element) -> None:
    """Print a list of fields."""
    passed(pen, node)
    items = []
    for field in node.children:
        if isinstance(field, nodes.field):
            name, body = field.children[0], field.children[1:]
            inner = [leaf for part in body if isinstance(part, nodes.Element) for leaf in part.children]
            items.append(f"terms.item({pen.content(name.children)}, {pen.run_in(inner, pen.anchors(field))})")
    _terms(pen, items)


def print_options(pen: Pen, node: nodes.Element) -> None:
    """Print a list of options of a command."""
    items = []
    for item in node.children:
        if isinstance(item, nodes.Element):
            head = ", ".join(option.astext() for option in item.findall(nodes.option))
            body = [leaf for part in item.findall(nodes.description) for leaf in part.children]
            items.append(f"terms.item(lit({pen.quoted(head, item)}), {pen.run_in(body)})")
    _terms(pen, items)


def print_lines(pen: Pen, node: nodes.Element) -> None:
    """Print lines as they are broken."""
    pen.emit(f"lines(({_lines(pen, node)},))")


def _lines(pen: Pen, node: nodes.Element, depth: int = 0) -> str:
    lines = []
    for child in node.children:
        if isinstance(child, nodes.line_block):
            lines.append(_lines(pen, child, depth + 1))
        elif isinstance(child, nodes.line):
            lines.append(f"({depth}, {pen.content(child.children)})")
    return ",\n".join(lines)


# code


def print_code(pen: Pen, node: nodes.Element) -> None:
    """Print what is to be read letter by letter, on lines of its own."""
    passed(pen, node)
    drawn: dict[str, Any] = node.get("highlight_args", {})
    marked = "".join(f"{line}, " for line in drawn.get("hl_lines", ()))
    options = option("marked", f"({marked})" if marked else "")
    pen.emit(f"code({pen.quoted(node.astext().expandtabs(4), node, blanks=True)}{options})")


def print_formula(pen: Pen, node: nodes.Element) -> None:
    """Print a formula as it is written."""
    tell_math(node)
    print_code(pen, node)


# remarks


def _remark(kind: str) -> Look:
    def visit(pen: Pen, node: nodes.Element) -> None:
        children = list(node.children)
        label = pen.quoted(str(admonitionlabels.get(kind, kind.capitalize())), node)
        if children and isinstance(children[0], nodes.title):
            label = pen.content(children[0].children)
            children = children[1:]
        grave = "true" if kind in GRAVE else "false"
        pen.emit(f"remark({label}, {pen.content(children, pen.anchors(node))}, grave: {grave})")
        raise nodes.SkipNode

    return visit, depart


def print_titled(pen: Pen, node: nodes.Element) -> None:
    """Print a box with a title."""
    children = list(node.children)
    heads = [child for child in children if isinstance(child, nodes.title | nodes.subtitle)]
    head = pen.content([leaf for title in heads for leaf in title.children]) if heads else "none"
    rest = [child for child in children if child not in heads]
    pen.emit(f"box-of({head}, {pen.content(rest, pen.anchors(node))})")


# descriptions of things with a signature


def print_signature(pen: Pen, node: nodes.Element) -> None:
    """Print a signature."""
    pen.emit(f"signature({{[]\n{pen.anchors(node)}\n{pen.quoted(node.astext(), node)}\n}})")


_REMARKS: dict[str, type[nodes.Element]] = {
    kind: getattr(nodes, kind, None) or getattr(addnodes, kind) for kind in (*admonitionlabels, "admonition")
}
"""The node of each kind of remark."""

_HOLDERS: tuple[type[nodes.Element], ...] = (
    nodes.compound, nodes.container, nodes.legend, nodes.definition, addnodes.only, addnodes.glossary, addnodes.acks,
    addnodes.desc, addnodes.hlist, addnodes.hlistcol, addnodes.productionlist,
)  # fmt: skip
"""What only holds other things together."""

_UNSEEN: tuple[type[nodes.Element], ...] = (
    # `raw:: typst` as well: what an author writes never becomes a program.
    nodes.raw, nodes.comment, nodes.meta, nodes.substitution_definition, nodes.system_message, nodes.pending,
    nodes.colspec, nodes.header, nodes.footer, nodes.decoration, addnodes.index, addnodes.tabular_col_spec,
    addnodes.highlightlang,
)  # fmt: skip
"""What is not printed."""

BLOCKS: Looks = {
    nodes.paragraph: whole(print_paragraph),
    addnodes.compact_paragraph: whole(print_paragraph),
    nodes.rubric: wrapped("rubric"),
    addnodes.centered: wrapped("rubric"),
    nodes.subtitle: wrapped("rubric"),
    nodes.caption: wrapped("caption"),
    nodes.block_quote: wrapped("quoted"),
    nodes.attribution: wrapped("attribution"),
    nodes.transition: whole(print_transition),
    addnodes.versionmodified: wrapped("aside"),
    nodes.bullet_list: whole(print_bullets),
    nodes.enumerated_list: whole(print_numbered),
    nodes.definition_list: whole(print_definitions),
    nodes.field_list: whole(print_fields),
    nodes.docinfo: whole(print_fields),
    nodes.option_list: whole(print_options),
    nodes.line_block: whole(print_lines),
    nodes.literal_block: whole(print_code),
    nodes.doctest_block: whole(print_code),
    addnodes.production: whole(print_code),
    nodes.math_block: whole(print_formula),
    nodes.topic: whole(print_titled),
    nodes.sidebar: whole(print_titled),
    addnodes.desc_signature: whole(print_signature),
    addnodes.desc_content: wrapped("quoted"),
    **{node: _remark(kind) for kind, node in _REMARKS.items()},
    **dict.fromkeys(_HOLDERS, (passed, depart)),
    **dict.fromkeys(_UNSEEN, (skip, depart)),
}
"""Looks of what stands on lines of its own, but headings, tables and pictures."""
