"""A condition is met by no variant.

The step or thing that it limits is never printed and never proved: most often a slip in the condition, or a combination
that `exclude` rules out.

Correct the condition, or take out what it limits.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.terms import When
from putback.source.finding import Also, Level
from putback.variants import NONE
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.NAMES

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
    graph = Graph(machine)
    space = graph.space
    if space.built == NONE:
        return  # told by `no-variant`

    def known(when: When) -> bool:
        """Names that do not exist are told by `unknown-name`."""
        return all(
            clause.option.name in machine.options
            and all(choice.name in machine.options[clause.option.name] for choice in clause.choices)
            for case_ in when.cases
            for clause in case_
        )

    def dead(when: When | None) -> bool:
        return when is not None and known(when) and not graph.applies(when)

    for thing in machine.things.values():
        if thing.when and dead(thing.when):
            yield Fault(thing.when.span, "no variant meets this condition")
    for stack in machine.stacks:
        if stack.when and dead(stack.when):
            yield Fault(stack.when.span, "no variant meets this condition")
    for sequence in opened.guide.sequences():
        for section in sequence.sections:
            if section.when and dead(section.when):
                yield Fault(section.when.span, "no variant meets this condition")
        for step in sequence.steps():
            if step.when is None or not known(step.when):
                continue
            worlds = space.both(graph.meaning(step.when), space.built)
            if worlds == NONE:
                yield Fault(step.when.span, "no variant meets this condition")
                continue
            for ref in step.things:
                thing_ = machine.things.get(ref.name)
                if thing_ is None or thing_.when is None or not known(thing_.when) or dead(thing_.when):
                    continue  # that its own condition is wrong is told there
                if space.both(worlds, graph.present(ref.name)) == NONE:
                    also = (Also(thing_.when.span, f"the variants that have {thing_.name}"),)
                    message = f"no variant that meets this condition has {thing_.name}"
                    yield Fault(step.when.span, message, also)
