"""A job or block, written out into a flat program of single steps.

Blocks that it does are written out where they are done, and the reverse of those that it reverses. What stands under an
`otherwise`, or an outcome, stays with its step, since it happens only when the answer is out of limit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from putback.ledger.reverse import WayBack, reverse
from putback.model.called import speaks_of
from putback.model.job import Block, Outcome, Sequence, Step
from putback.model.readings import each_apart
from putback.model.terms import Ref, When, likely
from putback.model.verbs.blocks import BackTo, Do, Reverse
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.lines import Disconnect
from putback.model.verbs.pieces import Remove, Replace
from putback.variants import VariantSet
from putback.variants.conditions import joined
from putback.variants.graph import Graph


@dataclass(slots=True)
class Order:
    """One step of a program."""

    step: Step
    """What is done."""
    targets: tuple[tuple[Ref | None, VariantSet], ...]
    """The things that the step names, each with the variants that have it; one None for a step that names none."""
    variants: VariantSet
    """The variants that the step, its section and the blocks around it are limited to."""
    when: When | None
    """The same as the author wrote it, of the step and the blocks around it; what the section or the step above it says
    is left aside."""
    section: int
    """The number of the section in which a safety message holds: of the job, or of a block that has titles."""
    own: int
    """The number of the sequence's own section that it is printed in."""
    via: tuple[Step, ...]
    """The `do` and `reverse` steps through which it got here."""
    branch: list[Order] = field(default_factory=list)
    """What is done when the answer is out of limit; of a step with outcomes, these."""
    outcome: Outcome | None = None
    """For one outcome of a measurement, which does nothing itself: the values that lead into its branch."""
    each_apart: bool = False
    """For an outcome: whether others may come about as well, since several readings are judged one by one."""
    back_to: int | None = None
    """For `back-to`: the place in the program to go on from."""
    number: int = 0
    """Its number in the program, those of branches counted."""

    def walk(self) -> Iterator[Order]:
        """Yield it and all that its branch does."""
        return _all([self])

    @property
    def asking(self) -> list[Order]:
        """The questions that it asks, each with a branch: itself, or its outcomes; none when nothing hangs on it."""
        return self.branch if self.step.outcomes and not self.outcome else [self] if self.branch else []


@dataclass(slots=True)
class Program:
    """A sequence, written out."""

    orders: list[Order]
    """Its steps, in order."""
    stuck: list[tuple[Step, Step]]
    """Steps that cannot be reversed, each with the `reverse` step that wants it."""

    def crossings(self) -> set[int]:
        """Return the places that some `back-to` goes back to, and those that one may lead away from."""
        found = set()
        for place, top in enumerate(self.orders):
            back = {order.back_to for order in _all([top]) if order.back_to is not None}
            found |= back | {place} if back else back
        return found


def _all(orders: list[Order]) -> Iterator[Order]:
    for order in orders:
        yield order
        yield from _all(order.branch)


def write_program(sequence: Sequence, graph: Graph, blocks: Mapping[str, Block]) -> Program:
    """Return the program of a job or block. A block that leads into itself is told by `bad-cycle`, and done once."""
    writer = _Writer(graph, blocks)
    doing = frozenset({sequence.key}) if isinstance(sequence, Block) else frozenset()
    writer.sequence(sequence, _Within(graph.space.built, None, (), doing))
    program = Program(writer.orders, writer.stuck)
    for number, order in enumerate(_all(program.orders)):
        order.number = number
    _join(program)
    return program


@dataclass(frozen=True, slots=True)
class _Within:
    """Where a step stands: what it is limited to, and what led there."""

    variants: VariantSet
    when: When | None
    via: tuple[Step, ...]
    doing: frozenset[str]
    """The blocks that it stands in: what stands in its `otherwise` stands in them as well."""


class _Writer:
    def __init__(self, graph: Graph, blocks: Mapping[str, Block]) -> None:
        self.graph = graph
        self.blocks = blocks
        self.orders: list[Order] = []
        self.stuck: list[tuple[Step, Step]] = []
        self.section = 0
        self.own = -1
        self.backs: dict[str, WayBack] = {}
        self.earlier: list[list[Order]] = []
        """What was written before, where this is the inside of a block."""
        self.branches: list[list[Order]] = []
        """The branches that are being written, the innermost last."""

    def sequence(self, sequence: Sequence, within: _Within) -> None:
        for section in sequence.sections:
            self.own += not within.via
            if section.title is not None or not within.via:
                self.section += 1
            variants = self.graph.space.both(within.variants, self.graph.meaning(section.when))
            when = joined(self.graph, within.when, section.when) if within.via else None
            self.orders += self.steps(section.steps, replace(within, variants=variants, when=when))
        if within.via and any(section.title is not None for section in sequence.sections):
            self.section += 1

    def steps(self, steps: tuple[Step, ...], within: _Within) -> Iterator[Order]:
        both, present = self.graph.space.both, self.graph.present
        for step in steps:
            here = within
            if step.when is not None:
                variants = both(within.variants, self.graph.meaning(step.when))
                here = replace(within, variants=variants, when=joined(self.graph, within.when, step.when))
            if isinstance(step.action, Do | Reverse):
                yield from self.blocks_of(step, here)
                continue
            meant = [self.meant(step, ref) for ref in step.things]
            targets = tuple((ref, present(ref.name)) for ref in meant) or ((None, self.graph.space.built),)
            order = Order(step, targets, here.variants, here.when, self.section, self.own, within.via)
            inside = replace(here, when=None) if step.otherwise or step.outcomes else here
            if step.otherwise:
                order.branch = self.branch(step.otherwise, inside)
            for outcome in step.outcomes:
                branch, apart = self.branch(outcome.steps, inside), each_apart(step, self.graph.machine.things)
                order.branch.append(replace(order, targets=(), branch=branch, outcome=outcome, each_apart=apart))
            yield order

    def branch(self, steps: tuple[Step, ...], within: _Within) -> list[Order]:
        found: list[Order] = []
        self.branches.append(found)
        found += self.steps(steps, within)
        self.branches.pop()
        return found

    def meant(self, step: Step, ref: Ref) -> Ref:
        """Return the name of the thing that a misspelt name was meant for.

        The slip is told by `unknown-name`; that everything after it goes wrong as well would say nothing more.
        """
        return likely(ref, self.graph.machine.things) if step.verb.on_things else ref

    def blocks_of(self, step: Step, within: _Within) -> Iterator[Order]:
        backwards = isinstance(step.action, Reverse)
        for written in reversed(step.things) if backwards else step.things:
            ref = likely(written, self.blocks)
            block = self.blocks.get(ref.name)
            if block is None or ref.name in within.doing:
                continue
            inside = replace(within, via=(*within.via, step), doing=within.doing | {ref.name})
            if backwards:
                back = self.backs.get(ref.name) or reverse(block, self.graph.machine, self.blocks)
                self.backs[ref.name] = back
                self.stuck += [(stuck, step) for stuck in back.stuck]
                yield from self.steps(tuple(self.still_to_do(back.steps, inside)), inside)
            else:
                inner = _Writer(self.graph, self.blocks)
                inner.section, inner.own, inner.backs = self.section, self.own, self.backs
                inner.earlier = [*self.earlier, self.orders, *self.branches]
                inner.sequence(block, inside)
                self.section = inner.section
                self.stuck += inner.stuck
                yield from inner.orders

    def still_to_do(self, back: tuple[Step, ...], within: _Within) -> Iterator[Step]:
        """Leave out of a way back what was cleaned or coated already, and nothing came off there since."""
        cleaned: set[str] = set()
        for step in back:
            names = {ref.name for ref in step.things} if isinstance(step.action, Clean) and step.when is None else set()
            if not (isinstance(step.action, Clean | Apply) and self.done(step, within)) and not (
                names and names <= cleaned
            ):
                yield step
            cleaned |= names

    def done(self, step: Step, within: _Within) -> bool:
        """Tell whether the same was cleaned, or coated, for all of these variants, since something came off there."""
        things = self.graph.machine.things
        wanted = {*(ref.name for ref in step.things), *_coated(step)}
        seats = [thing for ref in step.things if (thing := things.get(ref.name))]
        uncovers = wanted.union(ref.name for seat in seats for ref in seat.clean_before)
        for order in reversed([order for orders in (*self.earlier, self.orders, *self.branches) for order in orders]):
            names = {ref.name for ref in order.step.things}
            if isinstance(order.step.action, Remove | Disconnect | Replace) and not names.isdisjoint(uncovers):
                return False
            if isinstance(step.action, Clean):
                same = isinstance(order.step.action, Clean)
                same = same and all(any(speaks_of(name, seat, things) for name in names) for seat in seats)
            else:
                same = isinstance(order.step.action, Apply) and wanted <= names | set(_coated(order.step))
            if same and self.graph.space.within(within.variants, order.variants):
                return True
        return False


def _coated(step: Step) -> tuple[str, ...]:
    """Return what a consumable is put on."""
    return tuple(ref.name for ref in step.action.to) if isinstance(step.action, Apply) else ()


def _join(program: Program) -> None:
    """Find the place that each `back-to` goes back to: an earlier step of that name, in the same job or block."""
    orders = program.orders
    for index, top in enumerate(orders):
        for order in _all([top]):
            if not isinstance(order.step.action, BackTo) or not order.step.things:
                continue
            name = order.step.things[0].name
            for place in range(index, -1, -1):
                label = orders[place]
                if label.step.name and label.step.name.name == name and label.via == order.via:
                    order.back_to = place
                    break
