"""Things must come off before each other in a circle, or a block does itself.

No order of work can satisfy the machine file, so nothing can be proved of any job.

Take out the entry that is not true.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Also, Level
from putback.model import job as j

LEVEL = Level.ERROR

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
  seal: {}
stacks:
  - [lid, seal]
          ^^^^ nothing can come off first: lid before seal, seal before lid
behind:
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


def find(case: Case) -> Iterator[Fault]:
    """Yield loops in the order of the machine, and blocks that lead back into themselves."""
    if case.graph is not None:
        things = case.graph.machine.things
        for loop in case.graph.cycles():
            pairs = [f"{things[edge.outer].name} before {things[edge.inner].name}" for edge in loop]
            also = tuple(
                Also(edge.span, f"{pair} ({edge.why.value})") for edge, pair in zip(loop[1:], pairs[1:], strict=True)
            )
            worlds = case.graph.space.built
            for edge in loop:
                worlds = case.graph.space.both(worlds, edge.worlds)
            message = f"nothing can come off first: {', '.join(pairs)}"
            yield Fault(loop[0].span, message, also, worlds=worlds)
    blocks = case.guide.library.blocks
    told: set[frozenset[str]] = set()
    for sequence in case.guide.sequences():
        for step in sequence.steps():
            if isinstance(step.action, j.Do | j.Undo):
                for ref in step.things:
                    way = _way_back(case, ref.name, sequence.key) if ref.name in blocks else None
                    if way and sequence is blocks.get(sequence.key) and frozenset(way) not in told:
                        told.add(frozenset(way))
                        chain = " does ".join([sequence.key, *way])
                        yield Fault(ref.span, f"the block does itself: {chain}")


def _way_back(case: Case, start: str, goal: str) -> list[str] | None:
    """Return the shortest chain of blocks from `start` to `goal`, both included."""
    blocks = case.guide.library.blocks
    paths, seen = [[start]], {start}
    while paths:
        path = paths.pop(0)
        if path[-1] == goal:
            return path
        block = blocks.get(path[-1])
        for step in block.steps() if block else ():
            if isinstance(step.action, j.Do | j.Undo):
                for ref in step.things:
                    if ref.name not in seen:
                        seen.add(ref.name)
                        paths.append([*path, ref.name])
    return None
