"""What is due some time after a job: its follow-ups, and what is tightened once more."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from collections.abc import Sequence as List

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.job import Job, Sequence
from putback.sheet import FollowUp, JobSheet, SetUp, SheetStep, sheet_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import inlines, paragraph, section
from putback.units import Kind, Quantity
from putback.words import Language
from putback.words.facts import quantity_or_words


def laid_out(layout: SetUp, tools: list[str], equipment: list[str], words: Language) -> Iterator[nodes.Node]:
    """Yield what follow-ups need: new parts, tools, consumables, equipment, each in a line."""
    labels, row = words.labels.job, words.row
    titles = [(words.title_of(new.thing), new) for new in layout.parts]
    parts = [f"{row(title, new.when, new.only_if)}: {new.thing.number or new.count}" for title, new in titles]
    consumables = [row(each.what, each.when, each.only_if) for each in layout.consumables]
    consumables += [row(words.fluid(*each.what), each.when, each.only_if) for each in layout.fluids]
    for label, items in (
        (labels.new_parts, parts),
        (labels.tools, tools),
        (labels.consumables, consumables),
        (labels.equipment, equipment),
    ):
        if items:
            yield paragraph(f"{label}: {'; '.join(items)}.", "follow-up-needs")


def follow_ups(
    sheet: JobSheet, line: Callable[[SheetStep], Iterable[nodes.Node]], words: Language, *, hours: bool
) -> Iterator[nodes.Node]:
    """Yield after what each follow-up is due, its steps, and a place for the hours, or the day, after the last."""
    for part in sheet.sections:
        heading = paragraph("", "follow-up-after", "leads-in")
        limit = words.only_when(part.when)
        if limit:
            heading += own.only_when(f"{limit} ", f"{limit} ", label=limit)
        heading += nodes.strong("", words.due_after(part.after or ""))
        run = [node for step in part.steps for node in line(step)]
        last = next((node for node in reversed(run) if isinstance(node, own.step)), None)
        if last is not None:
            at = next((at for at, child in enumerate(last.children) if isinstance(child, own.otherwise)), len(last))
            last.insert(at, done_at(part.after or "", words, hours=hours))
        yield heading
        yield from run


def afterwards(job: Sequence, sheet: JobSheet, opened: Opened, words: Language) -> list[str]:
    """Return after what a job has follow-ups, each with what limits it."""
    later = sheet_of(job.later, opened) if isinstance(job, Job) and job.later else None
    dues = [(part.after or "", part.when, tuple[str, ...]()) for part in later.sections] if later else []
    dues += [(row.hours.text, row.when, row.only_if) for row in sheet.follow_ups]
    told = [words.row(words.due_after(after).rstrip(":"), when, only_if) for after, when, only_if in dues]
    return list(dict.fromkeys(told))


def done_at(after: str, words: Language, *, hours: bool) -> own.blank:
    """Return the place for what the hour meter, or the one for the distance, shows when a follow-up is done."""
    labels, due = words.labels.safety, quantity_or_words(after)
    if isinstance(due, Quantity) and due.kind in (Kind.LENGTH, Kind.DISTANCE):
        return own.blank(label=labels.follow_up_done, unit=words.unit_of(due))
    if not hours and not isinstance(due, Quantity):
        return own.blank(label=labels.follow_up_on, unit="")
    return own.blank(label=labels.follow_up_blank, unit=labels.hours_unit)


def to_follow(rows: List[FollowUp], words: Language, ident: str, before: List[nodes.Node] = ()) -> nodes.section | None:
    """Return what is due later, each with a box and a place for the hour: what is tightened once more stands last."""
    if not rows and not before:
        return None
    run, labels = own.steps(), words.labels.safety
    run += before
    first = sum(isinstance(node, own.step) for node in before) + 1
    hours = ""
    for number, row in enumerate(rows, first):
        if before and row.hours.text != hours:
            # Else it would stand under the time of the follow-up before it.
            hours = row.hours.text
            heading = paragraph("", "follow-up-after", "leads-in")
            heading += nodes.strong("", words.due_after(hours))
            run += heading
        node = own.step(number=f"F{number}", box=True, classes=["follow-up"])
        text = own.step_text()
        limit = words.only_when(row.when)
        if limit:
            text += own.only_when(f"{limit} ", f"{limit} ", label=limit)
        text += inlines(words.once_more(row.thing, row.count, row.hours, row.torque, row.steps, row.slacken))
        node += text
        if row.only_if:
            node += paragraph(words.if_led(row.only_if), "note")
        node += own.blank(label=labels.follow_up_blank, unit=labels.hours_unit)
        run += node
    return section(
        labels.follow_up,
        ident,
        paragraph(labels.follow_up_lead, "leads-in"),
        run,
        classes=["follow-up"],
    )
