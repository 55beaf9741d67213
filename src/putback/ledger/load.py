"""What is in somebody's hands when a part comes off: it, and all that is still attached to it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.states import State, is_off
from putback.model.machine import Fastener, Part
from putback.units import si
from putback.variants import NONE, VariantSet


class Load(NamedTuple):
    """A load, in some variants."""

    mass: float
    """kg, as far as masses are known."""
    worlds: VariantSet
    """The variants in which it is this."""
    parts: tuple[str, ...]
    """The parts that make it, the lifted one first."""


def mass_of(part: Part) -> float:
    """Return the mass of a part, kg, its greatest value; 0 when it is not stated."""
    if part.mass is None:
        return 0.0
    low, high = si(part.mass)
    return high if high is not None else low or 0.0


def loads(book: Book, entry: Entry, key: str) -> list[Load]:
    """Return what a part weighs at an entry, with what is still fastened to it, in each variant of the entry.

    A part is attached to another when a fastener that is still in holds it to that one; what lies under it in a stack
    goes with it. What lies under the lifted part itself stays on the machine.
    """
    part = book.graph.machine.things.get(key)
    if not isinstance(part, Part):
        return []
    space = book.graph.space
    found = [Load(mass_of(part), space.both(entry.worlds, book.graph.present(key)), (key,))]
    for other, there in _attached(book, entry, key, {key}):
        thing = book.graph.machine.things[other]
        mass = mass_of(thing) if isinstance(thing, Part) else 0.0
        if not mass:
            continue
        split: dict[tuple[float, tuple[str, ...]], VariantSet] = {}
        for load in found:
            with_it, without = space.both(load.worlds, there), space.without(load.worlds, there)
            for total, parts, worlds in (
                (load.mass + mass, (*load.parts, other), with_it),
                (load.mass, load.parts, without),
            ):
                if worlds != NONE:
                    split[total, parts] = space.either(split.get((total, parts), NONE), worlds)
        found = [Load(total, worlds, parts) for (total, parts), worlds in split.items()]
    return [load for load in found if load.worlds != NONE]


def _attached(book: Book, entry: Entry, key: str, seen: set[str]) -> Iterator[tuple[str, VariantSet]]:
    """Yield the parts that hang on a part, each once, with the variants in which they do."""
    machine, both = book.graph.machine, book.graph.space.both
    for fastener in machine.things.values():
        if not isinstance(fastener, Fastener) or fastener.to is None or fastener.to.name != key:
            continue
        held = _on(book, entry, fastener.key)
        for ref in fastener.holds:
            if ref.name in seen or not isinstance(machine.things.get(ref.name), Part):
                continue
            there = both(held, _on(book, entry, ref.name))
            if there == NONE:
                continue
            seen.add(ref.name)
            yield ref.name, there
            for inner in _under(book, ref.name):
                if inner not in seen:
                    seen.add(inner)
                    inside = both(there, _on(book, entry, inner))
                    if inside != NONE:
                        yield inner, inside
            for further, where in _attached(book, entry, ref.name, seen):
                yield further, both(there, where)


def _under(book: Book, key: str) -> Iterator[str]:
    """Yield the parts that lie under one in a stack."""
    for stack in book.graph.machine.stacks:
        names = [ref.name for ref in stack.order]
        if key in names:
            yield from (name for name in names[names.index(key) + 1 :] if name in book.graph.machine.things)


def _on(book: Book, entry: Entry, key: str) -> VariantSet:
    thing = book.graph.machine.things[key]

    def on(state: State) -> bool:
        return not is_off(thing, state)

    return book.where(key, entry, on)
