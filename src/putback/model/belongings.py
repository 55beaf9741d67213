"""What a thing of the machine belongs to, and cannot be there without."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from putback.model.machine import Fastener, Fluid, Line, Machine, Part

ALONE = "is alone in its stack"
"""What is wrong with a part of which no neighbour is there."""


class Belonging(NamedTuple):
    """What a thing belongs to."""

    others: list[str]
    """The things; one of them is enough, unless all are needed."""
    one: str
    """What is wrong, after the name of a single piece: `holds nothing`."""
    many: str
    """The same after a plural: `hold nothing`."""


def belongings(machine: Machine, named_in_steps: set[str]) -> dict[str, list[Belonging]]:
    """Return what each thing belongs to, by its name: what it holds, joins, goes into, is held by or lies beside.

    `named_in_steps` are the names that some step uses.
    """
    found: dict[str, list[Belonging]] = {}
    fixed: dict[str, list[str]] = {}
    held_by: dict[str, list[str]] = {}
    uses: dict[str, list[str]] = {}

    def add(key: str, refs: Iterable[str], one: str, many: str) -> None:
        # Names that stand for nothing are told by `unknown-name`.
        known = [name for name in dict.fromkeys(refs) if name in machine.things]
        if known:
            found.setdefault(key, []).append(Belonging(known, one, many))

    for thing in machine.things.values():
        match thing:
            case Fastener():
                add(thing.key, (ref.name for ref in thing.holds), "holds nothing", "hold nothing")
                if thing.to:
                    add(thing.key, [thing.to.name], "has nothing to go into", "have nothing to go into")
                    fixed.setdefault(thing.to.name, []).append(thing.key)
                for ref in thing.holds:
                    held_by.setdefault(ref.name, []).append(thing.key)
            case Line():
                for ref in thing.joins:
                    add(thing.key, [ref.name], "lacks an end", "lack an end")
                    fixed.setdefault(ref.name, []).append(thing.key)
            case Fluid():
                for ref in (*thing.drains, *thing.fills):
                    uses.setdefault(ref.name, []).append(thing.key)
                add(thing.key, (ref.name for ref in thing.drains), "has no drain", "have no drain")
            case _:
                pass
    for key, fasteners in held_by.items():
        add(key, fasteners, "has nothing that holds it", "have nothing that holds them")
    for key, fluids in uses.items():
        drain = machine.things.get(key)
        if isinstance(drain, Fastener) and not drain.holds:
            add(key, fluids, "has no fluid to let in or out", "have no fluid to let in or out")
    for key, neighbours in _neighbours(machine).items():
        if key not in held_by and isinstance(machine.things.get(key), Part):
            add(key, neighbours, ALONE, "are alone in their stack")
            fixed.setdefault(key, []).extend(neighbours)
    for key, others in fixed.items():
        # What no step names may be there or not: nobody is told to do anything to it.
        if key not in held_by and key in named_in_steps and isinstance(machine.things.get(key), Part):
            add(key, others, "has nothing that belongs to it", "have nothing that belongs to them")
    return found


def _neighbours(machine: Machine) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for stack in machine.stacks:
        names = [ref.name for ref in stack.order]
        for name in names:
            found.setdefault(name, []).extend(other for other in names if other != name)
    return found
