"""A condition is met by no variant.

The step or thing that it limits is never printed and never proved: most often a slip in the condition, or a combination
that `exclude` rules out.

Correct the condition, or take out what it limits.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Step
from putback.model.machine import Machine
from putback.model.terms import When
from putback.source.finding import Also, Level
from putback.variants import NONE
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.NAMES
NOBODY = "no variant meets this condition"

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
        if when is not None and _is_dead(when, graph):
            yield Fault(when.span, NOBODY)
    for sequence in opened.guide.sequences():
        for step in sequence.steps():
            if step.when is not None and _is_known(step.when, machine):
                yield from _at_step(step, step.when, graph)


def _is_known(when: When, machine: Machine) -> bool:
    """Tell whether all names are there; those that are not are told by `unknown-name`."""
    return all(
        clause.option.name in machine.options
        and all(choice.name in machine.options[clause.option.name] for choice in clause.choices)
        for alternative in when.cases
        for clause in alternative
    )


def _is_dead(when: When, graph: Graph) -> bool:
    return _is_known(when, graph.machine) and not graph.applies(when)


def _at_step(step: Step, when: When, graph: Graph) -> Iterator[Fault]:
    """Yield that no variant meets a step's condition, or that none of these has a thing in it."""
    space = graph.space
    variants = space.both(graph.meaning(when), space.built)
    if variants == NONE:
        yield Fault(when.span, NOBODY)
        return
    for ref in step.things:
        thing = graph.machine.things.get(ref.name)
        if (
            thing is None
            or thing.when is None
            or not _is_known(thing.when, graph.machine)
            or _is_dead(thing.when, graph)
        ):
            continue  # that its own condition is wrong is told there
        if space.both(variants, graph.present(ref.name)) == NONE:
            also = (Also(thing.when.span, f"the variants that have {thing.name}"),)
            yield Fault(when.span, f"no variant that meets this condition has {thing.name}", also=also)
