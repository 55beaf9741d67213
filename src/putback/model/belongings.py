"""What a thing of the machine belongs to, and cannot be there without."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from putback.model.machine import AnyThing, Fastener, Fluid, Line, Machine, Part

ALONE = "is alone in its stack"
"""What is wrong with a part of which no neighbour is there."""


class Belonging(NamedTuple):
    """What a thing belongs to."""

    others: list[str]
    """The things; one of them is enough, unless all are needed."""
    one: str
    """What is wrong, after the name of a single piece: `secures nothing`."""
    many: str
    """The same after a plural: `secure nothing`."""


def belongings(machine: Machine, named_in_steps: set[str]) -> dict[str, list[Belonging]]:
    """Return what each thing belongs to, by its name: what it holds, joins, goes into, is held by or lies beside.

    `named_in_steps` are the names that some step uses.
    """
    finder = _Finder(machine)
    for thing in machine.things.values():
        finder.take(thing)
    finder.take_back(named_in_steps)
    return finder.found


class _Finder:
    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self.found: dict[str, list[Belonging]] = {}
        self.fixed: dict[str, list[str]] = {}
        self.held_by: dict[str, list[str]] = {}
        self.uses: dict[str, list[str]] = {}

    def add(self, key: str, refs: Iterable[str], one: str, many: str) -> None:
        # Names that stand for nothing are told by `unknown-name`.
        known = [name for name in dict.fromkeys(refs) if name in self.machine.things]
        if known:
            self.found.setdefault(key, []).append(Belonging(known, one, many))

    def take(self, thing: AnyThing) -> None:
        """Note what a thing says itself, and whom it holds, joins or goes into."""
        match thing:
            case Fastener():
                self.add(thing.key, (ref.name for ref in thing.secures), "secures nothing", "secure nothing")
                self.add(thing.key, (ref.name for ref in thing.locks), "locks nothing", "lock nothing")
                pair = thing.counterhold or thing.held_for
                if pair:
                    self.add(thing.key, [pair.name], "lacks its other half", "lack their other halves")
                if thing.to:
                    self.add(thing.key, [thing.to.name], "has nothing to go into", "have nothing to go into")
                    self.fixed.setdefault(thing.to.name, []).append(thing.key)
                for ref in thing.secures:
                    self.held_by.setdefault(ref.name, []).append(thing.key)
            case Line():
                for ref in thing.joins:
                    self.add(thing.key, [ref.name], "lacks an end", "lack an end")
                    self.fixed.setdefault(ref.name, []).append(thing.key)
            case Fluid():
                for ref in (*thing.drains, *thing.fills):
                    self.uses.setdefault(ref.name, []).append(thing.key)
                self.add(thing.key, (ref.name for ref in thing.drains), "has no drain", "have no drain")
            case _:
                pass

    def take_back(self, named_in_steps: set[str]) -> None:
        """Note what follows for those that are held, joined, gone into, or in a stack."""
        things = self.machine.things
        for key, fasteners in self.held_by.items():
            self.add(key, fasteners, "has nothing that holds it", "have nothing that holds them")
        for key, fluids in self.uses.items():
            drain = things.get(key)
            if isinstance(drain, Fastener) and not drain.secures:
                self.add(key, fluids, "has no fluid to let in or out", "have no fluid to let in or out")
        for key, neighbours in _neighbours(self.machine).items():
            if key not in self.held_by and isinstance(things.get(key), Part):
                self.add(key, neighbours, ALONE, "are alone in their stack")
                self.fixed.setdefault(key, []).extend(neighbours)
        for key, others in self.fixed.items():
            # What no step names may be there or not: nobody is told to do anything to it.
            if key not in self.held_by and key in named_in_steps and isinstance(things.get(key), Part):
                self.add(key, others, "has nothing that belongs to it", "have nothing that belongs to them")


def _neighbours(machine: Machine) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for stack in machine.stacks:
        names = [ref.name for ref in stack.order]
        for name in names:
            found.setdefault(name, []).extend(other for other in names if other != name)
    return found
