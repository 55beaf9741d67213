"""What is in somebody's hands when a part comes off: it, and all that is still attached to it.

What is attached differs from variant to variant, and there can be as many loads as variants. So loads are not listed:
what is asked is in which variants they reach a mass, which is worked out part by part.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.states import State, is_off
from putback.model.machine import Part
from putback.units import si
from putback.variants import ALL, NONE, EntangledError, Space, VariantSet

MOST_SUMS = 20_000
"""Sums of masses that one load may need; far more than a thousand parts of a few masses."""

FINE = 6
"""Decimals of a kilogram that sums are kept to."""


class Hanging(NamedTuple):
    """A part that goes along with another."""

    key: str
    """Its name."""
    mass: float
    """kg."""
    worlds: VariantSet
    """The variants in which it hangs on it."""


class Load(NamedTuple):
    """What is lifted in one variant."""

    mass: float
    """kg, as far as masses are known."""
    parts: tuple[str, ...]
    """The parts that make it, the lifted one first."""
    least: bool
    """Whether others of the variants asked for weigh more."""


@dataclass(frozen=True, slots=True)
class Burden:
    """What a part weighs at an entry, in all variants."""

    space: Space
    """The variants."""
    key: str
    """The part that is lifted."""
    mass: float
    """Its own mass, kg; 0 when it is not stated."""
    worlds: VariantSet
    """The variants of the entry that have it."""
    hanging: tuple[Hanging, ...]
    """What goes along, as far as masses are known."""

    @property
    def most(self) -> float:
        """The mass with all that may ever hang on it, kg."""
        return self.mass + sum(part.mass for part in self.hanging)

    def over(self, limit: float, *, or_equal: bool = False) -> VariantSet:
        """Return the variants in which it weighs more than a limit, kg. Raises `EntangledError`."""
        space = self.space
        # The highest in the diagram first: so each part adds a row or two to what the parts after it need.
        parts = sorted(self.hanging, key=lambda part: -space.place_of(part.worlds))
        rest = [0.0] * (len(parts) + 1)
        for at in range(len(parts) - 1, -1, -1):
            rest[at] = rest[at + 1] + parts[at].mass

        def settled(at: int, missing: float) -> VariantSet | None:
            enough, never = (missing <= 0, missing > rest[at]) if or_equal else (missing < 0, missing >= rest[at])
            return ALL if enough else NONE if never else None

        first = round(limit - self.mass, FINE)
        needed: list[set[float]] = [{first} if settled(0, first) is None else set()]
        for at, part in enumerate(parts):
            following = {round(left, FINE) for missing in needed[at] for left in (missing, missing - part.mass)}
            needed.append({missing for missing in following if settled(at + 1, missing) is None})
            if sum(map(len, needed)) > MOST_SUMS:
                raise EntangledError
        known: dict[float, VariantSet] = {}

        def found(at: int, missing: float) -> VariantSet:
            answer = settled(at, missing)
            return known[missing] if answer is None else answer

        for at in range(len(parts) - 1, -1, -1):
            worlds, mass = parts[at].worlds, parts[at].mass
            known = {
                missing: space.either(
                    space.both(worlds, found(at + 1, round(missing - mass, FINE))),
                    space.without(found(at + 1, missing), worlds),
                )
                for missing in needed[at]
            }
        return space.both(self.worlds, found(0, first))

    def lightest(self, worlds: VariantSet) -> Load:
        """Return a light load of some variants: what hangs on it in all of them, and no more than it must."""
        parts, mass, least = [self.key], self.mass, False
        for part in self.hanging:
            without = self.space.without(worlds, part.worlds)
            if without == NONE:
                parts.append(part.key)
                mass += part.mass
            else:
                least = least or without != worlds
                worlds = without
        return Load(mass, tuple(parts), least)


def mass_of(part: Part) -> float:
    """Return the mass of a part, kg, its greatest value; 0 when it is not stated."""
    if part.mass is None:
        return 0.0
    low, high = si(part.mass)
    return high if high is not None else low or 0.0


def burden(book: Book, entry: Entry, key: str) -> Burden | None:
    """Return what a part weighs at an entry, with what is still fastened to it; None for what is no part.

    A part is attached to another when a fastener that is still in holds it to that one; what lies under it in a stack
    goes with it. What lies under the lifted part itself stays on the machine.
    """
    part = book.graph.machine.things.get(key)
    if not isinstance(part, Part):
        return None
    space = book.graph.space
    worlds = space.both(entry.worlds, book.graph.present(key))
    hanging = []
    for other, there in _attached(book, entry, key).items():
        thing = book.graph.machine.things[other]
        mass = mass_of(thing) if isinstance(thing, Part) else 0.0
        there = space.both(worlds, there)
        if mass and there != NONE:
            hanging.append(Hanging(other, mass, there))
    return Burden(space, key, mass_of(part), worlds, tuple(hanging))


def _attached(book: Book, entry: Entry, key: str) -> dict[str, VariantSet]:
    """Return the parts that hang on a part, each once, with the variants in which they do."""
    both, graph = book.graph.space.both, book.graph
    found: dict[str, VariantSet] = {key: ALL}
    waiting = [key]
    while waiting:
        carrier = waiting.pop()
        for fastener in graph.fixed_to.get(carrier, ()):
            held = both(found[carrier], _on(book, entry, fastener.key))
            for ref in fastener.holds:
                if ref.name in found or not isinstance(graph.machine.things.get(ref.name), Part):
                    continue
                there = both(held, _on(book, entry, ref.name))
                if there == NONE:
                    continue
                found[ref.name] = there
                waiting.append(ref.name)
                for inner in graph.under(ref.name):
                    if inner not in found:
                        found[inner] = both(there, _on(book, entry, inner))
    del found[key]
    return found


def _on(book: Book, entry: Entry, key: str) -> VariantSet:
    thing = book.graph.machine.things[key]

    def on(state: State) -> bool:
        return not is_off(thing, state)

    return book.where(key, entry, on)
