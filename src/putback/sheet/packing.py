"""How new parts are bought: in kits where a kit covers several of them, and alone where not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from putback.model.details import Kit
from putback.model.kits import contents_of, kits_of
from putback.model.machine import Fastener, Line, Machine, Part
from putback.sheet.renewed import Totals
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph

MOST_CLASSES = 200
"""Ways in which the needs for one kit differ by variant, above which the most of each is taken."""

_Vector: TypeAlias = tuple[int, ...]
"""How many of each thing of a kit are needed."""


@dataclass(frozen=True, slots=True)
class Needs:
    """New pieces that some jobs take."""

    totals: dict[str, Totals]
    """By thing: how many, by variants."""
    jobs: dict[str, dict[str, None]]
    """By thing: the jobs that take some."""
    vary: set[str]
    """Things of which some variants need fewer than is said."""


@dataclass(frozen=True, slots=True)
class Packing:
    """What of one kit is bought, and what of its things alone."""

    kit: Kit
    """The kit."""
    covers: tuple[str, ...]
    """The things of it that are needed."""
    kits: Totals = field(default_factory=dict)
    """How many kits."""
    loose: dict[str, Totals] = field(default_factory=dict)
    """How many pieces of each of its things are bought alone."""
    over: list[tuple[Part | Fastener | Line, Totals]] = field(default_factory=list)
    """How many pieces of each of its things are left over."""


def packed(machine: Machine, graph: Graph, needs: Mapping[str, Totals]) -> list[Packing]:
    """Return how what is needed is bought, kit by kit in the order in which the jobs come to them."""
    found, owner = list[Packing](), dict[str, Kit]()
    kits = kits_of(machine)
    for key in needs:
        thing = machine.things.get(key)
        if isinstance(thing, Part | Fastener | Line) and thing.kit in kits:
            owner[key] = kits[thing.kit]
    for kit_key in dict.fromkeys(kit.key for kit in owner.values()):
        covers = tuple(key for key, kit in owner.items() if kit.key == kit_key)
        found.append(_pack(kits[kit_key], covers, machine, graph, needs))
    return found


def _pack(kit: Kit, covers: tuple[str, ...], machine: Machine, graph: Graph, needs: Mapping[str, Totals]) -> Packing:
    space, packing = graph.space, Packing(kit, covers)
    things = [(thing, held) for thing, held in contents_of(kit, machine) if isinstance(thing, Part | Fastener | Line)]
    things += [
        (thing, 0)
        for key in covers
        if isinstance(thing := machine.things[key], Part | Fastener | Line)
        and thing not in [each for each, _ in things]
    ]
    over: dict[str, Totals] = {}

    def note(totals: Totals, number: int, variants: VariantSet) -> None:
        if number:
            totals[number] = space.either(totals.get(number, NONE), variants)

    for vector, variants in _classes([needs.get(thing.key, {}) for thing, _ in things], graph).items():
        kits = _kits(things, vector)
        note(packing.kits, kits, variants)
        for (thing, held), need in zip(things, vector, strict=True):
            loose = packing.loose.setdefault(thing.key, {})
            note(loose, max(0, need - kits * held) if thing.number or not kits else 0, variants)
            if kits and (kit.contents or not need):
                there = space.both(variants, _present(thing.key, machine, graph)) if not kit.contents else variants
                if there != NONE:
                    note(over.setdefault(thing.key, {}), kits * held - min(need, kits * held), there)
    packing.over.extend((thing, over[thing.key]) for thing, _ in things if over.get(thing.key))
    return packing


def _present(key: str, machine: Machine, graph: Graph) -> VariantSet:
    """Return the variants that have a thing of the machine file."""
    thing = machine.things.get(key)
    return graph.meaning(thing.when if thing else None)


def _classes(needs: list[Totals], graph: Graph) -> dict[_Vector, VariantSet]:
    """Return the variants of each combination of needs; of too many, all of them with the most of each."""
    space = graph.space
    found: dict[_Vector, VariantSet] = {(): space.built}
    for totals in needs:
        after: dict[_Vector, VariantSet] = {}
        for vector, held in found.items():
            rest = held
            for number, variants in totals.items():
                if (here := space.both(rest, variants)) != NONE:
                    after[*vector, number] = here
                    rest = space.without(rest, here)
            if rest != NONE:
                after[*vector, 0] = rest
        if len(after) > MOST_CLASSES:
            return {tuple(max(each, default=0) for each in needs): space.built}
        found = after
    return found


def _kits(things: list[tuple[Part | Fastener | Line, int]], vector: _Vector) -> int:
    """Return how many kits to buy: one more as long as it covers several things, or one that has no number."""
    kits = 0
    while True:
        short = [
            thing
            for (thing, held), need in zip(things, vector, strict=True)
            if need > kits * held and (held or not kits)
        ]
        if not short or (len(short) == 1 and short[0].number):
            return kits
        kits += 1
