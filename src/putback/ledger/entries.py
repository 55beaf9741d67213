"""A job or block, written out into single entries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from putback.finding import Also
from putback.graph import Graph
from putback.ledger.reverse import reverse
from putback.model.job import Apply, Block, Do, Sequence, Step, Stop, Undo
from putback.model.terms import Ref
from putback.variants import NONE, VariantSet


@dataclass(frozen=True, slots=True)
class Entry:
    """One action on one thing, in some variants."""

    index: int
    """Its number in the book, from 0."""
    step: Step
    """The step that it comes from."""
    target: Ref | None
    """The one thing that the verb's value names here."""
    worlds: VariantSet
    """The variants, and ways inspections went, in which it happens."""
    reached: VariantSet
    """The variants, and ways inspections went, that got as far as this."""
    section: int
    """The number of the section; cautions hold until its end."""
    via: tuple[Step, ...] = ()
    """The `do` and `undo` steps through which it got here, outermost first."""

    @property
    def touched(self) -> tuple[Ref, ...]:
        """The things that the action works on: for `apply`, those that the consumable goes on."""
        if isinstance(self.step.action, Apply):
            return self.step.action.to
        return (self.target,) if self.target else ()

    @property
    def ways(self) -> tuple[Also, ...]:
        """The places of the `do` and `undo` steps, as places that explain a finding."""
        return tuple(Also(step.key, f"{step.verb.value}ne from here") for step in self.via)


@dataclass(slots=True)
class Outline:
    """All entries of a sequence."""

    entries: list[Entry]
    """In order."""
    alive: VariantSet
    """The variants and ways in which an end is reached: the last step, or a `stop` that no inspection led to."""
    stuck: list[tuple[Step, Step]]
    """Steps that cannot be undone, each with the `undo` step that wants it."""


class _Writer:
    def __init__(self, graph: Graph, blocks: Mapping[str, Block]) -> None:
        self.graph = graph
        self.blocks = blocks
        self.entries: list[Entry] = []
        self.stuck: list[tuple[Step, Step]] = []
        self.alive = graph.space.built
        self.ended = NONE
        """Where a `stop` outside any `otherwise` ends the work: the machine must be whole there."""
        self.section = 0
        self.inside = 0
        """How many `otherwise` it stands in."""

    def sequence(self, sequence: Sequence, worlds: VariantSet, via: tuple[Step, ...], doing: frozenset[str]) -> None:
        space = self.graph.space
        for section in sequence.sections:
            if section.title is not None or not via:
                self.section += 1
            limited = space.both(worlds, self.graph.meaning(section.when))
            self.steps(section.steps, limited, via, doing)
        if via and any(section.title is not None for section in sequence.sections):
            self.section += 1

    def steps(self, steps: tuple[Step, ...], worlds: VariantSet, via: tuple[Step, ...], doing: frozenset[str]) -> None:
        space = self.graph.space
        for step in steps:
            here = space.both(self.alive, space.both(worlds, self.graph.meaning(step.when)))
            if isinstance(step.action, Do | Undo):
                self.blocks_of(step, here, via, doing)
                continue
            for target, exists in self.targets(step, here):
                if exists != NONE:
                    self.entries.append(Entry(len(self.entries), step, target, exists, self.alive, self.section, via))
            if step.otherwise:
                failed, _ = space.ask(question(step))
                self.inside += 1
                self.steps(step.otherwise, space.both(here, failed), via, doing)
                self.inside -= 1
            if isinstance(step.action, Stop):
                if not self.inside:
                    self.ended = space.either(self.ended, here)
                self.alive = space.without(self.alive, here)

    def targets(self, step: Step, here: VariantSet) -> Iterator[tuple[Ref | None, VariantSet]]:
        """A step on a thing that only some variants have is limited to them by itself."""
        if not step.things:
            yield None, here
        for ref in step.things:
            yield ref, self.graph.space.both(here, self.graph.present(ref.name))

    def blocks_of(self, step: Step, here: VariantSet, via: tuple[Step, ...], doing: frozenset[str]) -> None:
        """Write the blocks out, or their reverse. A block that leads into itself is told by `bad-cycle`."""
        undo = isinstance(step.action, Undo)
        for ref in reversed(step.things) if undo else step.things:
            block = self.blocks.get(ref.name)
            if block is None or ref.name in doing:
                continue
            if undo:
                back = reverse(block, self.graph.machine)
                self.stuck += [(stuck, step) for stuck in back.stuck]
                self.steps(back.steps, here, (*via, step), doing | {ref.name})
            else:
                self.sequence(block, here, (*via, step), doing | {ref.name})


def question(step: Step) -> str:
    """Return what an `otherwise` asks, as a name in a variant: `cam out of limit`."""
    return f"{', '.join(ref.name for ref in step.things)} out of limit"


def write_out(sequence: Sequence, graph: Graph, blocks: Mapping[str, Block]) -> Outline:
    """Return the entries of a job or block, with blocks that it does written out."""
    writer = _Writer(graph, blocks)
    doing = frozenset({sequence.key}) if isinstance(sequence, Block) else frozenset()
    writer.sequence(sequence, graph.space.built, (), doing)
    return Outline(writer.entries, graph.space.either(writer.alive, writer.ended), writer.stuck)
