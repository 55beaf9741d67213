"""What turns when something is turned: the parts that turn together, as far as each of them is on at an entry."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book, once
from putback.ledger.entries import Entry
from putback.ledger.isolation import met
from putback.model.machine import Machine, Part
from putback.model.terms import Need
from putback.variants import NONE, VariantSet


class Turned(NamedTuple):
    """A part that turns with another."""

    part: Part
    """The part."""
    variants: VariantSet
    """The variants in which it does."""


class OneWay(NamedTuple):
    """Which way something must be turned."""

    part: Part
    """The part that says so: it, or what turns with it."""
    way: str
    """clockwise or anticlockwise."""
    need: Need | None
    """The control on which that hangs, and its position; None when it hangs on none."""
    variants: VariantSet
    """The variants in which it must."""


_Link = tuple[str, str, Part]
"""Two parts that turn together, and the one of which the machine file says so."""


def _links_of(machine: Machine) -> dict[str, list[_Link]]:
    """Return what joins each part to those that turn with it, from either side."""
    found: dict[str, list[_Link]] = {}
    for part in machine.things.values():
        for name in dict.fromkeys(ref.name for ref in part.turns_with) if isinstance(part, Part) else ():
            if isinstance(part, Part) and isinstance(machine.things.get(name), Part):
                found.setdefault(part.key, []).append((part.key, name, part))
                found.setdefault(name, []).append((part.key, name, part))
    return found


@once
def _links(book: Book) -> Iterator[dict[str, list[_Link]]]:
    yield _links_of(book.graph.machine)


def turns(book: Book, entry: Entry, key: str) -> Iterator[Turned]:
    """Yield a part and all that turns with it just before an entry, the nearest first.

    A chain holds while each of its parts is on, and a part whose rotation hangs on a control, while that is in one of
    the positions that are listed.
    """
    space, part = book.graph.space, book.graph.machine.things.get(key)
    if not isinstance(part, Part):
        return
    found = {key: space.both(entry.variants, book.graph.present(key))}
    yield Turned(part, found[key])
    (links,) = _links(book)
    waiting = deque([key])
    while waiting:
        name = waiting.popleft()
        for one, other, teller in links.get(name, ()):
            far = other if one == name else one
            if space.within(found[name], found.get(far, NONE)):
                continue
            here = _linked(book, entry, (one, other, teller), found[name])
            fresh = space.without(here, found.get(far, NONE))
            driven = book.graph.machine.things[far]
            if fresh != NONE and isinstance(driven, Part):
                found[far] = space.either(found.get(far, NONE), fresh)
                waiting.append(far)
                yield Turned(driven, fresh)


def _linked(book: Book, entry: Entry, link: _Link, among: VariantSet) -> VariantSet:
    """Return the part of some variants in which two parts turn together."""
    space, (one, other, teller) = book.graph.space, link
    for name in (one, other):
        among = space.without(space.both(among, book.graph.present(name)), book.away(name, entry))
    if not teller.rotations or among == NONE:
        return among
    engaged = NONE
    for need, _ in teller.rotations:
        engaged = space.either(engaged, met(book, need, entry))
    return space.both(among, engaged)


def ways(book: Book, entry: Entry, key: str) -> Iterator[OneWay]:
    """Yield which way a part must be turned at an entry: its own, or that of the nearest part that turns with it."""
    space, told = book.graph.space, NONE
    for part, variants in turns(book, entry, key) if is_one_way(book.graph.machine) else ():
        for way in _own(book, entry, part, space.without(variants, told)):
            told = space.either(told, way.variants)
            yield way


def _own(book: Book, entry: Entry, part: Part, among: VariantSet) -> Iterator[OneWay]:
    """Yield which way a part must be turned by what the machine file says of it."""
    if part.rotation and among != NONE:
        yield OneWay(part, part.rotation, None, among)
    for need, way in part.rotations if among != NONE else ():
        here = book.graph.space.both(among, met(book, need, entry))
        if here != NONE:
            yield OneWay(part, way.name, need, here)


def is_one_way(machine: Machine) -> bool:
    """Tell whether something of a machine must be turned one way only."""
    return any(isinstance(part, Part) and (part.rotation or part.rotations) for part in machine.things.values())


def turning_parts(machine: Machine, key: str) -> set[str]:
    """Return the parts that turn with one in some state of the machine, and itself."""
    links, found, waiting = _links_of(machine), {key}, [key]
    while waiting:
        fresh = {name for one, other, _ in links.get(waiting.pop(), ()) for name in (one, other)} - found
        waiting += sorted(fresh)
        found |= fresh
    return found
