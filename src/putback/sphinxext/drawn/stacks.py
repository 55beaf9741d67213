"""Stacks: the parts that a job takes apart along their axis, at the step that takes off the first of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from docutils import nodes

from putback.drawings.stack import StackPiece, stack_drawings
from putback.model.forms import PartShape, RoundSize, across
from putback.model.machine import Fastener, Machine, Part
from putback.sheet import JobSheet, SheetStep
from putback.sheet.stacked import TakenApart, stacks_of_job, stacks_of_machine
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language
from putback.words.drawn import StackPieceWords


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the stacks of which a step takes off, or puts back, the first part."""
    for stack in page.stacks.get(line.order, ()) if line.number else ():
        key = " ".join(one.key for one in stack.things)
        # Where it stands already, nothing is drawn: a line says so.
        drawing = own.drawing() if f"stack {key}" in page.shown else stack_drawing(stack, page.words)
        yield Placed(f"stack {key}", drawing, page.words.stack_before)


def stacks_by_step(sheet: JobSheet, machine: Machine | None, words: Language) -> dict[int, list[TakenApart]]:
    """Return the stacks of a job by the steps at which they are shown."""
    found: dict[int, list[TakenApart]] = {}
    if machine is not None:
        for stack in stacks_of_job(sheet, machine):
            if is_drawn(stack, words):
                for step in stack.steps:
                    found.setdefault(step, []).append(stack)
    return found


def of_machine(machine: Machine, words: Language, sheets: Iterable[JobSheet]) -> Iterator[nodes.Element]:
    """Yield the drawings of all stacks of a machine, two beside each other where both are narrow.

    One that a job takes apart has the numbers that it has there.
    """
    in_jobs: dict[frozenset[str], TakenApart] = {}
    for stack in (stack for sheet in sheets for stack in stacks_of_job(sheet, machine)):
        in_jobs.setdefault(_coming_off(stack), stack)
    drawings = [
        stack_drawing(in_jobs.get(_coming_off(stack), stack), words, briefly=True)
        for stack in stacks_of_machine(machine)
        if is_drawn(stack, words)
    ]
    if drawings:
        yield paragraph(words.labels.machine.stack_marks, "leads-in")
    if narrow := [drawing for drawing in drawings if not drawing["more"]]:
        yield own.abreast("", *narrow)
    yield from (drawing for drawing in drawings if drawing["more"])


def _coming_off(stack: TakenApart) -> frozenset[str]:
    return frozenset(one.key for one in stack.things if one.turn)


def is_drawn(stack: TakenApart, words: Language) -> bool:
    """Tell whether a stack is drawn: what most of its parts look like is known, so that they are told apart."""
    things = [words.things.get(one.key) for one in stack.things]
    parts = [thing for one, thing in zip(stack.things, things, strict=True) if one.turn and isinstance(thing, Part)]
    return None not in things and 2 * sum(words.shape_of(part) is not None for part in parts) > len(parts)


def stack_drawing(stack: TakenApart, words: Language, *, briefly: bool = False) -> own.drawing:
    """Return the drawing of a stack, in one piece or several; `briefly` without what its marks mean."""
    said = words.stack(stack)
    pieces = [_piece(one.key, one.turn, piece, words) for one, piece in zip(stack.things, said.pieces, strict=True)]
    first, *more = stack_drawings(pieces, label=said.label, lead=said.lead)
    return own.drawing(
        "",
        paragraph(said.called if briefly else said.caption),
        svg=first.svg,
        alt=first.alt,
        more=more,
        classes=["stack"],
    )


def _piece(key: str, turn: int | None, said: StackPieceWords, words: Language) -> StackPiece:
    thing = words.things[key]
    fastener = thing if isinstance(thing, Fastener) and not isinstance(thing, Part) else None
    size = (thing.size if isinstance(thing, Part) else None) or RoundSize()
    return StackPiece(
        number=turn,
        shape=words.shape_of(thing) or (PartShape.BOLT if fastener else PartShape.BLOCK),
        name=said.name,
        remarks=said.remarks,
        told=said.told,
        fitted_new=isinstance(thing, Part | Fastener) and thing.single_use,
        greased=isinstance(thing, Part) and thing.lubricant is not None,
        outside=across(size.outside) if size.outside else None,
        inside=across(size.inside) if size.inside else None,
        thickness=across(size.thickness) if size.thickness else None,
        pair=fastener is not None and (fastener.uncounted or fastener.count > 1),
    )
