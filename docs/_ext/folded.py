"""Tables of these pages fold where there is no room: each row becomes a block of labelled values.

The theme does so with the tables that Putback draws.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx.transforms.post_transforms import SphinxPostTransform

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.util.typing import ExtensionMetadata

A_LINE = 40
"""A cell of more characters is a sentence or two, and gets the whole width."""


class FoldTables(SphinxPostTransform):
    """Mark every table with a head as one that folds."""

    default_priority = 700
    formats = ("html",)

    def run(self, **kwargs: Any) -> None:
        """Mark the tables of a page."""
        del kwargs
        for table in self.document.findall(nodes.table):
            if "putback" in table["classes"] or next(table.findall(nodes.thead), None) is None:
                continue
            table["classes"] += ["putback", "prose"]
            for cell in table.findall(nodes.entry):
                if not cell.astext().strip() and not isinstance(cell.parent.parent, nodes.thead):
                    cell["classes"].append("none")
            if any(len(cell.astext()) > A_LINE for cell in table.findall(nodes.entry)):
                table["classes"].append("sentences")


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the transform, and the rules that only these pages need."""
    app.add_post_transform(FoldTables)
    app.add_css_file("pages.css")
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
