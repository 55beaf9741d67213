"""Four or more fasteners clamp one joint, and no tightening order is given.

Tightened round and round, the first ones bend the part before the last ones hold it: it warps, cracks or leaks.

Add a `layout`, from which the order is worked out and drawn, or an `order`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.patterns import Rule
from putback.ledger.opened import Opened
from putback.model.called import counted, named
from putback.model.machine import Fastener, Part
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 4, thread: M6, torque: 7 N·m, secures: lid, to: pump, class: "8.8"}
  ^^^^^^^^^^ four lid screws hold lid, but no tightening order is given
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 4, thread: M6, torque: 7 N·m, secures: lid, to: pump, order: crosswise, class: "8.8"}
"""

MANY = 4
"""From this many on, a joint needs an order: three find their balance by themselves. Common practice, no source."""
_HINT = f"give them a 'layout', or an 'order': {listed([*Rule, 'a list of numbers'], 'or')}"
_ALONE = frozenset({"clamp", "clip", "pin", "washer", "plug", "cap", "stud"})
"""Kinds that press nothing together side by side."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield joints of four or more fasteners, in one group or in several, without an order."""
    graph = opened.graph
    if graph is None:
        return
    joints: dict[tuple[str, str | None], list[Fastener]] = {}
    for thing in graph.machine.things.values():
        if isinstance(thing, Fastener) and thing.turned and thing.kind not in _ALONE:
            for ref in thing.secures:
                if isinstance(graph.machine.things.get(ref.name), Part):
                    joints.setdefault((ref.name, thing.to.name if thing.to else None), []).append(thing)
    told: set[str] = set()
    for (held, _), groups in joints.items():
        bare = [group for group in groups if not group.ordered and group.key not in told]
        if not bare:
            continue
        crowd = _crowd(graph, groups, bare)
        if crowd is None:
            continue
        variants, groups = crowd
        told |= {group.key for group in bare}
        first = next(group for group in groups if group in bare)
        together = listed([counted(group) for group in groups])
        message = f"{together} hold {named(graph.machine.things[held])}, but no tightening order is given"
        also = tuple(Also(group.span, named(group)) for group in groups if group is not first)
        yield Fault(first.span, message, also, _HINT, variants)


def _crowd(graph: Graph, groups: list[Fastener], bare: list[Fastener]) -> tuple[VariantSet, list[Fastener]] | None:
    """Return the variants in which four or more are there, one group without an order among them, and such groups."""
    space = graph.space
    sums: list[tuple[VariantSet, list[Fastener]]] = [(space.built, [])]
    for group in groups:
        there = graph.present(group.key)
        split = [(space.both(held, there), [*those, group]) for held, those in sums]
        split += [(space.without(held, there), those) for held, those in sums]
        sums = [(held, those) for held, those in split if held != NONE]
    crowds = [
        (held, those)
        for held, those in sums
        if sum(group.count for group in those) >= MANY and any(group in bare for group in those)
    ]
    if not crowds:
        return None
    variants = NONE
    for held, _ in crowds:
        variants = space.either(variants, held)
    return variants, crowds[0][1]
