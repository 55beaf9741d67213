"""What the block that opens a page says of the whole job, of the jobs around it, and how the machine stands between."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.cost import Cost
from putback.model.job import Block, Job
from putback.sheet import JobSheet
from putback.sphinxext import nodes as own
from putback.sphinxext.building import bullets, fact, link
from putback.words import Language


def about(job: Job | Block, words: Language) -> Iterator[own.fact]:
    """Yield what the author says of a whole job; nothing of a block."""
    if isinstance(job, Block):
        return
    labels = words.labels.job
    if job.purpose:
        yield fact(labels.purpose, job.purpose)
    if job.interval:
        yield fact(labels.due, words.due(job.interval))
    if job.time:
        yield fact(labels.time, words.quantity(job.time))
    if job.cost:
        yield fact(words.labels.bench.cost, "; ".join(_costs(job.cost, words)))
    yield fact(labels.people, str(job.people))


def _costs(cost: Cost, words: Language) -> Iterator[str]:
    """Yield what a job costs, and what a workshop asks for it."""
    labels = words.labels.bench
    for pattern, told in ((labels.parts_cost, cost.parts), (labels.workshop_cost, cost.workshop)):
        if told:
            yield pattern.format(cost=told.rstrip("."))


def chained(job: Job | Block, sheet: JobSheet, opened: Opened, words: Language) -> Iterator[own.fact]:
    """Yield for which machines it is, the job before it and after it, and how the machine stands before and after."""
    labels, chains = words.labels.job, opened.chains
    if limit := words.only_when(sheet.only):
        yield fact(labels.machines, limit)
    for label, around, stands, rows in (
        (labels.goes_on_from, chains.earlier, labels.begins_with, sheet.begins),
        (labels.goes_on_with, chains.later, labels.ends_with, sheet.ends),
    ):
        other = around.get(job.key) if isinstance(job, Job) else None
        if other is not None:
            line = nodes.paragraph()
            line += link("job", other, chains.jobs[other].title)
            yield fact(label, line)
        if rows:
            yield fact(stands, bullets(words.standing(rows)))
