"""Which drawings stand on a job's page, and at which step: one module a kind.

A kind is a function of a page and a step. It yields what would help there; a drawing that stands on the page already is
not shown again, but a line says where it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from docutils import nodes

from putback.model.machine import Machine
from putback.sheet import SheetStep
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn import orders, sizes
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language

KINDS: tuple[Callable[[OnPage, SheetStep], Iterator[Placed]], ...] = (sizes.at_step, orders.at_step)
"""What is asked at each step, in the order in which drawings stand below it."""


def drawings_at(page: OnPage, line: SheetStep) -> Iterator[nodes.Node]:
    """Yield the drawings of a step, or where they stand already."""
    told: set[str] = set()
    for kind in KINDS:
        for placed in kind(page, line):
            before = page.shown.setdefault(placed.key, line.number)
            if before == line.number:
                yield placed.node
            elif (see := placed.see(before)) not in told:
                told.add(see)
                yield paragraph(see, "see")


def drawings_of(machine: Machine, words: Language) -> Iterator[tuple[str, str, list[nodes.Node]]]:
    """Yield the drawings of a machine's page by sections: the heading, the end of its address, the drawings."""
    labels = words.labels.machine
    kinds = ((labels.orders, "orders", orders.orders_of), (labels.true_size, "true-size", sizes.sizes_of))
    for heading, end, kind in kinds:
        if drawings := list[nodes.Node](kind(machine, words)):
            yield heading, end, drawings
