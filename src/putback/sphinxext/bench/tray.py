"""The sheet that parts are laid on: a field for each piece, in the order in which they come off."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from docutils import nodes

from putback.drawings.ruler import ruler_drawing
from putback.ledger.opened import Opened
from putback.model.machine import Fastener, Line, Part
from putback.sheet import CountBack, JobSheet
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.shapes import Lying, lying
from putback.sphinxext.building import paragraph, section, table
from putback.sphinxext.countback import TO_WRITE
from putback.words import Language

HEAVY = 0.5
"""A part of so much, kg, lies beside the sheet (common practice, no source)."""
LONGEST = 160.0
"""A piece that is longer, mm, does not fit on the sheet."""
MOST_DRAWN = 8
"""Of more pieces, one outline stands for all."""
SMALL, USUAL = 12, 19
"""Room for fasteners and for parts of no known size, mm."""


class _Field(NamedTuple):
    """A field, with what lies in it."""

    number: int
    row: CountBack
    outlines: tuple[Lying, ...]


def tray(sheet: JobSheet, opened: Opened, words: Language, ident: str) -> list[nodes.Node]:
    """Return the sheet for the parts of a job; nothing when nothing lies on it."""
    laid = _laid(sheet, words)
    if not any(row.out for row in sheet.each_piece):
        return []
    labels, cover = words.labels.tray, opened.guide.cover
    inches = cover is not None and cover.units[0] == "us"
    long = labels.inches if inches else labels.millimetres
    body = section(labels.title, ident, *([paragraph(labels.lead)] if laid else []))
    body += _aside(sheet, words)
    if any(each.outlines for each in laid):
        alt = labels.ruler_alt.format(length=long)
        caption = paragraph(labels.ruler.format(length=long))
        body += own.drawing("", caption, svg=ruler_drawing(inches=inches, label=alt), alt=alt)
    renewed = {row.thing.key: row.only_if for row in sheet.each_piece if row.new and not row.out}
    if laid:
        body += own.tray_fields("", *(_field(each, renewed.get(each.row.thing.key, ()), words) for each in laid))
    return [own.tray("", body)]


def by_size(sheet: JobSheet, words: Language) -> list[nodes.Node]:
    """Return the list of the fields by what lies in them, the smallest first; nothing when no size is known."""
    sized = sorted((each for each in _laid(sheet, words) if _size(each.row, words)), key=_by_size)
    return [paragraph(words.labels.tray.left_over, "leads-in"), _sizes(sized, words)] if sized else []


def places_of(sheet: JobSheet, opened: Opened, words: Language) -> Callable[[CountBack], str]:
    """Return what tells where the pieces of a row of the count-back are: the numbers of their fields, or a word."""
    found: dict[tuple[str, str], dict[str, None]] = {}

    def key(row: CountBack) -> tuple[str, str]:
        name = opened.written.printed_name(row.thing.key) if opened.written else row.thing.key
        return name, words.row("", row.when, row.only_if)

    for each in _laid(sheet, words):
        found.setdefault(key(each.row), {})[str(each.number)] = None
    for row in sheet.each_piece:
        if row.out and (why := _elsewhere(row, words)):
            found.setdefault(key(row), {})[why] = None
    return lambda row: ", ".join(found.get(key(row), ["–"]))


def _laid(sheet: JobSheet, words: Language) -> list[_Field]:
    """Return the fields of a tray, in the order in which the pieces come off."""
    rows = [row for row in sheet.each_piece if row.out and not _elsewhere(row, words)]
    return [
        _Field(number, row, lying(row.thing, _size(row, words) or words.title_of(row.thing)))
        for number, row in enumerate(rows, 1)
    ]


def _elsewhere(row: CountBack, words: Language) -> str:
    """Return where pieces are that do not lie on the sheet; nothing when they do."""
    thing, labels = row.thing, words.labels.tray
    if row.new >= row.out:
        return labels.old
    if row.stays:
        return labels.stays_on
    mass = float(thing.mass.to("kg").nominal or 0) if isinstance(thing, Part) and thing.mass else 0
    return labels.beside if mass >= HEAVY else ""


def _size(row: CountBack, words: Language) -> str:
    return words.facts(row.thing).strip(" ()") if isinstance(row.thing, Fastener) else ""


def _by_size(each: _Field) -> tuple[float, float, int]:
    thing = each.row.thing
    assert isinstance(thing, Fastener)
    lengths = [thing.length] if thing.length else [length for _, length in thing.lengths]
    long = min((float(length.to("mm").nominal or 0) for length in lengths), default=0.0)
    return (thing.screw.diameter if thing.screw else 0.0, long, each.number)


def _pieces(row: CountBack, words: Language) -> str:
    """Return what lies in a field, and how many: `Pump-housing bolts × 4`."""
    uncounted = isinstance(row.thing, Fastener) and row.thing.uncounted
    kept = row.out - row.new
    many = f" × {TO_WRITE if uncounted else kept}" if uncounted or kept > 1 else ""
    return words.row(f"{words.title_of(row.thing)}{many}", row.when, row.only_if)


def _field(each: _Field, renewed: Sequence[str], words: Language) -> own.tray_field:
    row, labels = each.row, words.labels.tray
    off = labels.off.format(steps=words.names(row.off)) if row.off else labels.already
    on = labels.on.format(steps=words.names(row.on)) if row.on else labels.stays_off
    said = [paragraph(_pieces(row, words), "piece")]
    size = _size(row, words)
    said += [paragraph(size, "size")] if size else []
    said += [paragraph(f"{off}, {on}", "steps")]
    if renewed:
        said += [paragraph(labels.may_be_new.format(steps=words.choices(renewed)), "size")]
    room = SMALL if isinstance(row.thing, Fastener | Line) else USUAL
    return own.tray_field("", *said, number=str(each.number), outlines=_outlines(each), room=room)


def _outlines(each: _Field) -> tuple[Lying, ...]:
    """Return an outline for each piece that lies there, or one for all where they are too many or too long."""
    if not each.outlines or any(piece.width > LONGEST for piece in each.outlines):
        return ()
    if len(each.outlines) > 1:
        return each.outlines
    kept = each.row.out - each.row.new
    return each.outlines * (kept if kept <= MOST_DRAWN else 1)


def _aside(sheet: JobSheet, words: Language) -> Iterator[nodes.Node]:
    """Yield what lies on no field: what is too large, with room to write where it is; what is old; what stays on."""
    labels, bench = words.labels.tray, words.labels.bench
    rows = [(_elsewhere(row, words), row) for row in sheet.each_piece if row.out]
    for lead, why in ((labels.old_lead, labels.old), (labels.stays_lead, labels.stays_on)):
        told = [
            f"{_whole(row, words)} ({labels.steps.format(off=_off(row, words), on=_on(row, words))})"
            for each, row in rows
            if each == why
        ]
        if told:
            yield paragraph(f"{lead} {'; '.join(told)}.")
    large = [row for why, row in rows if why == labels.beside]
    if large:
        yield paragraph(labels.beside_lead, "leads-in")
        body = [[_whole(row, words), _off(row, words), _on(row, words), 4 * TO_WRITE] for row in large]
        yield table([labels.piece, bench.off_at, bench.on_at, labels.where], body, (40, 12, 12, 36), "aside")


def _off(row: CountBack, words: Language) -> str:
    return ", ".join(row.off) or words.labels.bench.already


def _on(row: CountBack, words: Language) -> str:
    return ", ".join(row.on) or words.labels.bench.stays_off


def _whole(row: CountBack, words: Language) -> str:
    many = f" × {row.out}" if row.out > 1 else ""
    return words.row(f"{words.title_of(row.thing)}{many}", row.when, row.only_if)


def _sizes(laid: Sequence[_Field], words: Language) -> nodes.table:
    labels = words.labels.tray
    body = [[_size(each.row, words), words.title_of(each.row.thing), str(each.number)] for each in laid]
    return table([labels.size, labels.piece, labels.field], body, (44, 40, 16), "sizes")
