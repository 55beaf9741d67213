"""Two things that take each other's place are both there in one variant.

The short bolts and the long bolts go in the same holes: if a variant has both, a `when` is missing. The printed job
then tells the reader to take out bolts that they do not have.

Limit each of them with `when`, or remove `instead-of`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.VARIANTS

FAILS = """
# machine.yaml
machine: Bench pump
options:
  lid: [flat, deep]
parts:
  pump: {}
  lid: {}
fasteners:
  short-bolts: {count: 2, secures: lid, to: pump}
  long-bolts:
    instead-of: short-bolts
                ^^^^^^^^^^^ long bolts are used instead of short bolts, but both are there (only when lid = deep)
    secures: lid
    to: pump
    count: 2
    when: {lid: deep}
"""

PASSES = """
# machine.yaml
machine: Bench pump
options:
  lid: [flat, deep]
parts:
  pump: {}
  lid: {}
fasteners:
  short-bolts: {count: 2, secures: lid, to: pump, when: {lid: flat}}
  long-bolts: {count: 2, secures: lid, to: pump, when: {lid: deep}, instead-of: short-bolts}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield things that stand in each other's place and are both there, each pair once."""
    graph, told = opened.graph, set[frozenset[str]]()
    if graph is None:
        return
    for thing in graph.machine.things.values():
        for ref in thing.instead_of:
            other, pair = graph.machine.things.get(ref.name), frozenset({thing.key, ref.name})
            if other is None or pair in told:
                continue
            told.add(pair)
            variants = graph.space.both(graph.present(thing.key), graph.present(other.key))
            if variants != NONE:
                stand = verb_s(thing, "is used", "are used")
                message = f"{named(thing)} {stand} instead of {named(other)}, but both are there"
                yield Fault(ref.span, message, (Also(other.span, named(other)),), "limit each with 'when'", variants)
