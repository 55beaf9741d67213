"""Jobs on paper: how the nodes of this extension print with the builder `typstpdf`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes
from sphinx import addnodes

from putback.sphinxext import nodes as own
from putback.sphinxext.paper.block import BLOCK
from putback.sphinxext.paper.matter import MATTER
from putback.sphinxext.paper.panels import PANELS
from putback.sphinxext.paper.sheet import SHEET
from putback.sphinxext.paper.steps import STEPS
from putback.telling import told_in
from putback.typstpdf import setup_typst
from putback.typstpdf.builder import TypstPdfBuilder
from putback.typstpdf.pen import Looks, Pen, whole
from putback.typstpdf.sections import print_document
from putback.words.paper import paper_words

if TYPE_CHECKING:
    from sphinx.application import Sphinx

TEMPLATES = [Path(__file__).with_name(name) for name in ("job.typ", "sheet.typ", "matter.typ")]
"""All looks of a job, of its sheet, and of what stands at the back of a book."""


def print_page(pen: Pen, node: nodes.Element) -> None:
    """Print a document; a job begins a page, and is named at the head of its pages."""
    print_document(pen, node, own_page=_is_job(node))


def _document_of(node: nodes.Element) -> nodes.Element | None:
    parent: nodes.Element | None = node.parent
    while parent is not None and not isinstance(parent, addnodes.start_of_file):
        parent = parent.parent
    return parent


def _is_job(document: nodes.Element) -> bool:
    return any(_document_of(step) is document for step in document.findall(own.steps))


LOOKS: Looks = {**BLOCK, **STEPS, **PANELS, **MATTER, **SHEET, addnodes.start_of_file: whole(print_page)}
"""How each node of `putback.sphinxext.nodes` prints, and how documents do that have steps."""


def setup_paper(app: Sphinx) -> None:
    """Register the builder `typstpdf` and all that it needs for jobs."""
    setup_typst(app)
    for node, look in LOOKS.items():
        # Not `app.add_node`: the other outputs register the same nodes, and a second time would warn.
        app.registry.add_translation_handlers(node, typst=look)
    app.connect("builder-inited", _equip)


def _equip(app: Sphinx) -> None:
    if isinstance(app.builder, TypstPdfBuilder):
        app.builder.templates += TEMPLATES
        language = app.config.language or "en"
        app.builder.labels.update(paper_words(language) | {"day": told_in(language).date(app.config.putback_date)})
