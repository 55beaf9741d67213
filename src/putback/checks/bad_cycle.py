"""Things must come off before each other in a circle, an assembly is its own part, or a block contains itself.

No order of work can satisfy the machine file, so nothing can be proved of any job. A block that does or reverses
itself, through other blocks or inside an `otherwise`, never ends; blocks nested more than a hundred deep are not
followed either.

Remove the entry, or the `do`, that is wrong.
"""

from collections.abc import Iterator
from itertools import pairwise

from putback.checks import Fault, Group
from putback.guide.nesting import DEEPEST_BLOCKS
from putback.ledger.opened import Opened
from putback.model.machine import Machine, Part
from putback.model.terms import Ref
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
  seal: {}
stacks:
  - [lid, seal]
          ^^^^ nothing can come off first: lid before seal, seal before lid
access-after:
  lid: [seal]
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
  seal: {}
stacks:
  - [lid, seal]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield loops in the order of the machine, and blocks that lead back into themselves."""
    if opened.graph is not None:
        things = opened.graph.machine.things
        for loop in opened.graph.cycles():
            pairs = [f"{things[edge.outer].name} before {things[edge.inner].name}" for edge in loop]
            also = tuple(
                Also(edge.span, f"{pair} ({edge.why.value})") for edge, pair in zip(loop[1:], pairs[1:], strict=True)
            )
            variants = opened.graph.space.built
            for edge in loop:
                variants = opened.graph.space.both(variants, edge.variants)
            shown = pairs if len(pairs) < 9 else [*pairs[:3], "…", pairs[-1]]
            message = f"nothing can come off first: {', '.join(shown)}"
            yield Fault(loop[0].span, message, also, variants=variants)
    if opened.guide.machine is not None:
        yield from _assemblies(opened.guide.machine)
    for way in opened.nesting.loops():
        told = way[-1:] + way
        message = f"the block contains itself: {' contains '.join(link.block for link in told)}"
        also = tuple(Also(link.ref.span, f"{one.block} contains {link.block}") for one, link in pairwise(way))
        yield Fault(way[0].ref.span, message, also)
    deep = opened.nesting.too_deep()
    if deep is not None:
        depth, way = deep
        chain = " does ".join([*(link.block for link in way[:3]), "…", way[-1].block])
        yield Fault(way[0].ref.span, f"blocks are nested {depth} deep, more than the {DEEPEST_BLOCKS} allowed: {chain}")


def _assemblies(machine: Machine) -> Iterator[Fault]:
    """Yield parts that lie in themselves, and those that lie in two assemblies of which neither holds the other."""
    holders: dict[str, list[tuple[str, Ref]]] = {}
    for key, part in machine.things.items():
        for ref in part.assembly if isinstance(part, Part) else ():
            holders.setdefault(ref.name, []).append((key, ref))
    around, told = {name: _around(name, holders) for name in holders}, set[str]()
    for name, held in holders.items():
        wholes = [whole for whole, _ in held]
        if name in around[name]:
            circle = [ref for whole, ref in held if name in around.get(whole, ())]
            if name not in told:
                yield Fault(circle[0].span, f"{name} cannot be a part of itself")
            told |= around[name]
        elif not any(set(wholes) <= {one, *around.get(one, ())} for one in wholes):
            also = (Also(held[0][1].span, f"it is a part of {wholes[0]} here"),)
            yield Fault(held[1][1].span, f"{name} is already a part of {wholes[0]}", also)


def _around(name: str, holders: dict[str, list[tuple[str, Ref]]]) -> set[str]:
    """Return all assemblies in which something lies, of whatever is around these as well."""
    found, waiting = set[str](), [name]
    while waiting:
        wholes = {whole for whole, _ in holders.get(waiting.pop(), ())}
        waiting += sorted(wholes - found)
        found |= wholes
    return found
