"""Every name that a job or block uses."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from collections.abc import Mapping as MappingABC

from putback.guide.use import NameUse, when_uses
from putback.model.job import Block, Sequence, Step, in_turn, walk
from putback.model.machine import Machine
from putback.model.terms import Ref
from putback.model.verb import MEASURABLE
from putback.model.verbs.blocks import BackTo, Do, Reverse
from putback.model.verbs.cleaning import Apply
from putback.source.quoting import short

SHOWN = (*MEASURABLE, "equipment", "consumable")
"""What can be seen in a picture."""


def sequence_uses(sequence: Sequence, machine: Machine | None, blocks: MappingABC[str, Block]) -> Iterator[NameUse]:
    """Yield every use of a name in a job or block, but for those that stand for what it takes."""
    taken = {name.name: kind.name for name, kind in sequence.takes} if isinstance(sequence, Block) else {}
    for use in _own_uses(sequence, machine, blocks):
        # What a name that the block takes stands for is looked at where the block is done.
        if taken.get(use.ref.name) not in use.kinds:
            yield use


def _own_uses(sequence: Sequence, machine: Machine | None, blocks: MappingABC[str, Block]) -> Iterator[NameUse]:
    found = sequence.begins_with if isinstance(sequence, Block) else ()
    for key, refs in (("ends-with", sequence.ends_with), ("begins-with", found)):
        for ref in refs:
            yield NameUse(ref, (*MEASURABLE, "equipment"), key)
    for section in sequence.sections:
        yield from when_uses(machine, section.when)
    labels: list[str] = []
    for section in sequence.sections:
        for top in in_turn(section.steps):
            if top.name:
                labels.append(top.name.name)
            below = [top] if top.steps else [*walk((top,))]
            inner = [step.name.name for step in below if step.name and step is not top]
            for step in below:
                yield from _step_uses(step, machine, tuple(labels), inner)
                yield from _given(step, blocks)


def _at_place(place: Ref, step: Step, machine: Machine | None) -> Iterator[NameUse]:
    """Yield a place that a step names, with those of its things."""
    for ref in step.action.to if isinstance(step.action, Apply) else step.things:
        thing = machine.things.get(ref.name) if machine else None
        if machine and (thing or step.verb.words):  # what is told in words is at no place of the machine
            yield NameUse(place, ("position",), f"{short(ref.name)} has no place", known=machine.places_of(thing))


def _given(step: Step, blocks: MappingABC[str, Block]) -> Iterator[NameUse]:
    """Yield what a step gives a block under `with`: a name that it takes, and a thing of that kind."""
    for name, ref in step.action.with_ if isinstance(step.action, Do | Reverse) else ():
        for block in (blocks[each.name] for each in step.things if each.name in blocks):
            takes = {taken.name: kind.name for taken, kind in block.takes}
            yield NameUse(name, ("taken",), f"the block {block.key} takes no", known=tuple(takes))
            if name.name in takes:
                yield NameUse(ref, (takes[name.name],), "with")


def _step_uses(
    step: Step, machine: Machine | None, labels: tuple[str, ...], inner: Collection[str]
) -> Iterator[NameUse]:
    yield from when_uses(machine, step.when)
    for tool in step.tools:
        yield NameUse(tool, ("tool",), "tool")
    for callout in step.figure.callouts if step.figure else ():
        if callout.thing:
            yield NameUse(callout.thing, SHOWN, "thing")
    verb = step.verb
    if isinstance(step.action, BackTo):
        for ref in step.things:
            told = "only a step of an 'otherwise' or an outcome" if ref.name in inner else "no earlier step"
            yield NameUse(ref, ("step",), f"{told} is called", known=labels)
        return
    for place in step.at if machine else ():
        yield from _at_place(place, step, machine)
    for ref in step.things if verb.takes else ():
        yield NameUse(ref, verb.takes, verb.name, verb, free=verb.words)
    for mention in verb.mentions(step.action, machine) if verb.mentions else ():
        yield NameUse(mention.ref, mention.kinds, mention.user, known=mention.known)
