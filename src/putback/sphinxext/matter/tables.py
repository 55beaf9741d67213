"""Tables at the back of a book: what falls due together, which steps differ, kits, wear limits, editions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.details import Wear
from putback.model.job import Job
from putback.model.machine import Machine, Part
from putback.prose.contents import jobs_in_order
from putback.sheet.calendar import Calendar, Fall, Meter, calendars
from putback.sheet.differing import differing
from putback.sheet.indexed import Handling, InJob, index_of
from putback.sheet.kitted import Kitted, kits_with_jobs
from putback.sphinxext.building import Cell, link, paragraph, table
from putback.sphinxext.pointers import pointed
from putback.words import Language

OWN, ALSO = "■", "•"
"""The marks of the calendar; the font of the PDF has them."""

MOST_COLUMNS = 9
"""A calendar with more columns is printed in parts, one below the other."""

NOTHING = "–"


def linked(jobs: Iterable[Job]) -> Cell:
    """Return the titles of jobs, each on a line of its own, or a dash for none."""
    lines = []
    for job in jobs:
        lines.append(paragraph(""))
        lines[-1] += link("job", job.key, job.title)
    return lines or NOTHING


# What falls due together.


def calendar(opened: Opened, words: Language) -> list[nodes.Node]:
    """Return a grid for hours, for kilometres and for months: which jobs fall due when."""
    labels, grids = words.labels.reference, calendars(jobs_in_order(opened.guide))
    if not grids:
        return [paragraph(labels.none_together)]
    lead = labels.together_lead.format(own=OWN, also=ALSO, first=labels.first)
    return [paragraph(lead, "leads-in"), *(part for grid in grids for part in _grid(grid, words))]


def _grid(grid: Calendar, words: Language) -> Iterable[nodes.Node]:
    labels = words.labels.reference
    head = {Meter.HOURS: labels.hours, Meter.KM: labels.km, Meter.MONTHS: labels.months}[grid.meter]
    for first in range(0, len(grid.columns), MOST_COLUMNS):
        columns = grid.columns[first : first + MOST_COLUMNS]
        rows: list[list[Cell]] = []
        for job, falls in grid.rows:
            marks = falls[first : first + MOST_COLUMNS]
            if any(marks):
                rows.append([linked([job]), *(_mark(fall, words) for fall in marks)])
        told = [
            labels.month
            if grid.meter is Meter.MONTHS and each.least == 1
            else head.format(number=words.figure(each.least))
            for each in columns
        ]
        heads = [words.labels.upkeep.job, *told]
        yield table(heads, rows, (44, *(9 for _ in columns)), "calendar", "colwidths-given")


def _mark(fall: Fall | None, words: Language) -> Cell:
    labels = words.labels.reference
    if fall is None or fall is Fall.FIRST:
        return labels.first if fall else ""
    sign, said = (OWN, labels.due) if fall is Fall.OWN else (ALSO, labels.due_also)
    line = nodes.paragraph()
    line += nodes.abbreviation(sign, sign, explanation=said)
    return line


# Which steps differ.


def variants(opened: Opened, words: Language) -> list[nodes.Node]:
    """Return which steps of which job are for some variants only, and the jobs of which none is."""
    labels, found = words.labels.reference, differing(opened)
    rows: list[list[Cell]] = []
    for each in found:
        cells: list[list[Cell]] = [
            [(words.only_when(part.when) or "").rstrip(".:"), _steps(part.steps)] for part in each.parts
        ]
        rows += [[linked([each.job]), *row] if row is cells[0] else row for row in cells]
    if not rows:
        return [paragraph(labels.all_same)]
    heads = [words.labels.upkeep.job, labels.for_whom, labels.steps]
    made: list[nodes.Node] = [paragraph(labels.differing_lead, "leads-in")]
    made.append(table(heads, rows, (34, 40, 26), "differing"))
    _span(made[-1], [len(each.parts) for each in found if each.parts])
    same = [each.job for each in found if not each.parts]
    if same:
        names = words.names([each.title for each in same])
        made.append(paragraph(f"{labels.same_for_all} {names}."))
    return made


def _span(made: nodes.Node, lengths: Iterable[int]) -> None:
    """Let the first cell of a table reach over so many rows, and the next one over so many."""
    rows = [row for body in made.findall(nodes.tbody) for row in body.children]
    for length in lengths:
        next(rows[0].findall(nodes.entry))["morerows"] = length - 1
        del rows[:length]


def _steps(runs: Iterable[tuple[str, str]]) -> str:
    return ", ".join(first if first == last else f"{first}–{last}" for first, last in runs)


# Kits and wear.


def kits(opened: Opened, words: Language) -> list[nodes.Node]:
    """Return the kits with what is in each and which jobs use them."""
    labels, job = words.labels.reference, words.labels.job
    rows = [_kit(each, words) for each in kits_with_jobs(opened)]
    if not rows:
        return [paragraph(labels.no_kit)]
    return [table([job.kit, labels.in_kit, labels.used_in], rows, (28, 38, 34), "kits", "colwidths-given")]


def _kit(each: Kitted, words: Language) -> list[Cell]:
    inside = [_piece(words.title_of(thing), getattr(thing, "number", None), count) for thing, count in each.contents]
    return [words.kit(each.kit), [paragraph(line) for line in inside], linked(each.jobs)]


def _measures(used: InJob) -> bool:
    return any(done.handling is Handling.MEASURED for done in used.done)


def _piece(name: str, number: str | None, count: int) -> str:
    times = f"{count} × " if count > 1 else ""
    return f"{times}{name}, {number}" if number else f"{times}{name}"


def wear(opened: Opened, machine: Machine, words: Language) -> list[nodes.Node]:
    """Return the wear limits of parts, with the jobs that measure them."""
    labels = words.labels.reference
    jobs = {entry.what.key: entry.jobs for entry in index_of(opened) if not isinstance(entry.what, str)}
    rows: list[list[Cell]] = []
    for thing, worn in wears(machine):
        if worn.limit:
            what = worn.measure or ""
            used = [each.job for each in jobs.get(thing.key, ()) if _measures(each)]
            name = paragraph("")
            name += link("thing", thing.key, words.title_of(thing))
            rows.append([name, f"{what[:1].upper()}{what[1:]}", words.limit(worn.limit), linked(used)])
    if not rows:
        return [paragraph(labels.no_wear)]
    heads = [words.labels.job.part, labels.measured, words.labels.machine.limit, labels.in_jobs]
    return [table(heads, rows, (24, 26, 22, 28), "wear")]


def wears(machine: Machine) -> Iterator[tuple[Part, Wear]]:
    """Yield the parts that have a wear limit, with it."""
    for thing in machine.things.values():
        if isinstance(thing, Part) and thing.wear and thing.wear.limit:
            yield thing, thing.wear


# Editions.


def revisions(opened: Opened, words: Language) -> list[nodes.Node]:
    """Return what changed from edition to edition, the newest first."""
    labels, cover = words.labels.reference, opened.guide.cover
    rows: list[list[Cell]] = []
    for each in cover.revisions if cover else ():
        said = [paragraph(text) for text in each.changes]
        rows.append([[paragraph(words.labels.book.called(each.edition)), paragraph(words.day(str(each.date)))], said])
    if not rows:
        return [paragraph(labels.no_revision)]
    made = table([labels.edition, labels.changed], rows, (22, 78), "revisions", "colwidths-given")
    return pointed([made], opened, words)
