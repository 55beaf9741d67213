"""Tightening orders, and the loosening orders of parts that may warp."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from docutils import nodes

from putback.drawings.tightening import BoltAt, OrderWords, tightening_drawing
from putback.joints.layouts import Shape
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.same_joint import InOrder, in_order
from putback.model.verbs.pieces import Loosen, Remove, Tighten
from putback.sheet import SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage, Placed
from putback.words import Language


def at_step(page: OnPage, line: SheetStep) -> Iterator[Placed]:
    """Yield the orders of the things that a step tightens, or loosens when a part may warp."""
    action, loosening = line.step.action, isinstance(line.step.action, Loosen | Remove)
    if not isinstance(action, Tighten | Loosen | Remove) or action.count is not None or action.at:
        return
    if loosening and not page.words.gently(line.step.things):
        return
    things = _there(page)
    for ref in line.step.things:
        thing = things.get(ref.name)
        joint = in_order(thing, things) if isinstance(thing, Fastener) else ()
        if joint:
            drawn = order_drawing(joint, page.words, loosening=loosening)
            yield Placed(f"order of {joint[0].thing.key} {loosening}", drawn, page.words.drawn_before)


def _there(page: OnPage) -> Mapping[str, AnyThing]:
    """Return the things that the chosen variants have."""
    graph, things = page.opened.graph, page.words.things
    if not page.opened.only or graph is None:
        return things
    return {key: thing for key, thing in things.items() if graph.applies(thing.when)}


def order_drawing(
    joint: Sequence[InOrder], words: Language, *, loosening: bool = False, small: bool = False
) -> own.drawing:
    """Return the drawing of the order in which the groups of a joint are tightened, or loosened."""
    drawn = words.drawn(joint, loosening=loosening)
    spots = [
        BoltAt(each.layout.places[number - 1], each.before + turn, tags[number - 1])
        for each, tags in zip(joint, drawn.tags, strict=True)
        for turn, number in enumerate(each.sequence, 1)
    ]
    layout, first = joint[0].layout, joint[0].thing
    sides = tuple((side, word) for side, word in ((first.front, drawn.front), (first.top, drawn.top)) if side)
    said = OrderWords(drawn.label, drawn.description, drawn.headline, drawn.turn, drawn.place, sides)
    circle = math.hypot(*layout.places[0]) if layout.shape is Shape.CIRCLE and len(joint) == 1 else None
    svg = tightening_drawing(spots, said, loosening=loosening, circle=circle, small=small)
    return own.drawing("", paragraph(drawn.caption), svg=svg, alt=drawn.alt, bold=True)


def of_machine(machine: Machine, words: Language) -> Iterator[nodes.Element]:
    """Yield the drawings of all joints of a machine that have an order, two beside each other."""
    drawings = []
    for thing in machine.things.values():
        joint = in_order(thing, machine.things) if isinstance(thing, Fastener) else ()
        if joint and joint[0].thing.key == thing.key:
            drawings.append(order_drawing(joint, words, small=True))
    if len(drawings) > 1:
        yield own.abreast("", *drawings)
    else:
        yield from drawings
