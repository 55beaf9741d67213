"""No variant meets a condition.

The step or thing that it limits is never printed and never proved. Usually the condition has a slip, or is a
combination that `exclude` rules out.

Correct the condition, or delete what it limits.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.absent import NOBODY, Conditions, is_dead
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.machine import AnyThing, Fastener
from putback.source.finding import Also, Level
from putback.variants import NONE
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.VARIANTS

FAILS = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
  guard: [none, fitted]
exclude:
  - {drive: gear, guard: fitted}
parts:
  pump: {}
  belt-guard: {when: {drive: gear, guard: fitted}}
                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ no variant meets this condition
"""

PASSES = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
  guard: [none, fitted]
exclude:
  - {drive: gear, guard: fitted}
parts:
  pump: {}
  belt-guard: {when: {drive: belt, guard: fitted}}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield conditions that no built variant meets, alone or together with what they stand in."""
    machine = opened.guide.machine
    if machine is None or opened.graph is None:
        return
    graph = Graph(machine)  # of all variants, whichever were chosen
    if graph.space.built == NONE:
        return  # told by `no-variant`
    whens = [thing.when for thing in machine.things.values()] + [stack.when for stack in machine.stacks]
    whens += [section.when for sequence in opened.guide.sequences() for section in sequence.sections]
    for when in whens:
        if when is not None and is_dead(when, graph):
            yield Fault(when.span, NOBODY)
    conditions = Conditions(graph, opened.guide.library.blocks)
    for stack in machine.stacks:
        held = conditions.meant(stack.when, conditions.space.built)
        for ref in stack.order if stack.when is not None and held != NONE else ():
            thing = graph.machine.things.get(ref.name)
            if thing is None or thing.when is None or "@" in thing.key:
                continue
            if conditions.space.both(held, graph.present(thing.key)) == NONE and not _unheld(graph, thing):
                also = (Also(thing.when.span, f"the variants that have {named(thing)}"),)
                yield Fault(ref.span, f"the stack holds only where there is no {thing.name}", also)
    for sequence in opened.guide.sequences():
        for section in sequence.sections:
            within = conditions.meant(section.when, conditions.space.built)
            for absent in conditions.steps(section.steps, section.when, within):
                yield Fault(absent.span, absent.message, absent.also)


def _unheld(graph: Graph, thing: AnyThing) -> bool:
    """Tell whether none of what holds a thing is there with it: its condition is wrong, and `odd-variant` tells it."""
    holding = [other.key for other in graph.machine.things.values() if thing.key in _held_by(other)]
    here = graph.present(thing.key)
    return bool(holding) and all(graph.space.both(here, graph.present(key)) == NONE for key in holding)


def _held_by(other: AnyThing) -> set[str]:
    return {ref.name for ref in other.secures} if isinstance(other, Fastener) else set()
