"""The fewest choices that show a fault.

First a way through the diagram, with all that can be left out of it; then, when more than one choice is left, a search
for fewer, as long as it stays small.
"""

from __future__ import annotations

from typing import Protocol

from putback.variants.sets import ALL, NONE, Choice, VariantSet

PATIENCE = 2_000
"""Pairs of sets that the search for the fewest choices may give up on."""
DEEPEST = 250
"""Questions that it may go through: it calls itself once for each."""

SHORT = 3
"""Choices of which others, as many, are looked for."""

_Literals = list[tuple[int, int]]
"""Numbers of questions, each with that of an answer."""


class Algebra(Protocol):
    """What is asked of a `Space`, which documents it."""

    names: list[str]
    choices: list[tuple[str, ...]]

    def both(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """What is in both sets."""
        ...

    def either(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """What is in one of them or both."""
        ...

    def without(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """What is in the first and not in the second."""
        ...

    def within(self, a: VariantSet, b: VariantSet) -> bool:
        """Whether all of the first is in the second."""
        ...

    def cube(self, choice: Choice) -> VariantSet:
        """What agrees with a choice."""
        ...

    def place_of(self, *sets: VariantSet) -> int:
        """The number of the highest question that some of these sets depend on; -1 for none."""
        ...

    def depth(self, variants: VariantSet) -> int:
        """How many questions there are up to the highest that a set depends on."""
        ...

    def answers(self, variants: VariantSet, place: int) -> tuple[VariantSet, ...]:
        """What is left of a set for each answer to its highest question, or one above it."""
        ...


def fewest(space: Algebra, wanted: VariantSet, among: VariantSet) -> _Literals:
    """Return the fewest answers after which all of `among` lies in `wanted`, which is a part of it and not empty."""
    found = _shortened(space, any_way(space, wanted), wanted, among)
    if not found:
        return found
    shown = space.either(wanted, space.without(ALL, among))
    if space.depth(shown) <= DEEPEST:
        search = _Search(space)
        # As many as were found as well: options come before questions. With more than a few it would take too long.
        for size in range(1, len(found) + (len(found) <= SHORT)):
            shorter = search.choice(shown, wanted, size)
            if search.tired:
                break
            if shorter is not None:
                return shorter
    return found


def any_way(space: Algebra, variants: VariantSet) -> _Literals:
    """Return the answers that lead to one variant of a set that has some, the lowest question first."""
    way: _Literals = []
    while variants != ALL:
        place = space.place_of(variants)
        answers = space.answers(variants, place)
        branch = next(branch for branch, rest in enumerate(answers) if rest != NONE)
        way.append((place, branch))
        variants = answers[branch]
    return way[::-1]


def _shortened(space: Algebra, literals: _Literals, wanted: VariantSet, among: VariantSet) -> _Literals:
    """Leave out what can be left out, the newest questions first: many at once while that goes."""
    chunks = [literals]
    while chunks:
        chunk = chunks.pop()
        left_out = set(chunk)
        shorter = [literal for literal in literals if literal not in left_out]
        choice = tuple((space.names[place], space.choices[place][branch]) for place, branch in shorter)
        if space.within(space.both(space.cube(choice), among), wanted):
            literals = shorter
        elif len(chunk) > 1:
            middle = len(chunk) // 2
            chunks += [chunk[:middle], chunk[middle:]]
    return literals


class _Search:
    """The shortest choice, found by leaving out or answering one question after the other."""

    def __init__(self, space: Algebra) -> None:
        self.space = space
        self.failed: dict[tuple[int, int], int] = {}
        self.tired = False

    def choice(self, shown: VariantSet, wanted: VariantSet, size: int) -> _Literals | None:
        """Return at most `size` answers after which all lies in `shown` and some of it in `wanted`."""
        if wanted == NONE or shown == NONE:
            return None
        if shown == ALL:
            return []
        if size == 0 or self.failed.get((shown, wanted), -1) >= size or self.tired:
            return None
        space = self.space
        place = space.place_of(shown, wanted)
        shown_by, wanted_by = space.answers(shown, place), space.answers(wanted, place)
        every, some = ALL, NONE
        for one, other in zip(shown_by, wanted_by, strict=True):
            every, some = space.both(every, one), space.either(some, other)
        found = self.choice(every, some, size)
        if found is not None:
            return found
        for branch, (one, other) in enumerate(zip(shown_by, wanted_by, strict=True)):
            found = self.choice(one, other, size - 1)
            if found is not None:
                return [(place, branch), *found]
        self.failed[shown, wanted] = size
        self.tired = self.tired or len(self.failed) > PATIENCE
        return None
