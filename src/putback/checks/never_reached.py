"""A step comes after the end of the job.

After a `stop` or a `back-to` that applies in every variant, nobody reads on. What follows is never done and never
checked, while the job seems to be proved.

Delete the steps, put them before the `stop`, or limit the `stop` with `when`, or with the `otherwise` of a test.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Block, Sequence, Step
from putback.model.terms import likely
from putback.model.verbs.blocks import BackTo, Do
from putback.model.verbs.telling import Note, Stop
from putback.source.finding import Also, Level
from putback.variants import ALL, NONE, VariantSet
from putback.variants.graph import Graph

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
  - stop: Call the workshop.
  - loosen: guard-bolts
    ^^^^^^ this step is never reached: every way to it has already ended
"""

PASSES = """
steps:
  - inspect: belt-guard
    for: cracks
    otherwise:
      - stop: Call the workshop.
  - note: The guard is whole.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first step after each end that no variant gets past."""
    if opened.graph is None or opened.graph.space.built == NONE:
        return
    # With `--variant` too, all variants count: what the chosen ones never reach may be for the others.
    ends = _Ends(opened, opened.graph)
    for sequence in opened.nesting.sequences():
        if opened.nesting.can_be_written_out(sequence):
            yield from ends.faults(sequence)


class _Way:
    """What is left of the variants on the way through one list of steps."""

    def __init__(self, alive: VariantSet, names: set[str]) -> None:
        self.alive = alive
        self.names = names
        """Earlier steps that a `back-to` may go back to."""
        self.ended: list[tuple[VariantSet, Also]] = []
        """In which variants it ended, and where; what was told of is taken away."""
        self.first: Also | None = None
        """The first end."""


class _Ends:
    """Goes through jobs and blocks and takes away the variants that stop."""

    def __init__(self, opened: Opened, graph: Graph) -> None:
        self.graph = graph
        self.space = graph.space
        self.blocks = opened.guide.library.blocks
        self.built = ALL
        for never in graph.machine.exclude:
            self.built = self.space.without(self.built, graph.meaning(never))
        self.stops: dict[str, tuple[VariantSet, Also | None]] = {}

    def faults(self, sequence: Sequence) -> Iterator[Fault]:
        """Yield what no variant reaches in a job or block; note in which variants it stops, and where."""
        way = _Way(self.built, set())
        for section in sequence.sections:
            limit = self.space.both(self.built, self.graph.meaning(section.when))
            for step in section.steps:
                if step.name:
                    way.names.add(step.name.name)
                yield from self.step(step, limit, way)
        if isinstance(sequence, Block):
            self.stops[sequence.key] = self.space.without(self.built, way.alive), way.first

    def step(self, step: Step, limit: VariantSet, way: _Way) -> Iterator[Fault]:
        both, either = self.space.both, self.space.either
        wanted, present = both(limit, self.graph.meaning(step.when)), NONE
        for ref in step.things:
            thing = self.graph.machine.things.get(ref.name)
            present = either(present, self.graph.meaning(thing.when) if thing else ALL)
        wanted = both(wanted, present) if step.things else wanted
        here = both(wanted, way.alive)
        if wanted != NONE and here == NONE:
            cause = next((also for ended, also in reversed(way.ended) if both(ended, wanted) != NONE), None)
            # What follows it is not reached either; that is told once.
            if cause is not None and not isinstance(step.action, Note):
                way.ended = [end for end in way.ended if both(end[0], wanted) == NONE]
                message = "this step is never reached: every way to it has already ended"
                if both(wanted, self.space.built) != NONE:  # else none of the chosen variants has it
                    yield Fault(step.key, message, (cause,), variants=wanted)
            return
        for inner in step.steps:
            yield from self.step(inner, here, way)
        for steps in (step.otherwise, *(outcome.steps for outcome in step.outcomes)):
            branch = _Way(here, way.names)
            for inner in steps:
                yield from self.step(inner, here, branch)
        if isinstance(step.action, Stop):
            self.end(way, here, Also(step.key, "it ends here"))
        elif isinstance(step.action, BackTo) and step.things[0].name in way.names:
            self.end(way, here, Also(step.key, "it jumps back from here"))
        elif isinstance(step.action, Do):
            for ref in step.things:
                stopped, where = self.stopped_in(likely(ref, self.blocks).name)
                if where is not None:
                    self.end(way, both(here, stopped), where)
        # A `reverse` ends nothing: a `stop` has no way back, and is left out.

    def end(self, way: _Way, variants: VariantSet, where: Also) -> None:
        way.alive = self.space.without(way.alive, variants)
        way.ended.append((variants, where))
        way.first = way.first or where

    def stopped_in(self, name: str) -> tuple[VariantSet, Also | None]:
        """Return the variants in which a block ends the job, and where."""
        if name not in self.stops and name in self.blocks:
            list(self.faults(self.blocks[name]))
        return self.stops.get(name, (NONE, None))
