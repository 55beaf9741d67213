"""What stands at the back of a book: index, calendar, tables of variants, kits and wear, editions; one module a kind.

`MATTER` is the list of all that `putback build` adds to a book whose pages do not show it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.machine import Machine
from putback.prose.contents import jobs_in_order
from putback.prose.placed import placed
from putback.sheet.calendar import calendars
from putback.sheet.differing import differing
from putback.sheet.kitted import kits_of
from putback.sphinxext.building import section
from putback.sphinxext.matter import tables
from putback.sphinxext.upkeep import schedule
from putback.words import Language
from putback.words.reference import ReferenceLabels


class Matter(NamedTuple):
    """One table at the back."""

    directive: str
    """What a page shows it with."""
    title: Callable[[ReferenceLabels], str]
    """Its heading."""
    make: Callable[[Opened, Machine, Language], list[nodes.Node]]
    """Makes it."""
    is_there: Callable[[Opened, Machine], bool]
    """Whether there is anything to show."""


MATTER = (
    Matter(
        "putback-schedule",
        lambda labels: labels.schedule,
        lambda opened, _, words: schedule(opened, words),
        lambda opened, _: any(job.interval for job in opened.guide.jobs.values()),
    ),
    Matter(
        "putback-calendar",
        lambda labels: labels.together,
        lambda opened, _, words: tables.calendar(opened, words),
        lambda opened, _: any(len(grid.columns) > 1 for grid in calendars(jobs_in_order(opened.guide))),
    ),
    Matter(
        "putback-variants",
        lambda labels: labels.differing,
        lambda opened, _, words: tables.variants(opened, words),
        lambda opened, _: any(each.parts for each in differing(opened)),
    ),
    Matter(
        "putback-kits",
        lambda labels: labels.kits,
        lambda opened, _, words: tables.kits(opened, words),
        lambda opened, _: bool(kits_of(opened)),
    ),
    Matter(
        "putback-wear",
        lambda labels: labels.wear,
        tables.wear,
        lambda _, machine: any(tables.wears(machine)),
    ),
    Matter(
        "putback-revisions",
        lambda labels: labels.revisions,
        lambda opened, _, words: tables.revisions(opened, words),
        lambda opened, _: bool(opened.guide.cover and opened.guide.cover.revisions),
    ),
)
"""Every table, in the order in which they stand at the back."""


def not_shown(opened: Opened, machine: Machine) -> Iterator[Matter]:
    """Yield the tables that have something to show, and that no page of the book shows."""
    shown = placed(opened.guide)
    yield from (each for each in MATTER if each.directive not in shown and each.is_there(opened, machine))


def at_the_back(opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
    """Return a section for each table that no page shows."""
    labels = words.labels.reference
    return [
        section(each.title(labels), each.directive, *each.make(opened, machine, words))
        for each in not_shown(opened, machine)
    ]
