"""When jobs are due: the maintenance schedule, the card of a job, and what the sign-off has of it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.interval import Interval
from putback.model.job import Job
from putback.model.setting import Setting
from putback.model.verbs.acting import Act
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.pieces import Tighten
from putback.model.verbs.telling import Caution, Note
from putback.prose.contents import jobs_in_order
from putback.sheet import JobSheet, SheetSection, SheetStep, sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, inlines, link, paragraph, table
from putback.sphinxext.pointers import Pointers, pointed
from putback.sphinxext.safety import hazards
from putback.sphinxext.tables import BOX
from putback.words import Language

_TELLING: tuple[tuple[type, ...], ...] = ((Measure, Adjust), (Verify,), (Inspect,), (Tighten,))
"""What tells what a follow-up is about, the first first."""
_OFTEN = re.compile(r"\b(?:each|every) (?:day|fill|launch|outing|run|shift|start|trip|use)", re.IGNORECASE)
"""Words for what comes more often than any number of hours."""
_MOST_NAMED = 3
"""Things that a row of the table of follow-ups names."""


def schedule(opened: Opened, words: Language) -> list[nodes.Node]:
    """Return the jobs that are due at some time, those of each use first, then as their hours say; and what follows."""
    labels = words.labels.upkeep
    due = [(job, job.interval) for job in jobs_in_order(opened.guide) if job.interval]
    due.sort(key=lambda pair: _turn(pair[1]))
    rows = [list(_row(job, interval, words)) for job, interval in due]
    heads = [labels.job, labels.at, labels.first, labels.every, labels.or_every]
    kept = [at for at in range(len(heads)) if at == 0 or any(row[at] != "–" for row in rows)]
    heads[3] = labels.then_every if 2 in kept else labels.every
    if 3 not in kept:
        heads[4] = heads[3]  # no "or" without a column before it
    widths = (34, 20, 16, 15, 15)
    found: list[nodes.Node] = []
    if rows:
        shown = [[row[at] for at in kept] for row in rows]
        found.append(table([heads[at] for at in kept], shown, [widths[at] for at in kept], "schedule"))
        if any(sum(1 for _ in each.lapses()) > 1 for _, due_at in due for each in (due_at, due_at.first) if each):
            found.append(paragraph(labels.sooner))
    after = [row for job in jobs_in_order(opened.guide) for row in _follow_ups(job, opened, words)]
    if after:
        found.append(paragraph(labels.once_more, "leads-in"))
        found.append(table([labels.job, labels.after, labels.what], after, (40, 26, 34), "follow-ups"))
    return pointed(found, opened, words) or [paragraph(labels.none_due)]


def _turn(interval: Interval) -> tuple[float, ...]:
    """Return what jobs are put in order by: each use first, then by hours, months and distances, then other words."""
    ends = [interval.hours, interval.calendar, interval.km]
    often = not any(ends) and _OFTEN.search(interval.also or "") is not None
    return (0.0 if often else 1.0, *(end.least if end else math.inf for end in ends))


def _named(name: str, words: Language) -> str:
    """Return the name of a thing; of what is none, the author's words."""
    return words.things[name].name if name in words.things else words.written(name)


def _begun(said: str) -> str:
    return said[:1].upper() + said[1:]


def _row(job: Job, interval: Interval, words: Language) -> Iterator[Cell]:
    labels, first = words.labels.upkeep, interval.first
    yield _linked(job)
    yield _begun(interval.also or "–").rstrip(".")
    once = words.lapses(first) if first else ""
    alone = first is not None and not any(interval.lapses())
    yield labels.once.format(lapse=once) if alone else once or "–"
    for calendar in (False, True):
        yield words.lapses(interval, calendar=calendar) or "–"


def _linked(job: Job) -> nodes.paragraph:
    name = nodes.paragraph()
    name += link("job", job.key, job.title)
    return name


def _follow_ups(job: Job, opened: Opened, words: Language) -> Iterator[list[Cell]]:
    """Yield what is due after a job: its follow-ups, and what is tightened once more."""
    later, sheet = sheet_of(job.later, opened) if job.later else None, sheet_of(job, opened)
    for part in later.sections if later else ():
        limit = words.only_when(part.when)
        due = words.due_after(part.after or "").rstrip(":")
        yield [_linked(job), f"{limit} {due}" if limit else due, _about(part, words)]
    for row in sheet.follow_ups if sheet else ():
        yield [_linked(job), words.due_after(row.hours.text).rstrip(":"), words.title_of(row.thing)]


def _about(part: SheetSection, words: Language) -> str:
    """Return what a follow-up is about: what it tightens once more, and the settings that it measures.

    Without these, what it measures, else what it checks, looks at, tightens or says.
    """
    steps = [line.step for line in part.steps]
    again = [
        ref.name for step in steps if isinstance(step.action, Tighten) and step.action.once_more for ref in step.things
    ]
    set_anew = [ref.name for step in steps if isinstance(step.action, Measure | Adjust) for ref in step.things]
    told = [*again, *(name for name in set_anew if isinstance(words.things.get(name), Setting))]
    if told:
        things = [words.things[name] for name in dict.fromkeys(told)][:_MOST_NAMED]
        return _begun(words.names([thing.name[:1] + words.title_of(thing)[1:] for thing in things]))
    for kinds in _TELLING:
        refs = [ref.name for step in steps if isinstance(step.action, kinds) for ref in step.things]
        if refs:
            names = [
                words.things[ref].name if ref in words.things else words.written(ref) for ref in dict.fromkeys(refs)
            ]
            return _begun(words.names(names[:_MOST_NAMED]))
    return next((step.action.words for step in steps if isinstance(step.action, Act)), "–")


def card(job: Job, sheet: JobSheet, opened: Opened, words: Language) -> list[nodes.Node]:
    """Return a job of checks as one table: what is looked at, what to do if it is not so, a box."""
    labels = words.labels.upkeep
    lead = paragraph(labels.card_lead, "leads-in")
    lead += [link("job", job.key, job.title), nodes.Text(".")]
    found: list[nodes.Node] = [lead]
    if sheet.set_up.cautions:
        for line in hazards(sheet.set_up.cautions, words).findall(nodes.paragraph):
            # As paragraphs, which stay with the table on paper.
            line["classes"].append("leads-in")
            found.append(line)
    rows = [_on_card(line, words) for part in sheet.sections for line in part.steps if line.number]
    found.append(table([labels.look, labels.if_not, labels.done], rows, (50, 38, 12), "card", "colwidths-given"))
    page = nodes.Element("", *found)
    Pointers(opened, words, job, sheet).put_in(page)
    return list(page.children)


def _on_card(line: SheetStep, words: Language) -> list[Cell]:
    said = nodes.paragraph()
    limit = words.only_when(line.when)
    if limit:
        said += own.only_when(f"{limit} ", f"{limit} ", label=limit)
    said += inlines(words.step(line.step, line.stays_in))
    return [said, list(_otherwise(line, words)) or "–", BOX]


def _otherwise(line: SheetStep, words: Language) -> Iterator[nodes.Node]:
    for inner in line.otherwise:
        yield from _told(inner, words)
    for each in line.outcomes:
        yield paragraph(words.outcome(line.step, each.found))
        for inner in each.steps:
            yield from _told(inner, words)


def _told(line: SheetStep, words: Language) -> Iterator[nodes.Node]:
    if isinstance(line.step.action, Caution):
        yield from (paragraph(shown.message.hazard) for shown in line.messages)
    elif line.goes_to and line.step.text is None:
        yield paragraph(words.go_back(line.goes_to))
    elif line.number or isinstance(line.step.action, Note):
        yield paragraph(words.step(line.step, line.stays_in))


def to_sign(interval: Interval | None, words: Language, *, hours: bool, follows: bool = False) -> Iterator[str]:
    """Yield the labels of the places of a sign-off; without the running hours of what counts none.

    With `follows`, there is one for when a follow-up is due.
    """
    machine, *others = words.labels.job.to_sign
    yield machine
    if hours:
        yield words.labels.job.sign_hours
    yield from others
    if follows:
        yield words.labels.upkeep.follow_up_due
    yield from next_due(interval, words)


def next_due(interval: Interval | None, words: Language) -> Iterator[str]:
    """Yield the labels of the places where is written when a job is due again."""
    labels = words.labels.upkeep
    if interval is not None and interval.hours:
        yield labels.next_hours.format(lapse=words.lapse("hours", interval.hours))
    if interval is not None and interval.km:
        yield labels.next_km.format(lapse=words.lapse("km", interval.km))
    if interval is not None and interval.calendar:
        sooner = ("months", interval.calendar) if interval.months or not interval.years else ("years", interval.years)
        yield labels.next_date.format(lapse=words.lapse(*sooner))
