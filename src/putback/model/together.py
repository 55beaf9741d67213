"""What a fastener is told of by others: by the one that is turned while it is held, and by steps with its torque."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from putback.model.called import counted, named, verb_s
from putback.model.job import Sequence
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.reach import is_below
from putback.model.terms import Ref
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Finding, Level
from putback.units import Quantity


def joined(machine: Machine) -> Machine:
    """Return a machine in which each fastener that is held knows for which."""
    changed: dict[str, AnyThing] = {}
    for thing in machine.things.values():
        ref = thing.counterhold if isinstance(thing, Fastener) else None
        held = machine.things.get(ref.name) if ref else None
        if ref and isinstance(held, Fastener) and held.key not in changed and held.key != thing.key:
            changed[held.key] = replace(held, held_for=Ref(thing.key, ref.span))
    return replace(machine, things={**machine.things, **changed}) if changed else machine


def faults_of_joints(machine: Machine) -> Iterator[Finding]:
    """Yield what makes no sense of two fasteners that are one joint."""
    seen: dict[str, Ref] = {}
    for thing in machine.things.values():
        if not isinstance(thing, Fastener):
            continue
        pair = thing.counterhold
        held = machine.things.get(pair.name) if pair else None
        if pair is not None and isinstance(held, Fastener):
            yield from _of_pair(thing, held, pair, seen.get(held.key))
            seen.setdefault(held.key, pair)


def _of_pair(thing: Fastener, held: Fastener, pair: Ref, other: Ref | None) -> Iterator[Finding]:
    be, have = verb_s(held, "is", "are"), verb_s(held, "has", "have")
    turned = f"while {verb_s(held, 'it is', 'they are')} turned"
    if held.key == thing.key:
        yield _bad(pair, f"{named(held)} cannot be held {turned}", "name the other fastener of the joint")
    elif other is not None:
        also = (Also(other.span, "here"),)
        yield _bad(pair, f"{named(held)} {be} held for others already", "make them one group", also)
    elif held.counterhold is not None:
        if held.counterhold.name == thing.key and thing.span < held.span:
            return  # told at the other
        also = (Also(held.counterhold.span, "here"),)
        message = f"{named(held)} cannot be held: something is held {turned}"
        yield _bad(pair, message, "name the other on one of the two only", also)
    elif held.count != thing.count:
        also = (Also(held.span, "the other fastener of the joint"),)
        yield _bad(pair, f"{counted(thing)} and {counted(held)} are one joint", "give both the same count", also)
    elif held.torque_span is not None:
        also = (Also(thing.span, "what is turned"),)
        message = f"{named(held)} {be} held, but {have} a torque: the torque of the joint is that of {named(thing)}"
        hint = f"delete it here, and give {thing.key} its torque"
        yield _bad(Ref(held.key, held.torque_span), message, hint, also)


def _bad(ref: Ref, message: str, hint: str, also: tuple[Also, ...] = ()) -> Finding:
    return Finding("bad-fastener", Level.ERROR, ref.span, message, also=also, hint=hint)


def with_torques_of_steps(machine: Machine, sequences: Iterable[Sequence]) -> Machine:
    """Return a machine in which a fastener without a torque is due the greatest that a step brings its pieces to."""
    greatest: dict[str, Quantity] = {}
    for sequence in sequences:
        for step in sequence.steps():
            action = step.action
            if not isinstance(action, Tighten) or action.torque is None or action.at or action.count is not None:
                continue
            for ref in step.things:
                known = greatest.get(ref.name)
                if known is None or is_below(known, action.torque):
                    greatest[ref.name] = action.torque
    changed: dict[str, AnyThing] = {}
    for key, torque in greatest.items():
        thing = machine.things.get(key)
        if isinstance(thing, Fastener) and thing.torque_span is None and not thing.stages:
            changed[key] = replace(thing, torque_of_steps=torque)
    return replace(machine, things={**machine.things, **changed}) if changed else machine
