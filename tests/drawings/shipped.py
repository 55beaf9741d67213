"""Every drawing that stands in a job of the shipped guides."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from docutils import nodes

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sheet import sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.drawn import drawings_above, drawings_at
from putback.sphinxext.drawn.placed import OnPage
from putback.sphinxext.drawn.stacks import stacks_by_step
from putback.words import catalogue

PROCEDURES = Path(__file__).parents[2] / "procedures"
GUIDES = ("ambry-g5", "hollin-20", "sessel-w15", "tarrick-d2")


@cache
def drawings(guide: str) -> tuple[str, ...]:
    """Return the drawings of a guide's jobs, each once, as standalone SVG."""
    return tuple(sorted({svg for node in _drawn(guide) for svg in _all(node)}))


def _all(node: own.drawing) -> Iterator[str]:
    yield from (svg for svg, _ in own.drawings_of(node))
    if node.get("narrow"):
        yield node["narrow"]


def _drawn(guide: str) -> Iterator[own.drawing]:
    opened = open_guide(read_guide(PROCEDURES / guide))
    words = catalogue(opened)
    for job in opened.guide.jobs.values():
        sheet = sheet_of(job, opened)
        if sheet is None:
            continue
        page = OnPage(job, sheet, opened, words, stacks=stacks_by_step(sheet, opened.guide.machine, words))
        found: list[nodes.Node] = list(drawings_above(page).values())
        found += [node for section in sheet.sections for line in section.walk() for node in drawings_at(page, line)]
        for node in found:
            if isinstance(node, nodes.Element):
                yield from node.findall(own.drawing)
