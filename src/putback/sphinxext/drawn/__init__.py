"""Which drawings stand on a job's page, and at which step: one module a kind.

A kind is a function of a page and a step. It yields what would help there; a drawing that stands on the page already is
not shown again, but a line says where it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from docutils import nodes

from putback.sheet import SheetStep
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn import orders, readings, standing, wayin
from putback.sphinxext.drawn.placed import OnPage, Placed

KINDS: tuple[Callable[[OnPage, SheetStep], Iterator[Placed]], ...] = (
    orders.at_step,
    readings.at_step,
    standing.levels_at_step,
    standing.controls_at_step,
)
"""What is asked at each step, in the order in which drawings stand below it."""


def drawings_above(page: OnPage, number: int) -> Iterator[nodes.Node]:
    """Yield the drawings above the first step of a section, by its number from 0."""
    yield from wayin.above_section(page, number)


def drawings_at(page: OnPage, line: SheetStep) -> Iterator[nodes.Node]:
    """Yield the drawings of a step, or where they stand already."""
    for kind in KINDS:
        for placed in kind(page, line):
            before = page.shown.setdefault(placed.key, line.number)
            if before == line.number:
                yield placed.node
            elif placed.see is not None:
                yield paragraph(placed.see(before), "see")
