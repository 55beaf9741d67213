"""Pictures of a job's page, each once: where one would stand again, a line says where it is."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from docutils import nodes

from putback.drawings.callouts import Label, PictureMark, labels, radius_of, way, where
from putback.model.figure import Callout, Figure, PictureSpot
from putback.pictures import ALL, BadPictureError, Crop, shown_size
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage
from putback.sphinxext.published import CROP
from putback.variants import VariantSet
from putback.words.drawn import CalloutTold

if TYPE_CHECKING:
    from sphinx.environment import BuildEnvironment

HIGHEST = 200.0
"""Greatest height at which a picture is printed whose width is given, mm: on Letter, its caption stands below it."""
WIDEST, TALLEST = 130.0, 120.0
"""A picture with numbers over it is at most so large on paper, mm, unless its author says how wide it is."""

PIXEL = 25.4 / 96
"""One pixel of CSS, mm (CSS Values and Units, level 3)."""

_Numbered = list[tuple[int, Callout]]


class Pictures:
    """Makes the pictures of one page."""

    def __init__(self, page: OnPage, env: BuildEnvironment) -> None:
        self.opened = page.opened
        self.guide = page.opened.guide
        self.env = env
        self.words = page.words
        self.shown = page.shown

    def picture(self, line: SheetStep, sentence: str, number: str = "") -> nodes.Node:
        """Return the picture of a step; without a text of its own it is described by the step's sentence."""
        figure = line.step.figure
        assert figure is not None
        before = self.shown.setdefault(_shown_by(figure), number) if number else number
        if before != number:
            return paragraph(self.words.pictured_before(before))
        return self._figure(figure, sentence, line.variants)

    def _figure(self, figure: Figure, sentence: str, here: VariantSet) -> nodes.figure:
        file = self.guide.images / figure.image.name
        source = os.path.relpath(file, self.env.srcdir).replace(os.sep, "/")
        node = nodes.figure()
        image = nodes.image(uri=f"/{source}", alt=figure.alt or sentence)
        image.source, image.line = str(Path(figure.span.path).resolve()), figure.image.span.line
        crop = _crop(figure)
        if crop != ALL:
            image[CROP] = tuple(crop)
        numbered = [(number, callout) for number, callout in figure.numbered if self._is_there(callout)]
        width = float(figure.width.to("mm").nominal or 0) if figure.width else 0.0
        marked = self._marked(numbered, file, crop, width) if numbered else None
        if width and marked is None:
            image["width"] = f"{width:g}mm"
        if numbered:
            image["sized"] = True
        if marked is not None:
            image["alt"] = f"{_ended(image['alt'])} {self._pointed_at(numbered, crop, marked['ratio'], here)}"
            marked += image
        node += image if marked is None else own.called_out("", marked, self._key(numbered, here))
        if figure.caption:
            node += nodes.caption(figure.caption, figure.caption)
        return node

    def _is_there(self, callout: Callout) -> bool:
        """Tell whether some machine that the manual is for has what a callout names."""
        thing = self.words.things.get(callout.thing.name) if callout.thing else None
        graph = self.opened.graph
        return thing is None or graph is None or graph.applies(thing.when)

    def _marked(self, numbered: _Numbered, file: Path, crop: Crop, width: float) -> own.marked | None:
        """Return the frame for a picture and its numbers; None when nobody knows how large the picture is."""
        try:
            source = file.resolve()
            wide, high = shown_size(source, source.parent, crop)
        except BadPictureError:
            return None  # told when it is to be shown
        if not wide or not high:
            return None
        ratio = high / wide
        width = min(width, HIGHEST / ratio) if width else min(wide * PIXEL, WIDEST, TALLEST / ratio)
        marks = [_mark(number, callout, crop, ratio) for number, callout in numbered]
        placed = labels(tuple(marks), ratio, radius_of(width))
        return own.marked(
            ratio=round(ratio, 4),
            width=round(width, 2),
            labels=[(label.number, *label.at) for label in placed],
            lines=[line for label in placed for line in _lines(label, marks)],
            dots=[spot for mark in marks if not mark.circle and not mark.arrow for spot in mark.at],
            rings=[(*spot, mark.circle) for mark in marks if mark.circle for spot in mark.at],
            arrows=[(*spot, *mark.arrow) for mark in marks if mark.arrow for spot in mark.at],
        )

    def _line(self, callout: Callout, here: VariantSet) -> str:
        name = callout.thing.name if callout.thing else ""
        thing, graph = self.words.things.get(name), self.opened.graph
        limit = thing.when if thing and graph and not graph.space.within(here, graph.meaning(thing.when)) else None
        return self.words.callout(name, callout.text or "", limit)

    def _key(self, numbered: _Numbered, here: VariantSet) -> own.callout_key:
        key = own.callout_key()
        for number, callout in sorted(numbered, key=lambda pair: pair[0]):
            line = self._line(callout, here)
            key += own.callout_entry(line, line, number=number)
        return key

    def _pointed_at(self, numbered: _Numbered, crop: Crop, ratio: float, here: VariantSet) -> str:
        shown = []
        for number, callout in sorted(numbered, key=lambda pair: pair[0]):
            at = [_inside(spot, crop, ratio) for spot in callout.at]
            arrow = way(at[0], _inside(callout.arrow, crop, ratio)) if callout.arrow else None
            shown.append(CalloutTold(number, self._line(callout, here), [where(spot, ratio) for spot in at], arrow))
        return self.words.pointed_at(shown)


def _shown_by(figure: Figure) -> str:
    """Return what two figures have in common that show the same."""
    spots = [
        (
            number,
            callout.thing and callout.thing.name,
            callout.text,
            callout.circle,
            *(spot[:2] for spot in callout.spots),
        )
        for number, callout in figure.numbered
    ]
    return repr((figure.image.name, figure.caption, figure.alt, tuple(_crop(figure)), spots))


def _crop(figure: Figure) -> Crop:
    cut = figure.crop
    if cut is None:
        return ALL
    return Crop(*(part / 100 for part in (cut.start.across, cut.start.down, cut.end.across, cut.end.down)))


def _inside(spot: PictureSpot, crop: Crop, ratio: float) -> tuple[float, float]:
    """Return a place in what is shown, in parts of its width."""
    across = (spot.across / 100 - crop.left) / (crop.right - crop.left)
    down = (spot.down / 100 - crop.top) / (crop.bottom - crop.top)
    return round(across, 4), round(down * ratio, 4)


def _mark(number: int, callout: Callout, crop: Crop, ratio: float) -> PictureMark:
    return PictureMark(
        number,
        tuple(_inside(spot, crop, ratio) for spot in callout.at),
        _inside(callout.number_at, crop, ratio) if callout.number_at else None,
        round((callout.circle or 0.0) / 100 / (crop.right - crop.left), 4),
        _inside(callout.arrow, crop, ratio) if callout.arrow else None,
    )


def _lines(label: Label, marks: list[PictureMark]) -> Iterator[tuple[float, float, float, float]]:
    """Yield the lines of a number; one to a ring ends at the ring."""
    circle = next(mark.circle for mark in marks if mark.number == label.number)
    for end in label.ends:
        yield (*label.at, *_at_ring(label.at, end, circle / 2))


def _at_ring(start: tuple[float, float], end: tuple[float, float], radius: float) -> tuple[float, float]:
    far = ((start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2) ** 0.5
    if not radius or far <= radius:
        return end
    part = radius / far
    return round(end[0] + (start[0] - end[0]) * part, 4), round(end[1] + (start[1] - end[1]) * part, 4)


def _ended(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."
