"""Steps whose conditions leave no variant that has what they name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import NamedTuple

from putback.model.called import named
from putback.model.job import Block, Step
from putback.model.machine import AnyThing, Machine
from putback.model.terms import Ref, When
from putback.model.verbs.blocks import Do, Reverse
from putback.source.finding import Also
from putback.source.span import Span
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

NOBODY = "no variant meets this condition"


class Absent(NamedTuple):
    """A condition that no variant meets, or a name of something that no variant has that meets it."""

    span: Span
    """The condition, or the name when the condition stands further out."""
    message: str
    """What is so in no variant."""
    also: tuple[Also, ...] = ()
    """The conditions that do not meet."""


def is_known(when: When, machine: Machine) -> bool:
    """Tell whether all names are there; those that are not are told by `unknown-name`."""
    return all(
        clause.option.name in machine.options
        and all(choice.name in machine.options[clause.option.name] for choice in clause.choices)
        for alternative in when.cases
        for clause in alternative
    )


def is_dead(when: When, graph: Graph) -> bool:
    """Tell whether no variant meets a condition, all names of which are known."""
    return is_known(when, graph.machine) and not graph.applies(when)


class Conditions:
    """Goes through steps, and looks whether the variants that they are for have what they name."""

    def __init__(self, graph: Graph, blocks: Mapping[str, Block]) -> None:
        self.graph, self.space, self.blocks = graph, graph.space, blocks
        self.told: set[Span] = set()
        """The conditions that do not fit something: of each, the first thing is told."""

    def meant(self, when: When | None, within: VariantSet) -> VariantSet:
        """Return the variants within some that meet a condition."""
        return within if when is None else self.space.both(within, self.graph.meaning(when))

    def steps(self, steps: Iterable[Step], outer: When | None, within: VariantSet) -> Iterator[Absent]:
        """Yield the faults of steps that stand under a condition."""
        for step in steps:
            when = step.when if step.when is not None and is_known(step.when, self.graph.machine) else None
            here = self.meant(when, within)
            if when is not None and self.meant(when, self.space.built) == NONE:
                yield Absent(when.span, NOBODY)
            elif when is not None and here == NONE and within != NONE and outer is not None:
                also = (Also(outer.span, "the condition above it"),)
                yield Absent(when.span, "no variant that gets here meets this condition", also=also)
            elif here != NONE and (limit := when or outer) is not None and limit.span not in self.told:
                yield from islice(self.absent(step, limit, here, own=when is not None), 1)
            inner = (step.otherwise, *(outcome.steps for outcome in step.outcomes))
            for branch in inner if here != NONE else ():
                yield from self.steps(branch, when or outer, here)

    def absent(self, step: Step, limit: When, here: VariantSet, *, own: bool) -> Iterator[Absent]:
        """Yield what a step names, and none of its variants has."""
        for ref, things in self.named(step):
            if any(self.space.both(here, self.graph.present(thing.key)) != NONE for thing in things):
                continue
            self.told.add(limit.span)
            name, whens = things[0].name, [thing.when for thing in things if thing.when]
            also = tuple(Also(when.span, f"the variants that have {name}") for when in whens)
            if own:
                yield Absent(limit.span, f"no variant that meets this condition has {name}", also=also)
            else:
                yield Absent(
                    ref.span, f"no variant that gets here has {name}", (Also(limit.span, "limited here"), *also)
                )
        for ref in step.things if isinstance(step.action, Do | Reverse) else ():
            if ref.name in self.blocks and self.space.both(here, self.of_block(self.blocks[ref.name])) == NONE:
                self.told.add(limit.span)
                what = "meets this condition" if own else "gets here"
                yield Absent(limit.span if own else ref.span, f"no variant that {what} has any of '{ref.name}'")

    def named(self, step: Step) -> Iterator[tuple[Ref, list[AnyThing]]]:
        """Yield the names in a step, each with the things that it may stand for: several when words name them."""
        machine, verb = self.graph.machine, step.verb
        refs = list(step.things if verb.takes else ())
        if verb.mentions:
            refs += [mention.ref for mention in verb.mentions(step.action, machine) if "position" not in mention.kinds]
        for ref in refs:
            thing = machine.things.get(ref.name)
            found = [thing] if thing else self.in_words(ref.name) if verb.words and ref in step.things else []
            if found and all(each.when and self.is_sound(each.when) for each in found):
                yield ref, found

    def in_words(self, words: str) -> list[AnyThing]:
        """Return the things that words name by the longest name in them."""
        things = self.graph.machine.things.values()
        names = {name for thing in things for name in (thing.name, named(thing)) if f" {name} " in f" {words} "}
        longest = max(names, key=len, default="")
        return [thing for thing in things if longest and longest in (thing.name, named(thing))]

    def is_sound(self, when: When) -> bool:
        """Tell whether a condition of a thing is right in itself; what is wrong with it is told there."""
        return is_known(when, self.graph.machine) and not is_dead(when, self.graph)

    def of_block(self, block: Block) -> VariantSet:
        """Return the variants in which some step of a block has something to work on; all, when none of them works."""
        found, working = NONE, [step for section in block.sections for step in section.steps if step.verb.works]
        for step in working:
            for ref in step.things:
                found = self.space.either(found, self.meant(step.when, self.graph.present(ref.name)))
        return found if working else self.space.built
