"""One document tree out of many: every document stands where the table of contents names it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes
from sphinx.util import logging

if TYPE_CHECKING:
    from sphinx.builders import Builder

logger = logging.getLogger(__name__)


def assemble(builder: Builder) -> nodes.document:
    """Return the whole manual as one tree, references resolved, pictures chosen.

    Unlike Sphinx's own way, every node's `parent` is the node that holds it, and a document remembers the caption of
    the table of contents that brought it in (`start_of_file["kicker"]`).
    """
    root = builder.config.root_doc
    tree = builder.env.get_doctree(root).deepcopy()
    _inline(builder, tree, root, {root})
    tree["docname"] = root
    builder.env.resolve_references(tree, root, builder)
    builder.post_process_images(tree)
    return tree


def _inline(builder: Builder, tree: nodes.Element, docname: str, seen: set[str]) -> None:
    for toctree in list(tree.findall(addnodes.toctree)):
        documents: list[nodes.Node] = []
        for name in map(str, toctree["includefiles"]):
            if name in seen:
                continue
            seen.add(name)
            try:
                inner = builder.env.get_doctree(name).deepcopy()
            except OSError:
                logger.warning("document %r could not be read", name, location=docname, type="putback", subtype="toc")
                continue
            _inline(builder, inner, name, seen)
            start = addnodes.start_of_file(docname=name)
            if toctree.get("caption"):
                start["kicker"] = toctree["caption"]
            # `extend` gives every child its new parent.
            start.extend(inner.children)
            documents.append(start)
        _place(toctree, documents)


def _place(toctree: nodes.Element, documents: list[nodes.Node]) -> None:
    """Put documents where a reader expects them in a book.

    What follows a table of contents in its own section must not end up below the heading of the last document. So the
    documents come after the words of the section and before its next heading; those of a hidden table, which
    authors write at the top of a page, come at the end of the section.
    """
    child: nodes.Element = toctree
    while child.parent is not None and not isinstance(child.parent, nodes.section | nodes.document):
        child = child.parent
    holder: nodes.Element | None = child.parent
    if holder is None:
        return
    at = holder.index(child) + 1
    while at < len(holder) and (toctree.get("hidden") or not isinstance(holder[at], nodes.section)):
        at += 1
    holder.insert(at, documents)
    toctree.parent.remove(toctree)
