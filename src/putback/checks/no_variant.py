"""The machine file excludes every variant.

No machine is left to do a job on, so nothing is checked and nothing is printed.

Remove from `exclude` what was built.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Also, Level
from putback.variants import NONE
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.VARIANTS
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
exclude:
^^^^^^^ every variant is excluded: no machine is left
  - {drive: belt}
  - {drive: gear}
parts:
  belt-guard: {}
"""

PASSES = """
# machine.yaml
machine: Bench pump
options:
  drive: [belt, gear]
exclude:
  - {drive: gear}
parts:
  belt-guard: {}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the `exclude` that leaves nothing."""
    machine = opened.guide.machine
    if machine is None or opened.graph is None or not machine.exclude:
        return
    graph = Graph(machine)
    if graph.space.built != NONE:
        return
    last = machine.exclude[-1]
    left = graph.meaning(None)
    for never in machine.exclude:
        left = graph.space.without(left, graph.meaning(never))
        if left == NONE:
            last = never
            break
    message = "every variant is excluded: no machine is left"
    yield Fault(machine.exclude_span or last.span, message, (Also(last.span, "after this one, none is left"),))
