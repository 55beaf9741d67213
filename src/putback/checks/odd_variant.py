"""A thing exists in a variant that lacks what it belongs to.

A bolt without the guard that it holds, a guard without its bolts, a hose without one of its ends: most often one of
them has a `when` that the other has not.

Give both the same `when`, or add what is missing in that variant.
"""

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import NamedTuple

from putback.checks import Case, Fault
from putback.finding import Also, Level
from putback.graph import Graph
from putback.model.machine import AnyThing, Fastener, Fluid, Line, Machine, Part
from putback.variants import NONE
from putback.words import listed, named, verb_s

LEVEL = Level.ERROR

FAILS = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
parts:
  pump: {}
  belt-guard: {}
  ^^^^^^^^^^ belt guard has nothing that holds it: guard bolts are not there (only when drive = gear)
fasteners:
  guard-bolts: {count: 2, thread: M6 x 1.0, torque: 9 N·m, holds: belt-guard, to: pump, when: {drive: belt}}
"""

PASSES = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
parts:
  pump: {}
  belt-guard: {when: {drive: belt}}
fasteners:
  guard-bolts: {count: 2, thread: M6 x 1.0, torque: 9 N·m, holds: belt-guard, to: pump, when: {drive: belt}}
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield things that are there in a variant without anything that they hold, join, go into or belong to."""
    graph = case.graph
    if graph is None or not graph.machine.options:
        return
    named_in_steps = {
        ref.name for sequence in case.nesting.sequences() for step in sequence.steps() for ref in step.things
    }
    belongings = _belongings(graph.machine, named_in_steps)
    for thing in graph.machine.things.values():
        faults = (fault for each in belongings.get(thing.key, ()) for fault in _without(graph, thing, each))
        # A thing that should not be there lacks everything at once: that is told once.
        yield from islice(faults, 1)


class _Belonging(NamedTuple):
    """What a thing belongs to."""

    others: list[str]
    """The things; one of them is enough, unless all are needed."""
    one: str
    """What is wrong, after the name of a single piece: `holds nothing`."""
    many: str
    """The same after a plural: `hold nothing`."""


def _belongings(machine: Machine, named_in_steps: set[str]) -> dict[str, list[_Belonging]]:
    found: dict[str, list[_Belonging]] = {}
    fixed: dict[str, list[str]] = {}
    held_by: dict[str, list[str]] = {}
    uses: dict[str, list[str]] = {}

    def add(key: str, refs: Iterable[str], one: str, many: str) -> None:
        # Names that stand for nothing are told by `unknown-name`.
        known = [name for name in dict.fromkeys(refs) if name in machine.things]
        if known:
            found.setdefault(key, []).append(_Belonging(known, one, many))

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
            add(key, neighbours, "is alone in its stack", "are alone in their stack")
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


def _without(graph: Graph, thing: AnyThing, belonging: _Belonging) -> Iterator[Fault]:
    """Yield a fault for the variants that have the thing and nothing that it belongs to."""
    left = graph.present(thing.key)
    for other in belonging.others:
        left = graph.space.without(left, graph.present(other))
    if left == NONE:
        return
    others = [graph.machine.things[other] for other in belonging.others]
    verb = verb_s(thing, belonging.one, belonging.many)
    be = "is" if len(others) == 1 and verb_s(others[0], "is", "are") == "is" else "are"
    message = f"{named(thing)} {verb}: {listed([named(other) for other in others])} {be} not there"
    also = tuple(Also(other.when.span, f"the variants that have {named(other)}") for other in others if other.when)
    yield Fault(thing.span, message, also, worlds=left)
