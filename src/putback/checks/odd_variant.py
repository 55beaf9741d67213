"""A thing exists in a variant that lacks what it belongs to.

A bolt without the guard that it holds, a guard without its bolts, a hose without one of its ends: usually one of them
has a `when` that the other lacks.

Give both the same `when`, or add what is missing in that variant.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import islice

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.belongings import ALONE, Belonging, belongings
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import ALL, NONE
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.VARIANTS

FAILS = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
parts:
  pump: {}
  belt-guard: {}
  ^^^^^^^^^^ belt guard is not held by anything: guard bolts are not there (only when drive = gear)
fasteners:
  guard-bolts: {count: 2, thread: M6, torque: 9 N·m, secures: belt-guard, to: pump, when: {drive: belt}, class: "8.8"}
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
  guard-bolts: {count: 2, thread: M6, torque: 9 N·m, secures: belt-guard, to: pump, when: {drive: belt}, class: "8.8"}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield things that are there in a variant without anything that they hold, join, go into or belong to."""
    graph = opened.graph
    if graph is None or not graph.machine.options:
        return
    named_in_steps = {
        ref.name for sequence in opened.nesting.sequences() for step in sequence.steps() for ref in step.things
    }
    belonging_of = belongings(graph.machine, named_in_steps)
    alone: Counter[frozenset[str]] = Counter()
    for thing in graph.machine.things.values():
        faults = ((each, fault) for each in belonging_of.get(thing.key, ()) for fault in _without(graph, thing, each))
        # A thing that should not be there lacks everything at once: that is told once.
        for each, fault in islice(faults, 1):
            # Of a stack in which each part has an option of its own, a few tell it all.
            if each.one == ALONE:
                stack = frozenset((thing.key, *each.others))
                alone[stack] += 1
                if alone[stack] > _FEW:
                    continue
            yield fault


_FEW = 3


def _without(graph: Graph, thing: AnyThing, belonging: Belonging) -> Iterator[Fault]:
    """Yield a fault for the variants that have the thing and nothing that it belongs to."""
    space, left = graph.space, ALL
    # From the bottom of the diagram upwards: so each adds to it, and none has to be taken apart.
    for key in sorted((thing.key, *belonging.others), key=lambda key: space.place_of(graph.present(key))):
        left = space.both(left, graph.present(key)) if key == thing.key else space.without(left, graph.present(key))
    left = space.both(left, space.built)
    if left == NONE:
        return
    others = [graph.machine.things[other] for other in belonging.others]
    verb = verb_s(thing, belonging.one, belonging.many)
    be = "is" if len(others) == 1 and verb_s(others[0], "is", "are") == "is" else "are"
    message = f"{named(thing)} {verb}: {_names(others)} {be} not there"
    also = tuple(Also(other.when.span, f"the variants that have {named(other)}") for other in others if other.when)
    yield Fault(thing.span, message, also, variants=left)


def _names(things: list[AnyThing]) -> str:
    shown = [named(thing) for thing in things[:6]]
    return listed(shown if len(things) <= 6 else [*shown[:5], f"{len(things) - 5} others"])
