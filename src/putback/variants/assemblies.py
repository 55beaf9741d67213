"""Assemblies: parts that come off as one, and are taken apart or built up on the bench.

What belongs to one is what the machine file lists, with what belongs to that; and the fasteners and lines that hold
nothing but these together.
"""

from __future__ import annotations

from collections.abc import Mapping

from putback.model.machine import AnyThing, Fastener, Line, Part


def members_of(things: Mapping[str, AnyThing]) -> dict[str, frozenset[str]]:
    """Return what goes along with each assembly, by its name; nothing for a machine that has none."""
    listed = {key: thing for key, thing in things.items() if isinstance(thing, Part) and thing.assembly}
    return {key: frozenset(_held_together(key, _inner(key, listed), things)) for key in listed}


def _inner(key: str, listed: Mapping[str, Part]) -> set[str]:
    """Return what an assembly lists, and what that lists."""
    found, waiting = set[str](), [key]
    while waiting:
        part = listed.get(waiting.pop())
        new = {ref.name for ref in part.assembly} - found - {key} if part else set()
        found |= new
        waiting += sorted(new)
    return found


def _held_together(key: str, inner: set[str], things: Mapping[str, AnyThing]) -> set[str]:
    """Add the fasteners and lines that hold and join nothing else, with the nuts and pins of these."""
    known = {name for name in inner if name in things}
    while True:
        whole = {key, *inner, *known}
        new = {name for name, thing in things.items() if name not in whole and _is_own(thing, key, whole)}
        if not new:
            return known
        known |= new


def _is_own(thing: AnyThing, key: str, whole: set[str]) -> bool:
    match thing:
        case Fastener():
            pair = thing.counterhold or thing.held_for
            held = {ref.name for ref in thing.secures or ((pair,) if pair and thing.to is None else ())}
            if not held and thing.to is None:
                return False
            return held <= whole and (thing.to.name in whole if thing.to else not held.isdisjoint(whole - {key}))
        case Line(joins=joins):
            return bool(joins) and {ref.name for ref in joins} <= whole
        case _:
            return False
