"""Pages of prose in the language of the manual, where that is not the author's."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from putback.guide.paths import guide_of, shown_path
from putback.sphinxext.sources import lent_at

if TYPE_CHECKING:
    from sphinx.application import Sphinx


def read_translated(app: Sphinx, docname: str, content: list[str]) -> None:
    """Read a page of a guide as its translation has it, when Sphinx reads the file."""
    path = Path(app.env.doc2path(docname))
    root = guide_of(path)
    opened = lent_at(root) if root is not None else None
    if opened is not None and opened.guide.source is not None:
        content[0] = opened.guide.pages.get(shown_path(path), content[0])
