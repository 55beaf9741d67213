"""The sheet that parts are laid on: a field for each piece, in the order in which they come off."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from docutils import nodes

from putback.drawings.bolts import Outline
from putback.drawings.ruler import ruler_drawing
from putback.ledger.opened import Opened
from putback.model.machine import Fastener, Line, Part
from putback.sheet import CountBack, JobSheet, SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.bench.outlined import diameter_of, outlined
from putback.sphinxext.building import paragraph, section, table
from putback.sphinxext.countback import TO_WRITE
from putback.words import Language

HEAVY = 0.5
"""A part of so much, kg, lies beside the sheet (common practice, no source)."""
LONGEST = 160.0
"""A piece that is longer, mm, does not fit on the sheet."""
FEW, COLUMN, HIGH = 5, 75.0, 90.0
"""So few fields, with outlines so many mm long and together so many high, need no sheet of their own."""
MOST_DRAWN = 8
"""Of more pieces, one outline stands for all."""
SMALL, USUAL = 12, 19
"""Room for fasteners and for parts of no known size, mm."""


class _Field(NamedTuple):
    """A field, with what lies in it."""

    number: int
    row: CountBack
    outlines: tuple[Outline, ...]


def tray(sheet: JobSheet, opened: Opened, words: Language, ident: str) -> list[own.tray]:
    """Return the sheet for the parts of a job; nothing when nothing lies on it."""
    laid = _laid(sheet, words)
    if not any(row.out for row in sheet.each_piece):
        return []
    labels, cover = words.labels.tray, opened.guide.cover
    inches, small = cover is not None and cover.units[0] == "us", _is_small(sheet, laid, words)
    pattern, whole = (labels.inches, 4) if inches else (labels.millimetres, 100)
    long = pattern.format(long=whole // 2 if small else whole)
    body = section(labels.title, ident, *([paragraph(labels.lead)] if laid else []))
    body += _aside(sheet, words)
    if any(each.outlines for each in laid):
        alt = labels.ruler_alt.format(length=long)
        caption = paragraph(labels.ruler.format(length=long))
        body += own.drawing("", caption, svg=ruler_drawing(inches=inches, label=alt, short=small), alt=alt)
    renewed: dict[str, list[str]] = {}
    for row in sheet.each_piece:
        if row.new and not row.out:
            renewed.setdefault(row.thing.key, []).extend(row.only_if)
    if laid:
        body += own.tray_fields("", *(_field(each, renewed.get(each.row.thing.key, ()), words) for each in laid))
    return [own.tray("", body, small=small)]


def _is_small(sheet: JobSheet, laid: Sequence[_Field], words: Language) -> bool:
    """Tell whether a tray would leave most of a sheet empty, and surely finds room in a column."""
    lying = [piece for each in laid for piece in _outlines(each, words)]
    few = len(laid) <= FEW and len(lying) <= FEW and len(sheet.each_piece) <= 3 * FEW
    return few and all(piece.width <= COLUMN for piece in lying) and sum(piece.height for piece in lying) <= HIGH


def by_size(sheet: JobSheet, words: Language) -> list[nodes.Node]:
    """Return the list of the fields by what lies in them, the smallest first; nothing when no size is known.

    A few are a sentence, more a table with the steps of each piece.
    """
    sized = sorted((each for each in _laid(sheet, words) if _size(each.row, words)), key=_by_size)
    labels, bench = words.labels.tray, words.labels.bench
    if len(sized) <= FEW:
        told = [labels.in_field.format(size=_size(each.row, words), field=each.number) for each in sized]
        return [paragraph(f"{labels.left_over} {'; '.join(told)}.")] if told else []
    body = [
        [
            _size(each.row, words),
            _pieces(each.row, words),
            str(each.number),
            _off(each.row, words),
            _on(each.row, words),
        ]
        for each in sized
    ]
    heads = [labels.size, labels.piece, labels.field, bench.off_at, bench.on_at]
    return [paragraph(labels.left_over_rows, "leads-in"), table(heads, body, (33, 40, 8, 9, 10), "by-size")]


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


def fields_at(sheet: JobSheet, line: SheetStep, words: Language) -> list[str]:
    """Return the numbers of the fields that have, at true size, what a step takes off or puts back."""
    names = {ref.name for ref in line.step.things}
    return [
        str(each.number)
        for each in _laid(sheet, words)
        if _outlines(each, words) and names & {each.row.thing.key, each.row.thing.of}
    ]


def _laid(sheet: JobSheet, words: Language) -> list[_Field]:
    """Return the fields of a tray, in the order in which the pieces come off."""
    rows = [row for row in sheet.each_piece if row.out and not _elsewhere(row, words)]
    return [_Field(number, row, outlined(row.thing, words)) for number, row in enumerate(rows, 1)]


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
    if isinstance(row.thing, Fastener):
        return words.facts(row.thing).strip(" ()")
    return words.size_of(row.thing).rstrip(".") if isinstance(row.thing, Part) else ""


def _by_size(each: _Field) -> tuple[float, float, int]:
    """Return what fields are put in order by: fasteners by thread and length, then round parts by their diameter."""
    thing = each.row.thing
    if not isinstance(thing, Fastener):
        return (math.inf, diameter_of(thing) if isinstance(thing, Part) else 0.0, each.number)
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
    lying = _outlines(each, words)
    letters = " ".join(piece.place for piece in lying)
    return own.tray_field("", *said, number=str(each.number), outlines=lying, letters=letters, room=room)


def _outlines(each: _Field, words: Language) -> tuple[Outline, ...]:
    """Return an outline for each piece that lies there, or one for all where they are too many.

    Pieces of different lengths, and those that go back to where they came from, have the names of their positions.
    """
    if not each.outlines or any(piece.width > LONGEST for piece in each.outlines):
        return ()
    thing, kept = each.row.thing, each.row.out - each.row.new
    if len(each.outlines) > 1:
        placed = [(piece, place) for piece in each.outlines for place in piece.place.split(", ")]
    elif isinstance(thing, Fastener) and thing.own_places and len(thing.positions) == kept <= MOST_DRAWN:
        placed = [(each.outlines[0], place) for place in thing.positions]
    else:
        return each.outlines * (kept if kept <= MOST_DRAWN else 1)
    return tuple(replace(piece, place=words.choices([place]) if place else "") for piece, place in placed)


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
