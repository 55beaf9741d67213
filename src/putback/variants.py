"""Sets of variants, as decision diagrams.

A variant is one choice for every option of a machine. What a step does, it does in a set of variants; the ledger
asks of such sets whether they are empty, and what the smallest choice is that lies in one. A set is a whole
number that stands for a shared diagram (Bryant, "Graph-Based Algorithms for Boolean Function Manipulation",
IEEE Trans. Computers C-35, 1986, here with as many branches as an option has choices), so equal sets are equal
numbers, and options that never meet on one thing never multiply.

An inspection that can go either way is one more question with two answers: `Space.ask` adds it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations, product
from typing import NewType, TypeAlias

VariantSet = NewType("VariantSet", int)
"""A set of variants of one `Space`; only that space can read it."""

NONE = VariantSet(0)
"""No variant."""
ALL = VariantSet(1)
"""Every variant, built or not."""

Choice: TypeAlias = tuple[tuple[str, str], ...]
"""Some options with one choice each; the others are left open."""

_Operation: TypeAlias = Callable[[VariantSet, VariantSet], VariantSet]


class Space:
    """The options of a machine, and algebra on sets of its variants."""

    def __init__(self, options: Mapping[str, Sequence[str]] | None = None) -> None:
        self.names: list[str] = []
        self.choices: list[tuple[str, ...]] = []
        self.built = ALL
        """The variants that exist: all but those excluded."""
        self._place: dict[str, int] = {}
        self._rows: list[tuple[int, tuple[int, ...]]] = [(1 << 30, ()), (1 << 30, ())]
        self._unique: dict[tuple[int, tuple[int, ...]], int] = {}
        self._both: dict[tuple[int, int], int] = {}
        self._without: dict[tuple[int, int], int] = {}
        for name, values in (options or {}).items():
            self._add(name, tuple(values))

    def _add(self, name: str, values: tuple[str, ...]) -> None:
        self._place[name] = len(self.names)
        self.names.append(name)
        self.choices.append(values)

    def ask(self, question: str) -> tuple[VariantSet, VariantSet]:
        """Add a question with the answers yes and no; return the set where it is yes, and where it is no."""
        if question in self._place:
            number = 2
            while f"{question} ({number})" in self._place:
                number += 1
            question = f"{question} ({number})"
        self._add(question, ("yes", "no"))
        return self.chosen(question, ["yes"]), self.chosen(question, ["no"])

    def exclude(self, never: VariantSet) -> None:
        """Note that these variants were never built."""
        self.built = self.without(self.built, never)

    def chosen(self, option: str, values: Iterable[str]) -> VariantSet:
        """Return the variants in which `option` is one of `values`; unknown names give no variant."""
        place = self._place.get(option)
        if place is None:
            return NONE
        wanted = set(values)
        return VariantSet(self._row(place, tuple(int(choice in wanted) for choice in self.choices[place])))

    def _row(self, place: int, children: tuple[int, ...]) -> int:
        if children.count(children[0]) == len(children):
            return children[0]
        key = (place, children)
        found = self._unique.get(key)
        if found is None:
            found = self._unique[key] = len(self._rows)
            self._rows.append(key)
        return found

    def both(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` and in `b`."""
        if a == b or b == ALL:
            return a
        if a == ALL:
            return b
        if a == NONE or b == NONE:
            return NONE
        key = (a, b) if a < b else (b, a)
        found = self._both.get(key)
        if found is None:
            found = self._both[key] = self._split(a, b, self.both)
        return VariantSet(found)

    def without(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` that are not in `b`."""
        if b == NONE or a == NONE:
            return a
        if a == b or b == ALL:
            return NONE
        key = (a, b)
        found = self._without.get(key)
        if found is None:
            found = self._without[key] = self._split(a, b, self.without)
        return VariantSet(found)

    def _split(self, a: int, b: int, operation: _Operation) -> int:
        place_a, children_a = self._rows[a]
        place_b, children_b = self._rows[b]
        place = min(place_a, place_b)
        width = len(self.choices[place])
        left = children_a if place_a == place else (a,) * width
        right = children_b if place_b == place else (b,) * width
        pairs = zip(left, right, strict=True)
        return self._row(place, tuple(operation(VariantSet(x), VariantSet(y)) for x, y in pairs))

    def either(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` or in `b`."""
        if a == b or b == NONE:
            return a
        if a == NONE:
            return b
        return self.without(ALL, self.both(self.without(ALL, a), self.without(ALL, b)))

    def within(self, a: VariantSet, b: VariantSet) -> bool:
        """Tell whether every variant of `a` is in `b`."""
        return self.without(a, b) == NONE

    def cube(self, choice: Choice) -> VariantSet:
        """Return the variants that agree with a choice."""
        result = ALL
        for option, value in choice:
            result = self.both(result, self.chosen(option, [value]))
        return result

    def smallest(self, wanted: VariantSet, among: VariantSet | None = None) -> Choice:
        """Return the fewest choices after which every variant lies in `wanted`, of those in `among`.

        `among` is all that were built when it is not given. The answer is empty when all of them lie in `wanted`.
        Exact up to two choices; beyond that, a choice none of whose parts can be left out. `wanted` must hold a
        variant of `among`.
        """
        among = self.built if among is None else self.both(among, self.built)
        wanted = self.both(wanted, among)
        if wanted == NONE:
            raise ValueError("the set is empty")
        options = [place for place in self._support(wanted, among) if len(self.choices[place]) > 1]
        for size in range(3):
            for places in combinations(options, size):
                for values in product(*(self.choices[place] for place in places)):
                    choice = tuple((self.names[p], v) for p, v in zip(places, values, strict=True))
                    if self._shows(choice, wanted, among):
                        return choice
        choice = next(self._paths(wanted))
        for literal in choice:
            shorter = tuple(other for other in choice if other != literal)
            if self._shows(shorter, wanted, among):
                choice = shorter
        return choice

    def _shows(self, choice: Choice, wanted: VariantSet, among: VariantSet) -> bool:
        some = self.both(self.cube(choice), among)
        return some != NONE and self.within(some, wanted)

    def _support(self, *roots: int) -> list[int]:
        seen: set[int] = set()
        places: set[int] = set()
        stack = list(roots)
        while stack:
            node = stack.pop()
            if node in seen or node < 2:
                continue
            seen.add(node)
            place, children = self._rows[node]
            places.add(place)
            stack.extend(children)
        return sorted(places)

    def _paths(self, node: int, before: Choice = ()) -> Iterator[Choice]:
        if node == ALL:
            yield before
        elif node != NONE:
            place, children = self._rows[node]
            for value, child in zip(self.choices[place], children, strict=True):
                yield from self._paths(child, (*before, (self.names[place], value)))
