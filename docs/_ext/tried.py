"""What strangers could send and what is said of it, drawn from the list that the tests try."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes
from sphinx.util.docutils import SphinxDirective
from tests.hostile import strangers

from putback.sphinxext.building import Cell, table

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.util.typing import ExtensionMetadata


class ShowTried(SphinxDirective):
    """The table of hostile inputs: what it is, the command, the exit code, what is said."""

    def run(self) -> list[nodes.Node]:
        """Return the table."""
        self.env.note_dependency(str(Path(strangers.__file__)))
        rows: list[list[Cell]] = [
            [name, tried.args[0], str(tried.code), nodes.paragraph("", "", nodes.literal("", tried.says))]
            for name, tried in strangers.TRIED.items()
        ]
        return [table(["What was sent", "Command", "Exit code", "What is said"], rows, (34, 12, 10, 44), "sentences")]


def setup(app: Sphinx) -> ExtensionMetadata:
    """Register the directive."""
    app.add_directive("putback-tried", ShowTried)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
