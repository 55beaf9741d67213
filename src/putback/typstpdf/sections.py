"""How documents, sections and their titles print."""

from __future__ import annotations

from docutils import nodes
from sphinx import addnodes

from putback.typstpdf.escape import literal
from putback.typstpdf.pen import Looks, Pen, depart, ids, option, plain_classes, skip, whole, wrap

WORDLESS = (
    nodes.Invisible,
    nodes.title,
    addnodes.start_of_file,
    nodes.section,
    addnodes.index,
    nodes.target,
)
"""What in the first document does not count as prose of its own."""


def print_document(pen: Pen, node: nodes.Element, *, own_page: bool = False) -> None:
    """Print a document where the table of contents names it; with `own_page` on a page of its own."""
    outer, pen.docname = pen.docname, node["docname"]
    here = pen.headings
    depth, base, inner = here.depth, here.base, here.inner
    if own_page:
        # Nothing has been printed before the first one.
        pen.emit("new-page()" if here.tabs else "new-page(first: true)")
        here.after_page = False
    here.kicker, here.own_page = node.get("kicker", ""), own_page
    if not any(isinstance(child, nodes.section) for child in node.children):
        pen.emit(f"anchor({literal(pen.name(pen.docname, ''))})")
    pen.emit(pen.filed(pen.docname, node.children))
    pen.docname = outer
    here.depth, here.base, here.inner, here.kicker, here.own_page = depth, base, inner, "", False
    here.after_page = here.after_page or own_page


def enter_section(pen: Pen, node: nodes.Element) -> None:
    """Go a level down."""
    here = pen.headings
    if here.depth == 0:
        # The heading of the first document is the title on the cover: what is below it are the chapters. With
        # words of its own it is a chapter too, and keeps its own sections.
        here.base = 1 if pen.docname == pen.config.root_doc else 0
        here.opens_with_words = bool(here.base) and _has_prose(node)
    here.depth += 1


def leave_section(pen: Pen, node: nodes.Element) -> None:
    """Go a level up."""
    pen.headings.depth -= 1


def print_title(pen: Pen, node: nodes.Element) -> None:
    """Print a heading."""
    section = node.parent
    if not isinstance(section, nodes.section):
        wrap(pen, "rubric", node)
    here = pen.headings
    opening = pen.docname == pen.config.root_doc and here.opens_with_words
    level = here.depth if opening else here.depth - here.base
    if level < 1:
        if not _has_prose(section):
            return
        level = 1
    # PDF/UA-1 refuses a heading that skips a level.
    level = min(level, here.last + 1)
    here.last = level
    pen.in_title = True
    body = pen.content(node.children, _section_number(pen, section))
    pen.in_title = False
    options = option("label-name", literal(pen.names(section)[0]) if section["ids"] else "")
    options += option("kicker", pen.quoted(here.kicker, node) if here.kicker else "")
    options += _place(pen, level, opens=isinstance(section.parent, addnodes.start_of_file) and here.own_page)
    here.kicker = ""
    pen.named(pen.names(section))
    pen.emit(f"head({level}, {body}{options})")


IN_CONTENTS = 2
"""Headings of so many levels stand in the contents."""


def _place(pen: Pen, level: int, *, opens: bool) -> str:
    """Return what a heading is in the book: whether it has a tab, begins a page, stands in the contents."""
    here, options = pen.headings, ""
    if here.minor:
        return ", minor: true"
    if level == 1 or opens:
        here.tabs += 1
        options += f", tab: {here.tabs}"
        if here.after_page:
            pen.emit("next-page()")
        if opens or here.after_page:
            options += ", fresh: true"
        here.after_page = False
    here.entries += not here.inner and level <= IN_CONTENTS
    if here.inner:
        options += ", outlined: false"
    here.inner = here.inner or opens
    return options


def _section_number(pen: Pen, section: nodes.Element) -> str:
    numbers = pen.env.toc_secnumbers.get(pen.docname, {})
    first = isinstance(section.parent, addnodes.start_of_file | nodes.document)
    for key in ("" if first else None, *(f"#{target}" for target in ids(section))):
        if key is not None and numbers.get(key):
            return pen.quoted(".".join(map(str, numbers[key])) + " ", section)
    return ""


def _has_prose(section: nodes.Element) -> bool:
    return any(
        not isinstance(child, WORDLESS) and "toctree-wrapper" not in plain_classes(child)
        for child in section.children
        if isinstance(child, nodes.Element)
    )


SECTIONS: Looks = {
    nodes.document: (depart, depart),
    addnodes.start_of_file: whole(print_document),
    nodes.section: (enter_section, leave_section),
    nodes.title: whole(print_title),
    addnodes.toctree: (skip, depart),
}
"""Looks of what holds the pages."""
