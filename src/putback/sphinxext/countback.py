"""What is counted: new parts to buy; and before a job is signed off, pieces, and settings within their limits."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from docutils import nodes

from putback.model.details import Kit
from putback.model.machine import AnyThing, Fastener
from putback.sheet import CountBack, JobSheet, NewPart, SettingBack
from putback.sphinxext.building import paragraph, table
from putback.words import Language

TO_WRITE = "____"
"""Where a number is written by hand."""


def count_back(
    sheet: JobSheet, words: Language, pieces: Callable[[Sequence[CountBack], Language], nodes.table] | None = None
) -> Iterator[nodes.Node]:
    """Yield the tables of both, each with what leads to it; `pieces` makes another table of the first."""
    labels = words.labels.job
    if sheet.count_back:
        yield paragraph(labels.count_lead, "leads-in")
        yield (pieces or _pieces)(sheet.count_back, words)
    else:
        yield paragraph(labels.nothing_off)
    if sheet.ends and any(row.out > row.back for row in sheet.count_back):
        yield paragraph(labels.left_lead)
    if sheet.settings:
        yield paragraph(labels.settings_lead, "leads-in")
        yield _settings(sheet.settings, words)


def _pieces(rows: Sequence[CountBack], words: Language) -> nodes.table:
    body = [
        (
            words.row(words.title_of(row.thing), row.when, row.only_if),
            *(pieces_of(row.thing, pieces, row.varies, words) for pieces in (row.out, row.back, row.new)),
            "☐",
        )
        for row in rows
    ]
    labels = words.labels.job
    heads = [labels.piece, labels.out, labels.back, labels.new, labels.counted]
    return table(heads, body, (56, 10, 10, 10, 14), "count-back")


def pieces_of(thing: AnyThing, pieces: int, varies: bool, words: Language) -> str:
    """Return a number of pieces; a place to write it, where nobody knows how many there are."""
    uncounted = isinstance(thing, Fastener) and thing.uncounted
    return TO_WRITE if pieces and uncounted else words.count(pieces, varies=varies)


def _settings(rows: Sequence[SettingBack], words: Language) -> nodes.table:
    body = [
        (
            words.row(words.title_of(row.setting), row.when, row.only_if),
            words.limit(row.setting.limit) if row.setting.limit else "–",
            row.step or "–",
            "☐",
        )
        for row in rows
    ]
    heads = [
        words.labels.machine.setting,
        words.labels.machine.limit,
        words.labels.job.at_step,
        words.labels.job.within,
    ]
    return table(heads, body, (48, 28, 10, 14), "count-back")


def new_parts(parts: Sequence[NewPart], words: Language) -> nodes.table:
    """Return what goes in new: parts of one kit stand together, and the kit stands with the first of them."""
    labels = words.labels.job
    kits = list(dict.fromkeys(new.kit for new in parts))
    told, rows = set[Kit](), list[tuple[str, str, str, str]]()
    for new in sorted(parts, key=lambda new: kits.index(new.kit)):
        more = new.count if new.more and not new.varies else 0
        rows.append(
            (
                words.row(words.title_of(new.thing), new.when, new.only_if, more),
                new.thing.number or "–",
                labels.same_kit if new.kit in told else words.kit(new.kit),
                pieces_of(new.thing, new.count, new.varies, words),
            )
        )
        told |= {new.kit} if new.kit else set()
    return table([labels.part, labels.number, labels.kit, labels.count], rows, (46, 22, 22, 10), "parts")
