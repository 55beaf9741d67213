"""A machine with each thing that is there several times written out: one for each place, and for each of its counts.

What follows works with single things: rocker 3 comes off before push rod 3, and not before push rod 2. A relation
between two things of the same places holds place by place; one between a thing of places and another for all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from itertools import islice, product
from typing import Any, NamedTuple, TypeAlias

from putback.model.details import Stack
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.setting import Disturber
from putback.model.terms import Need, Ref, both

Spot: TypeAlias = Mapping[str, str]
"""What tells one of several from the others: the place of each kind of places, the choice of a count's option."""

MARK = "@"
"""Stands between the name of a thing and what tells it from others: no name in a file has it."""


MOST_STACKS = 600
"""Stacks that one is written out in: of things of two kinds of places, there is one for each pair of these."""


class One(NamedTuple):
    """One of the things that stand for a thing which is there several times."""

    key: str
    """Its name."""
    spot: Spot
    """What tells it from the others."""


@dataclass(frozen=True, slots=True)
class Spread:
    """A machine written out."""

    machine: Machine
    """The machine: single things alone."""
    ones: Mapping[str, tuple[One, ...]]
    """By the name of a thing that is there several times: those that stand for it."""
    printed: Mapping[str, AnyThing]
    """What sentences speak of: the things of the file, and one for each count of those that have several."""

    def of(self, ref: Ref, spot: Spot) -> tuple[Ref, ...]:
        """Return the names that one stands for at a spot: of all places that the spot does not name."""
        found = self.ones.get(ref.name)
        if found is None:
            return (ref,)
        return tuple(Ref(one.key, ref.span) for one in found if _agree(one.spot, spot))


def _agree(one: Spot, other: Spot) -> bool:
    return all(other.get(key, value) == value for key, value in one.items())


def base_of(name: str) -> str:
    """Return the name in the file of what a single thing stands for."""
    return name.partition(MARK)[0]


def spread(machine: Machine) -> Spread:
    """Return a machine written out."""
    ones: dict[str, tuple[One, ...]] = {}
    for key, thing in machine.things.items():
        if (thing.each and thing.each.name in machine.places) or (isinstance(thing, Fastener) and thing.counts):
            ones[key] = tuple(_ones(machine, thing))
    known = Spread(machine, ones, {})
    things: dict[str, AnyThing] = {}
    printed: dict[str, AnyThing] = dict(machine.things)
    for key, thing in machine.things.items():
        for one in ones.get(key, (One(key, {}),)):
            single = _single(thing, one, machine) if one.key != key else thing
            things[one.key] = _bound(single, one.spot, known)
            if isinstance(single, Fastener) and single.of and single.of != key:
                printed[single.of] = replace(single, key=single.of, of=key, place=None, each=thing.each)
            elif one.key != key and single.place is None:
                printed[one.key] = replace(single, of=key)
    return Spread(_related(machine, things, known), ones, printed)


def _ones(machine: Machine, thing: AnyThing) -> Iterator[One]:
    counts = thing.counts if isinstance(thing, Fastener) else ()
    clauses = [when.cases[0][0] for when, _ in counts]
    choices = [(f"{MARK}{each.option.name}", each.choices[0].name) for each in clauses] or [("", "")]
    places = machine.places.get(thing.each.name) if thing.each else None
    for (option, choice), place in product(choices, places.names if places else [None]):
        key, spot = thing.key, dict[str, str]()
        if option:
            spot[option] = choice
            key += f"{option}={choice}"
        if places and place:
            spot[places.key] = place
            key += f"{MARK}{place}"
        yield One(key, spot)


def _single(thing: AnyThing, one: One, machine: Machine) -> AnyThing:
    """Return the thing that is there once at a spot, or in the variants that have so many of it."""
    place = one.spot.get(thing.each.name) if thing.each else None
    of = one.key.removesuffix(f"{MARK}{place}") if place else thing.key
    changes: dict[str, Any] = {"key": one.key, "of": of, "place": place}
    for when, count in thing.counts if isinstance(thing, Fastener) else ():
        clause = when.cases[0][0]
        if one.spot.get(f"{MARK}{clause.option.name}") == clause.choices[0].name:
            changes |= {"count": count, "counts": (), "when": both(thing.when, when)}
    return replace(thing, **changes)


_NOT_THINGS = frozenset({"tags", "compound", "tool", "material", "each", "positions", "normal"})
"""Fields with names that are those of no thing."""


def _bound(thing: AnyThing, spot: Spot, known: Spread) -> AnyThing:
    """Return a thing whose names are those of single things."""
    changes: dict[str, Any] = {}
    for field in fields(thing):
        value = getattr(thing, field.name)
        if field.name in _NOT_THINGS or not value:
            continue
        if isinstance(value, Ref):
            new: Any = next(iter(known.of(value, spot)), value)
        elif isinstance(value, tuple) and isinstance(value[0], Ref | Need | Disturber):
            new = tuple(_each(value, spot, known))
        else:
            continue
        if new != value:
            changes[field.name] = new
    return replace(thing, **changes) if changes else thing


def _each(values: Iterable[Any], spot: Spot, known: Spread) -> Iterator[Any]:
    for value in values:
        match value:
            case Need(control=ref):
                yield from (value._replace(control=one) for one in known.of(ref, spot))
            case Disturber(ref=ref):
                yield from (value._replace(ref=one) for one in known.of(ref, spot))
            case Ref():
                yield from known.of(value, spot)
            case _:
                yield value


def _related(machine: Machine, things: dict[str, AnyThing], known: Spread) -> Machine:
    """Return a machine of single things, with what relates them."""
    access: list[tuple[Ref, tuple[Ref, ...]]] = []
    for inner, outers in machine.access_after:
        for one in known.of(inner, {}):
            spot = _spot_of(one.name, inner.name, known)
            access.append((one, tuple(_each(outers, spot, known))))
    return replace(
        machine,
        things=things,
        access_after=tuple(access),
        stacks=tuple(each for stack in machine.stacks for each in _stacks(stack, machine, known)),
        verb_needs={verb: tuple(_each(needs, {}, known)) for verb, needs in machine.verb_needs.items()},
        verb_results={verb: tuple(_each(made, {}, known)) for verb, made in machine.verb_results.items()},
        can_start=tuple(tuple(_each(way, {}, known)) for way in machine.can_start),
    )


def _spot_of(name: str, of: str, known: Spread) -> Spot:
    return next((one.spot for one in known.ones.get(of, ()) if one.key == name), {})


def _stacks(stack: Stack, machine: Machine, known: Spread) -> Iterator[Stack]:
    """Yield a stack for each place; one of several counts stands beside the other, since no variant has both."""
    kinds = dict[str, tuple[str, ...]]()
    for ref in stack.order:
        thing = machine.things.get(ref.name)
        if thing and thing.each and thing.each.name in machine.places:
            kinds[thing.each.name] = machine.places[thing.each.name].names
    for names in islice(product(*kinds.values()), MOST_STACKS):
        spot = dict(zip(kinds, names, strict=True))
        yield replace(stack, order=tuple(_each(stack.order, spot, known)))
