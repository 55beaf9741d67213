"""Groups of fasteners that share a joint: which are tightened after which, and which one drawing shows."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from putback.joints.layouts import Layout
from putback.model.build_order import FEW, MOST_DRAWN
from putback.model.machine import AnyThing, Fastener


@dataclass(frozen=True, slots=True)
class InOrder:
    """A group with places, in the order of its joint."""

    thing: Fastener
    """The group."""
    layout: Layout
    """Where its pieces sit."""
    sequence: tuple[int, ...]
    """The numbers of its places, as they are tightened."""
    before: int
    """How many pieces of the joint are tightened before it."""


def in_order(thing: Fastener, things: Mapping[str, AnyThing]) -> tuple[InOrder, ...]:
    """Return the groups of a fastener's joint that one drawing shows, as they are tightened; none without an order."""
    first = first_of(thing, things)
    found: list[InOrder] = []
    before = 0
    for group in (first, *_after(first, things)):
        sequence = group.sequence or (tuple(range(1, group.count + 1)) if group.count <= FEW else ())
        if group.places is None or not sequence or before + group.count > MOST_DRAWN:
            continue
        if any(
            math.dist(here, there) < 1 for each in found for here in each.layout.places for there in group.places.places
        ):
            continue  # in the place of another, on other machines
        found.append(InOrder(group, group.places, sequence, before))
        before += group.count
    if len(found) == 1 and not found[0].thing.sequence:
        return ()
    return tuple(found) if any(each.thing.key == thing.key for each in found) else ()


def first_of(thing: Fastener, things: Mapping[str, AnyThing]) -> Fastener:
    """Return the group of a joint that is tightened before all others."""
    seen = {thing.key}
    while thing.tightened_after is not None:
        before = things.get(thing.tightened_after.name)
        if not isinstance(before, Fastener) or before.key in seen:
            break
        thing = before
        seen.add(thing.key)
    return thing


def _after(first: Fastener, things: Mapping[str, AnyThing]) -> list[Fastener]:
    """Return the groups that are tightened after one, those right after it first."""
    found: list[Fastener] = []
    waiting = [first.key]
    for key in waiting:
        for thing in things.values():
            after = thing.tightened_after if isinstance(thing, Fastener) else None
            if isinstance(thing, Fastener) and after and after.name == key and thing.key not in (*waiting, first.key):
                found.append(thing)
                waiting.append(thing.key)
    return found
