"""Names of a guide that are printed as words: options, choices, positions, places, and what stands for no thing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from putback.guide.record import Guide
from putback.model.job import Step
from putback.model.machine import Control, Fastener, Line, Machine, Part
from putback.model.said import place_of
from putback.model.terms import Ref
from putback.source.span import Span
from putback.translation.spoken import is_figure

WAYS = ("clockwise", "anticlockwise", "counterclockwise")
"""Ways of turning; Putback itself has words for them."""
OWN_KINDS = frozenset({
    "bolt", "cable", "cap", "circlip", "clamp", "clip", "connector", "hose", "linkage", "nut", "pin", "pipe", "plug",
    "screw", "set screw", "spark plug", "split pin", "stud", "tube", "washer",
})  # fmt: skip
"""Kinds of fasteners and lines that Putback itself has words for."""


class PrintedKey(NamedTuple):
    """A name that is printed as words."""

    key: str
    """The name."""
    span: Span
    """Where it stands."""
    note: str
    """What it is."""


def keys_of(guide: Guide) -> Iterator[PrintedKey]:
    """Yield the names that are printed as words, wherever they stand; some of them several times."""
    machine = guide.machine
    if machine is None:
        return
    for each in (*_of_machine(machine), *_of_steps(guide, machine)):
        if not is_figure(each.key):
            yield each


def _of_machine(machine: Machine) -> Iterator[PrintedKey]:
    for option, choices in machine.options_given:
        yield PrintedKey(option.name, option.span, "an option: a way in which machines of this model differ")
        for choice in choices:
            yield PrintedKey(choice.name, choice.span, f"a choice of the option {option.name}")
    for places in machine.places.values():
        yield PrintedKey(places.key, places.span, "what one of several alike places is called")
        for name in places.names:
            yield PrintedKey(name, places.span, f"the name of a {places.key}")
    for thing in machine.things.values():
        if isinstance(thing, Control):
            for position in thing.positions:
                yield PrintedKey(position.name, position.span, f"a position of {thing.name}")
        if isinstance(thing, Fastener | Line) and thing.kind and thing.kind not in OWN_KINDS:
            yield PrintedKey(thing.kind, place_of(thing.kind, thing.span), "a kind of fastener or line")
        if isinstance(thing, Fastener):
            if thing.drive and not any(letter.isdigit() for letter in thing.drive):
                yield PrintedKey(thing.drive, place_of(thing.drive, thing.span), f"what turns {thing.name}")
            for name in thing.positions:
                yield PrintedKey(name, thing.span, f"the place of one {thing.name}")
            yield from _said(machine, thing.span, (thing.viewpoint,), "from where something is seen")
            yield from _said(machine, thing.span, (thing.insert,), "a thread insert")
        if isinstance(thing, Part):
            yield from _said(machine, thing.span, (thing.seen_from,), "from where something is seen")
            if thing.material is not None:
                yield PrintedKey(thing.material.name, thing.material.span, f"what {thing.name} is made of")


def _said(machine: Machine, otherwise: Span, words: tuple[str | None, ...], note: str) -> Iterator[PrintedKey]:
    for each in words:
        if each is not None and each not in machine.things:
            yield PrintedKey(each, place_of(each, otherwise), note)


def _of_steps(guide: Guide, machine: Machine) -> Iterator[PrintedKey]:
    library = guide.library
    shelves = (library.equipment, library.consumables, library.tools, library.cautions, library.hazards, library.blocks)
    known = {*WAYS, *machine.things, *machine.places, *guide.jobs, *(key for shelf in shelves for key in shelf)}
    steps = {each.name.name for sequence in guide.sequences() for each in sequence.steps() if each.name}
    for sequence in (*guide.jobs.values(), *library.blocks.values(), *guide.laters()):
        taken = {name.name for name, _ in getattr(sequence, "takes", ())}
        for step in sequence.steps():
            for ref in _refs(step):
                if ref.name not in known and ref.name not in taken and ref.name not in steps:
                    yield PrintedKey(ref.name, ref.span, f"what a step is done to: {step.verb.name}")
            seen_from = getattr(step.action, "seen_from", None)
            yield from _said(machine, step.key, (seen_from,), "from where something is seen")


def _refs(step: Step) -> Iterator[Ref]:
    """Yield the names in a step that may be words."""
    yield from step.tools
    yield from step.at
    for value in step.action:  # type: ignore[attr-defined]  # all are named tuples
        yield from _refs_in(value)


def _refs_in(value: Any) -> Iterator[Ref]:
    if isinstance(value, Ref):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from _refs_in(each)
