"""What is in somebody's hands when a part comes off: it, and all that is still attached to it.

What is attached differs from variant to variant, and there can be as many loads as variants. So loads are not listed:
what is asked is in which variants they reach a mass, which is worked out part by part.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.machine import Part
from putback.model.states import State, is_off
from putback.units import si
from putback.variants import ALL, NONE, Space, VariantSet

MOST_SUMS = 8_000
"""Sums of masses that one load may need before masses are rounded; three hundred parts of a few masses need fewer."""

COARSE = 0.01
"""kg: what masses are rounded to then, and to twice and four times that until it is enough."""

FINE = 6
"""Decimals of a kilogram that sums are kept to."""


class Hanging(NamedTuple):
    """A part that goes along with another."""

    key: str
    """Its name."""
    mass: float
    """kg."""
    variants: VariantSet
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
    variants: VariantSet
    """The variants of the entry that have it."""
    hanging: tuple[Hanging, ...]
    """What goes along, as far as masses are known."""

    @property
    def most(self) -> float:
        """The mass with all that may ever hang on it, kg."""
        return self.mass + sum(part.mass for part in self.hanging)

    def over(self, limit: float, *, or_equal: bool = False, surely: bool = False) -> VariantSet:
        """Return the variants in which it weighs more than a limit, kg.

        Parts of very many different masses, each with an option of its own, are taken for a little heavier than they
        are, so that no variant is missed; or for a little lighter when it must `surely` weigh more.
        """
        alike: dict[VariantSet, list[float]] = {}
        for part in self.hanging:
            alike.setdefault(part.variants, []).append(part.mass)
        own = self.mass + sum(alike.pop(self.variants, ()))
        # The highest in the diagram first: so each part adds a row or two to what the parts after it need.
        parts = sorted(alike, key=self.space.depth, reverse=True)
        masses = [round(sum(alike[variants]), FINE) for variants in parts]
        missing, grain = round(limit - own, FINE), 10.0**-FINE
        while (needed := _sums(masses, missing, or_equal)) is None:
            grain = max(2 * grain, COARSE)
            turn = floor if surely else ceil
            masses = [round(turn(round(mass / grain, FINE)) * grain, FINE) for mass in masses]
        space, known = self.space, dict[float, VariantSet]()
        left = _left(masses)

        def found(at: int, missing: float) -> VariantSet:
            answer = _settled(missing, left[at], or_equal)
            return known[missing] if answer is None else answer

        for at in range(len(parts) - 1, -1, -1):
            variants, mass = parts[at], masses[at]
            known = {
                missing: space.either(
                    space.both(variants, found(at + 1, round(missing - mass, FINE))),
                    space.without(found(at + 1, missing), variants),
                )
                for missing in needed[at]
            }
        return space.both(self.variants, found(0, missing))

    def lightest(self, variants: VariantSet) -> Load:
        """Return a light load of some variants: what hangs on it in all of them, and no more than it must."""
        parts, mass, least = [self.key], self.mass, False
        for part in self.hanging:
            without = self.space.without(variants, part.variants)
            if without == NONE:
                parts.append(part.key)
                mass += part.mass
            else:
                least = least or without != variants
                variants = without
        return Load(mass, tuple(parts), least)


def _left(masses: list[float]) -> list[float]:
    """Return, for each place in a list of masses, the sum from there on."""
    left = [0.0]
    for mass in reversed(masses):
        left.append(round(left[-1] + mass, FINE))
    return left[::-1]


def _settled(missing: float, left: float, or_equal: bool) -> VariantSet | None:
    """Return ALL when enough hangs on it already, NONE when what is left cannot make it so; else None."""
    enough, never = (missing <= 0, missing > left) if or_equal else (missing < 0, missing >= left)
    return ALL if enough else NONE if never else None


def _sums(masses: list[float], missing: float, or_equal: bool) -> list[set[float]] | None:
    """Return, for each place in a list of masses, what can be missing there to a limit; None when that is too much."""
    left = _left(masses)
    needed = [{missing} if _settled(missing, left[0], or_equal) is None else set[float]()]
    many = 0
    for at, mass in enumerate(masses):
        following = {round(each, FINE) for missing in needed[at] for each in (missing, missing - mass)}
        needed.append({each for each in following if _settled(each, left[at + 1], or_equal) is None})
        many += len(needed[-1])
        if many > MOST_SUMS:
            return None
    return needed


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
    variants = space.both(entry.variants, book.graph.present(key))
    hanging = []
    for other, there in _attached(book, entry, key).items():
        thing = book.graph.machine.things[other]
        mass = own_mass(book, thing) if isinstance(thing, Part) else 0.0
        there = space.both(variants, there)
        if mass and there != NONE:
            hanging.append(Hanging(other, mass, there))
    return Burden(space, key, own_mass(book, part), variants, tuple(hanging))


def own_mass(book: Book, part: Part) -> float:
    """Return what a part weighs without what comes off with it as one, kg: the mass of an assembly is that of all."""
    members, things = book.graph.assemblies.get(part.key, frozenset()), book.graph.machine.things
    inner = sum(own_mass(book, thing) for name in members if isinstance(thing := things.get(name), Part))
    return max(0.0, mass_of(part) - inner)


def _attached(book: Book, entry: Entry, key: str) -> dict[str, VariantSet]:
    """Return the parts that hang on a part, each once, with the variants in which they do."""
    both, either, graph = book.graph.space.both, book.graph.space.either, book.graph
    found: dict[str, VariantSet] = {key: ALL}
    waiting = deque([key])

    def hangs(name: str, variants: VariantSet) -> bool:
        """Note where a part hangs on it: in some variants it may hang on one thing, in some on another."""
        before = found.get(name, NONE)
        found[name] = either(before, both(variants, _on(book, entry, name)))
        return found[name] != before

    while waiting:
        carrier = waiting.popleft()
        for name in sorted(graph.assemblies.get(carrier, ())):
            if isinstance(graph.machine.things.get(name), Part):
                hangs(name, found[carrier])
        for fastener in graph.fixed_to.get(carrier, ()):
            held = both(found[carrier], _on(book, entry, fastener.key))
            for name in (fastener.key, *(ref.name for ref in fastener.secures)):
                if not isinstance(graph.machine.things.get(name), Part) or not hangs(name, held):
                    continue
                if name not in waiting:
                    waiting.append(name)
                for inner in graph.under(name):
                    hangs(inner, found[name])
    del found[key]
    return found


def _on(book: Book, entry: Entry, key: str) -> VariantSet:
    thing = book.graph.machine.things[key]

    def on(state: State) -> bool:
        return not is_off(thing, state)

    return book.where(key, entry, on)
