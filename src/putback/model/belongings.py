"""What a thing of the machine belongs to, and cannot be there without."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Fastener, Fluid, Line, Machine, Part
from putback.model.terms import Ref

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
        self.counts: dict[tuple[str, str | None], list[str]] = {}
        """By name in the file and place: the things that stand for one of which each variant has another number."""
        for thing in machine.things.values():
            self.counts.setdefault((_base(thing.key), thing.place), []).append(thing.key)

    def ends(self, refs: Iterable[Ref]) -> Iterator[list[str]]:
        """Yield each thing that is named, with those that stand in its place where another number of it is there."""
        seen: set[str] = set()
        for ref in refs:
            if ref.name not in seen:
                thing = self.machine.things.get(ref.name)
                alike = self.counts[_base(thing.key), thing.place] if thing else [ref.name]
                seen.update(alike)
                yield alike

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
                for names in self.ends([thing.to] if thing.to else []):
                    self.add(thing.key, names, "has nothing to go into", "have nothing to go into")
                    for name in names:
                        self.fixed.setdefault(name, []).append(thing.key)
                for ref in thing.secures:
                    self.held_by.setdefault(ref.name, []).append(thing.key)
            case Line():
                for names in self.ends(thing.joins):
                    self.add(thing.key, names, "lacks an end", "lack an end")
                    for name in names:
                        self.fixed.setdefault(name, []).append(thing.key)
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
            self.add(key, fasteners, "is not held by anything", "are not held by anything")
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


def _base(key: str) -> str:
    return key.partition("@")[0]


def _neighbours(machine: Machine) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for stack in machine.stacks:
        names = [ref.name for ref in stack.order]
        for name in names:
            found.setdefault(name, []).extend(other for other in names if other != name)
    return found
