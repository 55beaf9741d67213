"""Which drawings stand on a job's page, and at which step: one module a kind.

A kind is a function of a page and a step. It yields what would help there; a drawing that stands on the page already is
not shown again, but a line says where it is. On the page of the machine, all drawings of a kind are a section.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from docutils import nodes

from putback.model.machine import Machine
from putback.sheet import SheetStep
from putback.sphinxext.building import paragraph, section
from putback.sphinxext.drawn import orders, readings, sizes, stacks, wayin
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language

KINDS: tuple[Callable[[OnPage, SheetStep], Iterator[Placed]], ...] = (
    stacks.at_step,
    sizes.at_step,
    orders.at_step,
    readings.at_step,
)
"""What is asked at each step, in the order in which drawings stand below it."""


def drawings_above(page: OnPage, number: int) -> Iterator[nodes.Node]:
    """Yield the drawings above the first step of a section, by its number from 0."""
    yield from wayin.above_section(page, number)


def drawings_at(page: OnPage, line: SheetStep) -> Iterator[nodes.Node]:
    """Yield the drawings of a step, or where they stand already."""
    told: set[str] = set()
    for kind in KINDS:
        for placed in kind(page, line):
            before = page.shown.setdefault(placed.key, line.number)
            if before == line.number:
                yield placed.node
            elif placed.see is not None and (see := placed.see(before)) not in told:
                told.add(see)
                yield paragraph(see, "see")


def drawings_of(machine: Machine, words: Language) -> Iterator[nodes.section]:
    """Yield the sections of a machine's page that are drawings."""
    labels = words.labels.machine
    kinds = (
        ("machine-stacks", labels.stacks, stacks.of_machine),
        ("machine-orders", labels.orders, orders.of_machine),
        ("machine-true-size", labels.true_size, sizes.of_machine),
    )
    for ident, title, kind in kinds:
        if drawn := list(kind(machine, words)):
            yield section(title, ident, *drawn)
