"""Pictures and drawings of a job's page, each once: where one would stand again, a line says where it is."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.job import Figure, Step
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.sphinxext.building import drawing, paragraph
from putback.words import Language

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment


class Pictures:
    """Makes the pictures and drawings of one page."""

    def __init__(self, opened: Opened, env: BuildEnvironment, words: Language) -> None:
        self.guide = opened.guide
        self.env = env
        self.words = words
        self.shown: dict[str, str] = {}
        """The number of the step at which each stands."""

    def drawings(self, step: Step, number: str) -> Iterator[nodes.Node]:
        """Yield the tightening orders of a step, or the loosening orders where a part may warp."""
        action, loosening = step.action, isinstance(step.action, Loosen | Remove)
        if not isinstance(action, Tighten | Loosen | Remove) or action.count is not None or action.at:
            return
        if loosening and not self.words.gently(step.things):
            return
        for ref in step.things:
            thing = self.words.things.get(ref.name)
            drawn = drawing(thing, self.words, loosening=loosening) if isinstance(thing, Fastener) else None
            if drawn is None:
                continue
            before = self.shown.setdefault(f"{ref.name} {loosening}", number)
            yield drawn if before == number else paragraph(self.words.drawn_before(before), "see")

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
