"""Sets in which parts are bought."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from putback.model.called import pieces_of
from putback.model.details import Kit, Packed
from putback.model.machine import AnyThing, Fastener, Line, Machine, Part
from putback.model.reading import Reader, entries
from putback.model.terms import Ref
from putback.source.tree import Mapping as Tree
from putback.source.tree import Node, Text


def read_kit(reader: Reader, key: Text, node: Node) -> Kit:
    """Return what a machine file says of a kit."""
    facts = node if isinstance(node, Tree) else Tree({}, node.span)
    return Kit(
        reader.text(facts.get("name")) or key.value.replace("-", " "),
        reader.text(facts.get("number")),
        key.value,
        tuple(read_packed(reader, facts.get("contents"))),
        key.span,
    )


def read_packed(reader: Reader, node: Node | None) -> Iterator[Packed]:
    """Yield the things of a list with how many there are of each."""
    for name, value in entries(node):
        count = reader.whole(value)
        if count is not None:
            yield Packed(Ref(name.value, name.span), count, value.span)


def in_their_kits(things: Mapping[str, AnyThing], kits: Mapping[str, Kit]) -> dict[str, AnyThing]:
    """Return things of which each that a kit lists, and that names none itself, is bought in that kit: the first."""
    holders: dict[str, str] = {}
    for key, kit in kits.items():
        for packed in kit.contents:
            holders.setdefault(packed.thing.name, key)
    return {
        key: replace(thing, kit=holders[key])
        if key in holders and isinstance(thing, Part | Fastener | Line) and thing.kit is None
        else thing
        for key, thing in things.items()
    }


def kit_of(machine: Machine, thing: Part | Fastener | Line) -> Kit | None:
    """Return the kit in which a thing is bought; one that the file does not describe has its name alone."""
    if thing.kit is None:
        return None
    return machine.kits.get(thing.kit) or Kit(thing.kit.replace("-", " "), key=thing.kit)


def kits_of(machine: Machine) -> dict[str, Kit]:
    """Return all kits by what things have as theirs: those that the file describes, and those it only names."""
    named = [kit for thing in machine.things.values() if isinstance(thing, Part | Fastener | Line) and (
        kit := kit_of(machine, thing)
    )]  # fmt: skip
    return {**machine.kits, **{kit.key: kit for kit in named}}


def contents_of(kit: Kit, machine: Machine) -> list[tuple[AnyThing, int]]:
    """Return what is in a kit, with how many of each; of things that are not counted, 0.

    Of one whose contents the file does not say, it is whatever has it as its kit, as often as the machine has it: the
    most that some machine has.
    """
    if kit.contents:
        packed = ((machine.things.get(each.thing.name), each.pieces) for each in kit.contents)
        return [(thing, count) for thing, count in packed if isinstance(thing, Part | Fastener | Line)]
    things = (each for each in machine.things.values() if isinstance(each, Part | Fastener | Line))
    return [(thing, on_machine(thing, machine)) for thing in things if thing.kit == kit.key]


def on_machine(thing: AnyThing, machine: Machine) -> int:
    """Return how many pieces a machine has of a thing of its file, at all places; the most of any variant."""
    counts = thing.counts if isinstance(thing, Fastener) else ()
    most = max((count for _, count in counts), default=pieces_of(thing))
    return most * max(1, len(machine.places_of(thing)))
