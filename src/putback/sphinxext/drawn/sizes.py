"""Bolts at true size: at the step that puts them in, beside those of the job that can be taken for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from putback.drawings.bolt_shapes import BoltShape, Shape
from putback.drawings.bolts import SizedRow, is_broken, is_in_full, shape_of, true_size_drawing
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.piece_sizes import PieceSize, piece_sizes
from putback.model.verbs.pieces import Install, Replace
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.variants import NONE
from putback.words import Language

MOST_ROWS = 8
"""Pieces in one drawing; more would take a page of their own."""


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the pieces that a step puts in, at true size, once a job."""
    action = line.step.action
    if not isinstance(action, Install | Replace):
        return
    fitted = [row.thing for row in page.sheet.count_back if row.back and isinstance(row.thing, Fastener)]
    named = [page.words.things.get(ref.name) for ref in line.step.things]
    for thing in named:
        if not isinstance(thing, Fastener):
            continue
        alike = _taken_for(thing, [each for each in fitted if _together(each, thing, page)])
        drawn = sizes_drawing([*alike, *_nuts(alike, page.words)], page.words)
        if drawn is None or page.shown.get(f"sizes of {thing.key}") == line.number:
            continue  # it stands beside another that this step puts in
        if f"sizes of {thing.key}" not in page.shown:
            for each in alike:
                page.shown.setdefault(f"sizes of {each.key}", line.number)
        yield Placed(f"sizes of {thing.key}", drawn, page.words.sized_before)


def _together(one: Fastener, other: Fastener, page: OnPage) -> bool:
    """Tell whether a machine can have both."""
    graph = page.opened.graph
    if graph is None or one.key not in graph.machine.things or other.key not in graph.machine.things:
        return True
    return graph.space.both(graph.present(one.key), graph.present(other.key)) != NONE


def _taken_for(thing: Fastener, fitted: Sequence[Fastener]) -> list[Fastener]:
    """Return a group with those of the job that can be taken for it: with the same thread, of another length.

    Nothing for a single piece that cannot be taken for another.
    """
    if not any(isinstance(shape_of(size), BoltShape) for size in piece_sizes(thing)):
        return []
    alike = {
        each.key: each
        for each in (thing, *fitted)
        if each.screw is not None
        and thing.screw is not None
        and abs(each.screw.diameter - thing.screw.diameter) < 0.1
        and any(isinstance(shape_of(size), BoltShape) for size in piece_sizes(each))
    }
    if thing.count == 1 and len(alike) == 1:
        return []
    rest = sorted(alike.values(), key=lambda each: (each.key != thing.key, _away(each, thing), each.key))
    return rest[:MOST_ROWS]


def _away(each: Fastener, thing: Fastener) -> float:
    """Return how much longer or shorter a group is, mm."""
    here, there = (piece_sizes(one)[0].millimetres or 0.0 for one in (each, thing))
    return abs(here - there)


def _nuts(bolts: Iterable[Fastener], words: Language) -> list[Fastener]:
    """Return the nuts that go on bolts."""
    refs = [ref for bolt in bolts for ref in (bolt.counterhold, bolt.held_for) if ref]
    nuts = [words.things.get(ref.name) for ref in refs]
    return list({nut.key: nut for nut in nuts if isinstance(nut, Fastener) and nut.is_nut}.values())


def sizes_drawing(things: Sequence[AnyThing], words: Language) -> own.drawing | None:
    """Return the drawing of pieces at true size; None when nothing is known of their size."""
    found: list[tuple[PieceSize, Shape]] = [
        (size, shape)
        for thing in things
        if isinstance(thing, Fastener)
        for size in piece_sizes(thing)
        if (shape := shape_of(size)) is not None
    ]
    found = found[:MOST_ROWS]
    if not found:
        return None
    shapes = [shape for _, shape in found]
    cut = [is_broken(shape, shapes) for shape in shapes]
    said = words.true_size([size for size, _ in found], cut, [is_in_full(shape) for shape in shapes])
    rows = [SizedRow(shape, name, facts) for shape, (name, facts) in zip(shapes, said.rows, strict=True)]
    svg = true_size_drawing(rows, said.label, said.description)
    return own.drawing("", paragraph(said.caption), svg=svg, alt=said.alt, screen=said.screen, true_size=True)


def of_machine(machine: Machine, words: Language) -> Iterator[own.drawing]:
    """Yield the bolts of a machine at true size, those of one thread beside each other, the shortest first."""
    by_thread: dict[float, list[Fastener]] = {}
    for thing in machine.things.values():
        if isinstance(thing, Fastener) and thing.screw and isinstance(shape_of(piece_sizes(thing)[0]), BoltShape):
            by_thread.setdefault(thing.screw.diameter, []).append(thing)
    for _, things in sorted(by_thread.items()):
        things.sort(key=lambda thing: (piece_sizes(thing)[0].millimetres or 0.0, thing.key))
        for k in range(0, len(things), MOST_ROWS):
            if (drawn := sizes_drawing(things[k : k + MOST_ROWS], words)) is not None:
                yield drawn
