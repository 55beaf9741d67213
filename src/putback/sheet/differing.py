"""Which steps of which job are for some variants only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.model.terms import When
from putback.prose.contents import jobs_in_order
from putback.sheet.job import JobSheet, sheet_of
from putback.sheet.lines import SheetStep
from putback.variants.conditions import joined
from putback.variants.graph import Graph


class Differing(NamedTuple):
    """The steps of one job that are for the same variants."""

    when: When
    """The variants."""
    steps: tuple[tuple[str, str], ...]
    """Their numbers: from, to; the same number twice for one that stands alone."""


class JobDiffers(NamedTuple):
    """A job, and what of it is not for all."""

    job: Job
    """The job."""
    parts: tuple[Differing, ...]
    """By variants, in the order of the steps; nothing when all of it is for all."""


def differing(opened: Opened) -> list[JobDiffers]:
    """Return the jobs of a guide, in the order of the book, each with its steps that are not for all variants."""
    found = []
    for job in jobs_in_order(opened.guide):
        sheet = sheet_of(job, opened)
        if sheet is not None and opened.graph is not None:
            found.append(JobDiffers(job, tuple(_parts(sheet, opened.graph))))
    return found


def _parts(sheet: JobSheet, graph: Graph) -> Iterator[Differing]:
    """Yield the steps of each condition; consecutive ones as a run. What hangs on a step is counted with it."""
    runs: dict[int, tuple[When, list[list[str]]]] = {}
    last = None
    for section in sheet.sections:
        for line, when in (each for step in section.steps for each in _limited(step, section.when, graph)):
            key = graph.meaning(when) if when is not None else None
            if when is not None and key is not None:
                run = runs.setdefault(key, (when, []))[1]
                if key == last:
                    run[-1][1] = line.number
                else:
                    run.append([line.number, line.number])
            last = key
    for when, pairs in runs.values():
        yield Differing(when, tuple((first, end) for first, end in pairs))


def _limited(line: SheetStep, around: When | None, graph: Graph) -> Iterator[tuple[SheetStep, When | None]]:
    """Yield a step with its condition, and those below it whose condition is not the same as its own."""
    own = joined(graph, around, line.when)
    if line.number:
        yield line, own
    for inner in line.walk():
        if inner is not line and inner.when is not None and inner.number:
            yield inner, joined(graph, own, inner.when)
