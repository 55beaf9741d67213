"""What stands beside the pieces of a joint in its drawing, in any language: their places and their sizes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

from putback.model.machine import Fastener
from putback.model.same_joint import InOrder
from putback.source.grammar import unbroken
from putback.units import Quantity, digits

Tags: TypeAlias = tuple[tuple[tuple[str, ...], ...], ...]
"""By groups, and by pieces: the lines that stand beside each."""

FEW_TOLD = 4
"""Alike pieces that each have their size beside them, where other groups are in the joint; of more, only the others."""


def tags_of(
    joint: Sequence[InOrder], size: Callable[[Quantity], str], place: Callable[[str], str]
) -> tuple[Tags, bool]:
    """Return what stands beside each piece, by groups, and whether numbers of places stand there.

    Where groups share a joint, it is the size of their pieces; of a large group, only when they are few. `size` and
    `place` say a length as it is marked, and the name of a place.
    """
    first = joint[0]
    single = len(joint) == 1
    in_turn = first.sequence == tuple(range(1, len(first.sequence) + 1))
    numbers = single and not first.thing.positions and not in_turn
    most = max(each.thing.count for each in joint)
    found = []
    for each in joint:
        thing, by_place = each.thing, dict(each.thing.lengths)
        told = not single and (thing.count < most or most <= FEW_TOLD)
        lines = []
        for number in range(1, thing.count + 1):
            name = thing.positions[number - 1] if thing.positions else ""
            length = by_place.get(name)
            sized = size(length) if length else size_of(thing, size) if told else ""
            where = place(name) if name else str(number) if numbers else ""
            lines.append(tuple(filter(None, (where, unbroken(sized)))))
        found.append(tuple(lines))
    return tuple(found), numbers


def size_of(thing: Fastener, size: Callable[[Quantity], str]) -> str:
    """Return how a bolt is called by its size: `M8 x 45`; the thread alone where nothing says how long it is."""
    thread = (thing.thread or "").split(" ")[0]
    length = thing.length.to("mm").nominal if thing.length and thing.length.unit == "mm" else None
    if thread.startswith("M") and length is not None:
        return f"{thread} x {digits(length)}"
    return ", ".join(filter(None, (thing.thread, size(thing.length) if thing.length else "")))
