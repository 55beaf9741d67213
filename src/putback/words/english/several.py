"""English on what is there several times: at each place, in so many pieces, each in its own place."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeAlias

from putback.model.called import has_own_places, is_one_of_a_kind, is_uncounted
from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.source.grammar import number
from putback.words.english.built import built
from putback.words.english.things import joined, spaced

Own: TypeAlias = Callable[[str], str]
"""Says words of ours on one side of the ocean."""


def of_several(thing: AnyThing, machine: Machine | None, own: Own) -> Iterator[str]:
    """Yield what the machine's page says of a thing that is there several times; `own` says words of ours."""
    yield from _how_many(thing, own)
    yield from _each_place(thing, machine)


def _each_place(thing: AnyThing, machine: Machine | None) -> Iterator[str]:
    """Yield for which places a thing is there: `One for each cylinder: 1, 2 and 3.`"""
    places = machine.places.get(thing.each.name) if machine and thing.each else None
    if thing.each and places:
        many = f"{number(thing.count)} for" if isinstance(thing, Fastener) and thing.count > 1 else "for"
        many = "one for" if many == "for" and not is_uncounted(thing) else many
        words = f"{many} each {spaced(thing.each.name)}: {joined([spaced(name) for name in places.names])}."
        yield words[:1].upper() + words[1:]


def _how_many(thing: AnyThing, own: Own) -> Iterator[str]:
    """Yield how many pieces there are by variant, that nobody counted them, and that each has its place."""
    if isinstance(thing, Fastener) and thing.counts:
        clauses = [(when.cases[0][0], count) for when, count in thing.counts]
        said = [
            f"{count} {built(spaced(clause.option.name), [spaced(clause.choices[0].name)])}"
            for clause, count in clauses
        ]
        yield f"{joined(said)}."
    if is_uncounted(thing):
        yield "They are not counted: count them as they come off."
    if has_own_places(thing) and is_one_of_a_kind(thing):
        yield own("It goes back where it came from, the same way round: mark it before it comes off.")
    elif has_own_places(thing):
        yield "Each goes back where it came from: mark them, or lay them out in order, before they come off."


def to_own_places(step: Step, things: Mapping[str, AnyThing], own: Own) -> Iterator[str]:
    """Yield what is said of pieces with places of their own where they come off and go back."""
    named: Sequence[AnyThing | None] = [things.get(ref.name) for ref in step.things]
    if not any(has_own_places(thing) for thing in named):
        return
    if all(is_one_of_a_kind(thing) for thing in named):
        if isinstance(step.action, Install) and not step.action.new:
            yield own("Put it back the same way round.")
        return
    match step.action:
        case Remove():
            yield "Keep each one marked with its place."
        case Install(new=False):
            yield "Each goes back where it came from."
        case Replace() | Install():
            pass
