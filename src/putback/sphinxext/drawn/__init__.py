"""Which drawings stand on a job's page, and at which step: one module a kind.

A kind is a function of a page and a step. It yields what would help there; a drawing that stands on the page already is
not shown again, but a line says where it is. On the page of the machine, all drawings of a kind are a section.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from docutils import nodes

from putback.model.machine import Machine
from putback.sheet import JobSheet, SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph, section
from putback.sphinxext.drawn import orders, readings, sizes, stacks, standing, wayin
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language

KINDS: tuple[Callable[[OnPage, SheetStep], Iterator[Placed]], ...] = (
    stacks.at_step,
    sizes.at_step,
    orders.at_step,
    readings.at_step,
    standing.levels_at_step,
    standing.controls_at_step,
)
"""What is asked at each step, in the order in which drawings stand below it."""


def drawings_above(page: OnPage) -> Mapping[int, nodes.Node]:
    """Return the drawing above the first step of a section, by the number of the section, from 0."""
    return dict(wayin.above_sections(page))


def drawings_at(page: OnPage, line: SheetStep) -> Iterator[nodes.Node]:
    """Yield the drawings of a step, or where they stand already."""
    told: set[str] = set()
    for kind in KINDS:
        found = list(kind(page, line))
        new = {each.key: each.node for each in found if page.shown.setdefault(each.key, line.number) == line.number}
        if len(new) > 1 and kind is orders.at_step:
            yield own.abreast("", *new.values())
        else:
            yield from new.values()
        for placed in found:
            before = page.shown[placed.key]
            if placed.key not in new and placed.see is not None and (see := placed.see(before)) not in told:
                told.add(see)
                yield paragraph(see, "see")


def drawings_of(machine: Machine, sheets: Iterable[JobSheet], words: Language) -> Iterator[nodes.section]:
    """Yield the sections of a machine's page that are drawings; `sheets` are those of its jobs."""
    labels = words.labels.machine
    kinds = (
        ("machine-stacks", labels.stacks, partial(stacks.of_machine, sheets=sheets)),
        ("machine-orders", labels.orders, orders.of_machine),
        ("machine-true-size", labels.true_size, sizes.of_machine),
    )
    for ident, title, kind in kinds:
        if drawn := list(kind(machine, words)):
            yield section(title, ident, *drawn)
