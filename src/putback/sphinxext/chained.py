"""What the block that opens a page says of the whole job, of the jobs around it, and how the machine stands between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from operator import itemgetter

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.cost import Cost
from putback.model.job import Block, Job
from putback.model.verbs.controls import Set
from putback.model.verbs.telling import Wait
from putback.sheet import JobSheet, SheetSection, SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import bullets, fact, link
from putback.units import Quantity
from putback.words import Language, Phrase
from putback.words.pieces import phrase

LONG_WAIT = 5
"""A wait of so many minutes is told beforehand (common practice, no source)."""


def about(job: Job | Block, sheet: JobSheet, words: Language, follow: Sequence[str] = ()) -> Iterator[own.fact]:
    """Yield what the author says of a whole job, and after what it has follow-ups; nothing of a block."""
    if isinstance(job, Block):
        return
    labels = words.labels.job
    if job.purpose:
        yield fact(labels.purpose, job.purpose)
    if job.interval:
        yield fact(labels.due, words.due(job.interval))
    wait = _longest_wait(sheet, words)
    if job.time or wait:
        yield fact(labels.time, "; ".join(filter(None, (words.quantity(job.time) if job.time else "", wait))))
    if follow:
        yield fact(words.labels.safety.follow_up, "; ".join(follow))
    if job.cost:
        yield fact(words.labels.bench.cost, "; ".join(_costs(job.cost, words)))
    yield fact(labels.people, str(job.people))


def first_done(sheet: JobSheet, words: Language) -> nodes.bullet_list:
    """Return what to set before the work, with the text and the note that an author gave the step."""
    first: dict[tuple[str, str], tuple[str | None, str | None]] = {}
    for line in sheet.walk():
        action = line.step.action
        if isinstance(action, Set) and not line.conditional:
            alone = len(action.things) == 1
            for ref in action.things:
                first.setdefault(
                    (ref.name, action.to.name), (line.step.text, line.step.note) if alone else (None, None)
                )
    said: list[Phrase] = []
    for row in sheet.set_up.positions:
        control, position = row.what
        own_words, note = first.get((control.key, position), (None, None))
        limit = f"{words.only_when(row.when) or ''} ".lstrip()
        told = phrase(f"{limit}{own_words}") if own_words else words.set_first(control, position, row.when)
        # How long it takes, or where it is, one wants to know before one kneels at the machine.
        said.append(phrase(*told, f" {note}" if note else None))
    return bullets(said)


def _longest_wait(sheet: JobSheet, words: Language) -> str:
    """Return the longest wait of a job that goes well, and its step; nothing when none is long."""
    found: list[tuple[Decimal, SheetStep, SheetSection, Quantity]] = []
    for part in sheet.sections:
        for line in part.walk():
            action = line.step.action
            if isinstance(action, Wait) and action.duration and not line.conditional:
                minutes = action.duration.to("min")
                found.append((minutes.high or minutes.low or Decimal(0), line, part, action.duration))
    if not found:
        return ""
    long, line, part, duration = max(found, key=itemgetter(0))
    told = words.labels.bench.longest_wait.format(time=words.quantity(duration), step=line.number)
    return words.row(told, line.when or part.when) if long >= LONG_WAIT else ""


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
