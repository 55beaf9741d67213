"""What pages say on safety: messages, who may do a job and when to leave it, what to tighten once more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docutils import nodes

from putback.ledger.opened import Opened
from putback.model.job import Block, Job
from putback.model.library import Hazard, SafetyMessage
from putback.model.terms import Signal
from putback.prose.contents import jobs_in_order
from putback.sheet import LaidOut, SetUp, sheet_of, wear_of
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, bullets, fact, link, paragraph, table
from putback.sphinxext.pointers import pointed
from putback.words import Language, catalogue


def panel(message: SafetyMessage, wear: str = "", limit: Sequence[nodes.Node] = ()) -> own.panel:
    """Return a safety message: the variants it is limited to, hazard, consequence, how to avoid it, what to wear."""
    node = own.panel(signal=message.signal.value)
    node += own.panel_hazard("", "", *limit, nodes.Text(message.hazard))
    if message.consequence:
        node += own.panel_consequence(message.consequence, message.consequence)
    avoid = own.panel_avoid()
    avoid += [paragraph(each) for each in message.avoid]
    node += avoid
    if wear:
        node += own.panel_wear(wear, wear)
    return node


def hazards(rows: Sequence[LaidOut[SafetyMessage]], words: Language) -> nodes.Node:
    """Return the hazards of safety messages, each after its signal word, with the variants that have it."""
    if not rows:
        return paragraph(words.labels.job.none)
    listed = nodes.bullet_list(bullet="-")
    for row in rows:
        signal = row.what.signal.value
        word = f"{words.labels.safety.signal(signal).upper()}:"
        line = nodes.paragraph()
        line += nodes.inline(word, word, classes=["signal-word", f"signal-{signal}"])
        limit = words.only_when(row.when)
        line += nodes.Text(f" {limit} {row.what.hazard}" if limit else f" {row.what.hazard}")
        listed += nodes.list_item("", line)
    return listed


def short_form(job: Job | Block, layout: SetUp, words: Language) -> Iterator[own.fact]:
    """Yield what stands in the block that opens a page: skill, when to call a professional, what goes first."""
    labels = words.labels.safety
    if isinstance(job, Job):
        yield fact(labels.skill, words.skill(job))
    if layout.licensed:
        yield fact(labels.licensed, " ".join(_by_variants(layout.licensed, words)))
    yield fact(labels.stop, labels.stop_and_call)
    yield fact(labels.first, labels.goes_first)


def _by_variants(rows: Sequence[LaidOut[Hazard]], words: Language) -> Iterator[str]:
    """Yield what a licensed professional must do: a sentence for all variants, then one for those of each limit."""
    alike: dict[str, list[Hazard]] = {}
    for row in rows:
        alike.setdefault(words.only_when(row.when) or "", []).append(row.what)
    for limit in sorted(alike, key=bool):
        said = words.licensed(alike[limit])
        yield f"{limit} {said}" if limit else said


def before_you_start(opened: Opened, words: Language, level: int) -> list[nodes.Node]:
    """Return the long form of the same for a whole guide, under headings of a level from 2."""
    guide, labels = opened.guide, words.labels.safety
    first = nodes.enumerated_list(enumtype="arabic", prefix="", suffix=".")
    first += [nodes.list_item("", paragraph(item)) for item in labels.before_first_list]
    parts: list[nodes.Node] = [
        paragraph(labels.before_lead, "before-lead"),
        _heading(labels.before_first, level),
        paragraph(labels.before_first_lead, "leads-in"),
        first,
        _heading(labels.before_stop, level),
        paragraph(labels.before_stop_lead, "leads-in"),
        bullets(labels.before_stop_list),
        paragraph(labels.before_often),
        *(paragraph(words.before_licensed(hazard, titles)) for hazard, titles in _licensed(opened)),
        paragraph(labels.before_leave),
    ]
    if guide.jobs:
        rows: list[list[Cell]] = [[_linked(job), words.skill(job)] for job in jobs_in_order(guide)]
        parts += [
            _heading(labels.before_who, level),
            table([labels.job, labels.who], rows, (36, 64), "skills"),
        ]
    return pointed(parts, opened, words)


def _heading(words: str, level: int) -> nodes.rubric:
    """Return a heading that opens no section, so that it can stand wherever an author puts the directive."""
    return nodes.rubric("", words, **{"heading-level": level})


def _linked(job: Job) -> nodes.paragraph:
    node = nodes.paragraph()
    node += link("job", job.key, job.title)
    return node


def _licensed(opened: Opened) -> Iterator[tuple[Hazard, list[str]]]:
    """Yield the hazards that need a licensed professional, each with the titles of its jobs."""
    found: dict[str, tuple[Hazard, list[str]]] = {}
    for job in jobs_in_order(opened.guide):
        sheet = sheet_of(job, opened)
        for row in sheet.set_up.licensed if sheet else ():
            found.setdefault(row.what.key, (row.what, []))[1].append(job.title)
    yield from found.values()


def caution_panels(opened: Opened) -> list[nodes.Node]:
    """Return the safety messages that the guide's jobs show, gravest first."""
    guide, words = opened.guide, catalogue(opened)
    sheets = [sheet for job in guide.jobs.values() if (sheet := sheet_of(job, opened))]
    messages = {row.what.key: row.what for sheet in sheets for row in sheet.set_up.cautions}
    grave = list(Signal)
    result: list[nodes.Node] = []
    for message in sorted(messages.values(), key=lambda message: grave.index(message.signal)):
        node = panel(message, words.wear(wear_of(message, guide.library)))
        node["ids"] = [nodes.make_id(f"{message.key}-caution")]
        node["putback_caution"] = message.key
        result.append(node)
    return pointed(result, opened, words) or [bullets([words.labels.job.none])]
