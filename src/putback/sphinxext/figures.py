"""Pictures of a job's page, each once: where one would stand again, a line says where it is."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes

from putback.model.figure import Figure
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


class Pictures:
    """Makes the pictures of one page."""

    def __init__(self, page: OnPage, env: BuildEnvironment) -> None:
        self.guide = page.opened.guide
        self.env = env
        self.words = page.words
        self.shown = page.shown

    def picture(self, figure: Figure, sentence: str, number: str = "") -> nodes.Node:
        """Return the picture of a step; without a text of its own it is described by the step's sentence."""
        what = (figure.image.name, figure.caption, figure.alt)
        before = self.shown.setdefault(repr(what), number) if number else number
        return self._figure(figure, sentence) if before == number else paragraph(self.words.pictured_before(before))

    def _figure(self, figure: Figure, sentence: str) -> nodes.figure:
        file = self.guide.images / figure.image.name
        source = os.path.relpath(file, self.env.srcdir).replace(os.sep, "/")
        node = nodes.figure()
        image = nodes.image(uri=f"/{source}", alt=figure.alt or sentence)
        image.source, image.line = str(Path(figure.span.path).resolve()), figure.image.span.line
        if figure.width:
            image["width"] = f"{float(figure.width.to('mm').nominal or 0):g}mm"
        node += image
        if figure.caption:
            node += nodes.caption(figure.caption, figure.caption)
        return node
