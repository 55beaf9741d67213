"""Bolts at true size: at the step that puts them in, beside those of the job that can be taken for them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

from putback.drawings.bolt_shapes import BoltShape, Shape, across
from putback.drawings.bolts import (
    BOOK,
    HIGHEST,
    LARGE,
    SHEET,
    Column,
    SizedRow,
    is_broken,
    is_in_full,
    shape_of,
    that_fit,
    true_size_drawing,
)
from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.piece_sizes import PieceSize, piece_sizes
from putback.model.verbs.pieces import Install, Replace
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.variants import NONE
from putback.words import Language
from putback.words.drawn import TrueSizeWords

MOST_ROWS = 8
"""Pieces in the drawing of a step; more would take a page of their own."""
TALLEST = 76.0
"""What pieces in one drawing of the machine's page take at most, mm: two of them find room on a page."""
_WASHERS = frozenset({PartShape.WASHER, PartShape.SPRING_WASHER, PartShape.WAVE_WASHER})
_HEADING = 9.0
"""What stands between two pieces, mm."""


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the pieces that a step puts in, at true size, once a job."""
    action = line.step.action
    if not isinstance(action, Install | Replace) or (isinstance(action, Replace) and action.later):
        return
    fitted = [row.thing for row in page.sheet.count_back if row.back and isinstance(row.thing, Fastener)]
    named = [page.words.things.get(ref.name) for ref in line.step.things]
    for thing in named:
        if not isinstance(thing, Fastener):
            continue
        key = f"sizes of {thing.key}"
        if (before := page.shown.get(key)) is not None:
            if before != line.number:  # else it stands beside another that this step puts in
                yield Placed(key, own.drawing(), page.words.sized_before)
            continue
        alike = _taken_for(thing, fitted, page)
        with_them = _on_them(alike, page.words)
        if thing.count == 1 and len(alike) == 1 and not with_them:
            continue  # nobody takes it for another
        drawn = sizes_drawing([*alike, *with_them], page.words)
        if drawn is not None:
            for each in alike:
                page.shown.setdefault(f"sizes of {each.key}", line.number)
            yield Placed(key, drawn, page.words.sized_before)


def _together(one: Fastener, other: Fastener, page: OnPage) -> bool:
    """Tell whether a machine can have both."""
    graph = page.opened.graph
    if graph is None or one.key not in graph.machine.things or other.key not in graph.machine.things:
        return True
    return graph.space.both(graph.present(one.key), graph.present(other.key)) != NONE


def _taken_for(thing: Fastener, fitted: Sequence[Fastener], page: OnPage) -> list[Fastener]:
    """Return a group with those of the job that can be taken for it: with the same thread, of another length."""
    if not any(isinstance(shape_of(size), BoltShape) for size in piece_sizes(thing)):
        return []
    alike = {
        each.key: each
        for each in (thing, *fitted)
        if each.screw is not None
        and thing.screw is not None
        and abs(each.screw.diameter - thing.screw.diameter) < 0.1
        and any(isinstance(shape_of(size), BoltShape) for size in piece_sizes(each))
        and _together(each, thing, page)
    }
    rest = sorted(alike.values(), key=lambda each: (each.key != thing.key, _away(each, thing), each.key))
    high = [*accumulate(map(_high, rest))]
    return [each for each, down in zip(rest[:MOST_ROWS], high, strict=False) if down <= HIGHEST or each is thing]


def _high(thing: Fastener) -> float:
    """Return what the pieces of a group take in a drawing, mm."""
    return sum(across(shape) + _HEADING for size in piece_sizes(thing) if (shape := shape_of(size)))


def _away(each: Fastener, thing: Fastener) -> float:
    """Return how much longer or shorter a group is, mm."""
    here, there = (piece_sizes(one)[0].millimetres or 0.0 for one in (each, thing))
    return abs(here - there)


def _on_them(bolts: Iterable[Fastener], words: Language) -> list[Fastener | Part]:
    """Return the washers and the nuts that go on bolts."""
    found: dict[str, Fastener | Part] = {}
    for bolt in bolts:
        for ref in bolt.secures:
            washer = words.things.get(ref.name)
            if isinstance(washer, Part) and words.shape_of(washer) in _WASHERS and shape_of(PieceSize(washer)):
                found.setdefault(washer.key, washer)
        for pair in filter(None, (bolt.counterhold, bolt.held_for)):
            nut = words.things.get(pair.name)
            if isinstance(nut, Fastener) and nut.is_nut and shape_of(PieceSize(nut)):
                found.setdefault(nut.key, nut)
    return list(found.values())


def sizes_drawing(things: Sequence[AnyThing], words: Language) -> own.drawing | None:
    """Return the drawing of pieces at true size; None when nothing is known of their size."""
    alike: dict[tuple[Shape, str], list[PieceSize]] = {}
    for thing in (each for each in things if isinstance(each, Fastener | Part)):
        thread = thing.thread if isinstance(thing, Fastener) else None
        for size in piece_sizes(thing):
            if (shape := shape_of(size)) is not None:
                alike.setdefault((shape, "".join((thread or "").split())), []).append(size)
    (svg, said), (narrow, _), (large, _) = (
        _drawn_in(column, [*alike.items()], words) for column in (BOOK, SHEET, LARGE)
    )
    if said is None:
        return None
    look = {"svg": svg, "narrow": narrow, "large": large, "alt": said.alt, "screen": said.screen, "true_size": True}
    return own.drawing("", paragraph(said.caption), **look)


_Alike = tuple[tuple[Shape, str], list[PieceSize]]


def _drawn_in(column: Column, alike: Sequence[_Alike], words: Language) -> tuple[str, TrueSizeWords | None]:
    """Return the drawing for a column of those that have room in it, with its words; nothing when none has."""
    fits = that_fit([shape for (shape, _), _ in alike], column)
    found = [each for each, fit in zip(alike, fits, strict=True) if fit]
    if not found:
        return "", None
    shapes, sizes = [shape for (shape, _), _ in found], [sizes for _, sizes in found]
    broken = [is_broken(shape, shapes, column) for shape in shapes]
    said = words.true_size(sizes, broken, [is_in_full(shape) for shape in shapes])
    rows = [SizedRow(shape, name, facts) for shape, (name, facts) in zip(shapes, said.rows, strict=True)]
    return true_size_drawing(rows, said.label, said.description, column), said


def of_machine(machine: Machine, words: Language) -> Iterator[own.drawing]:
    """Yield the bolts of a machine at true size, the thinnest first, and of one thread the shortest."""
    bolts: list[tuple[float, float, str, Fastener]] = []
    for thing in machine.things.values():
        size = piece_sizes(thing)[0] if isinstance(thing, Fastener) else None
        if isinstance(thing, Fastener) and thing.screw and size and isinstance(shape_of(size), BoltShape):
            bolts.append((thing.screw.diameter, size.millimetres or 0.0, thing.key, thing))
    alike: dict[tuple[object, ...], list[Fastener]] = {}
    for *_, thing in sorted(bolts, key=lambda bolt: bolt[:3]):
        looks = [shape for size in piece_sizes(thing) if (shape := shape_of(size))]
        alike.setdefault((*looks, "".join((thing.thread or "").split())), []).append(thing)
    heights = [_high(same[0]) for same in alike.values()]
    # Several drawings are about as high as each other: a short one would stand on a page of its own.
    most = (total := sum(heights)) / (math.ceil(total / TALLEST) or 1)
    together: list[Fastener] = []
    high = 0.0
    for same, height in zip(alike.values(), heights, strict=True):
        if together and high + height / 2 > most:
            yield from filter(None, [sizes_drawing(together, words)])
            together, high = [], 0.0
        together += same
        high += height
    yield from filter(None, [sizes_drawing(together, words)])
