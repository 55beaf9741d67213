"""Sets of variants, as decision diagrams.

A variant is one choice for every option of a machine. What a step does, it does in a set of variants; the ledger
asks of such sets whether they are empty, and what the smallest choice is that lies in one. A set is a whole
number that stands for a shared diagram (Bryant, "Graph-Based Algorithms for Boolean Function Manipulation",
IEEE Trans. Computers C-35, 1986, here with as many branches as an option has choices), so equal sets are equal
numbers, and options that never meet on one thing never multiply.

An inspection that can go either way is one more question with two answers: `Space.ask` adds it. The newest question is
asked first, so that a set that meets a new one grows by one row, and not by a copy of all its rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NewType, TypeAlias

VariantSet = NewType("VariantSet", int)
"""A set of variants of one `Space`; only that space can read it."""

NONE = VariantSet(0)
"""No variant."""
ALL = VariantSet(1)
"""Every variant, built or not."""

Choice: TypeAlias = tuple[tuple[str, str], ...]
"""Some options with one choice each; the others are left open."""

_Pair: TypeAlias = tuple[int, int]
_Plain: TypeAlias = Callable[[int, int], int | None]
"""The answer of an operation where it needs no rows; else None."""

_PATIENCE = 5_000
"""Pairs of sets that one search for the fewest choices may give up on."""
_DEEPEST = 250
"""Questions that it may go through: it calls itself once for each."""


class Space:
    """The options of a machine, and algebra on sets of its variants."""

    def __init__(self, options: Mapping[str, Sequence[str]] | None = None) -> None:
        self.names: list[str] = []
        self.choices: list[tuple[str, ...]] = []
        self.built = ALL
        """The variants that exist: all but those excluded."""
        self._place: dict[str, int] = {}
        self._rows: list[tuple[int, tuple[int, ...]]] = [(-1, ()), (-1, ())]
        self._unique: dict[tuple[int, tuple[int, ...]], int] = {}
        self._meets: dict[_Pair, int] = {}
        self._joins: dict[_Pair, int] = {}
        self._lacks: dict[_Pair, int] = {}
        self._forgotten: dict[int, int] = {}
        for name, values in (options or {}).items():
            self._add(name, tuple(values))
        self._options = len(self.names)

    def _add(self, name: str, values: tuple[str, ...]) -> None:
        self._place[name] = len(self.names)
        self.names.append(name)
        self.choices.append(values)

    def variants_of(self, ways: VariantSet) -> VariantSet:
        """Return the variants in which some answer to the questions lies in `ways`.

        Questions stand above all options in the diagram: below the last question, what is left is about options.
        """
        stack: list[int] = [ways]
        while stack:
            node = stack[-1]
            place, children = self._rows[node]
            if place < self._options:
                self._forgotten[node] = node
                stack.pop()
                continue
            waiting = [child for child in children if child not in self._forgotten]
            if waiting:
                stack += waiting
                continue
            found = NONE
            for child in children:
                found = self.either(found, VariantSet(self._forgotten[child]))
            self._forgotten[node] = found
            stack.pop()
        return VariantSet(self._forgotten[ways])

    def ask(self, question: str) -> tuple[VariantSet, VariantSet]:
        """Add a question with the answers yes and no; return the set where it is yes, and where it is no."""
        if question in self._place:
            number = 2
            while f"{question} ({number})" in self._place:
                number += 1
            question = f"{question} ({number})"
        self._add(question, ("yes", "no"))
        return self.chosen(question, ["yes"]), self.chosen(question, ["no"])

    def possible(self, option: str, value: str) -> bool:
        """Tell whether some variant that exists has this choice."""
        return self.both(self.built, self.chosen(option, [value])) != NONE

    def narrow(self, choice: Choice) -> None:
        """Leave only the variants that agree with a choice."""
        self.built = self.both(self.built, self.cube(choice))

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
        answer = _both(a, b)
        return VariantSet(self._apply((a, b), _both, self._meets) if answer is None else answer)

    def either(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` or in `b`."""
        answer = _either(a, b)
        return VariantSet(self._apply((a, b), _either, self._joins) if answer is None else answer)

    def without(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` that are not in `b`."""
        answer = _without(a, b)
        return VariantSet(self._apply((a, b), _without, self._lacks) if answer is None else answer)

    def _apply(self, wanted: _Pair, plain: _Plain, known: dict[_Pair, int]) -> int:
        """Work an operation out from the top row down; with a stack of its own, so that no depth is too much."""
        if wanted in known:
            return known[wanted]
        stack = [wanted]
        while stack:
            pair = stack[-1]
            place, pairs = self._split(*pair)
            children = []
            waiting = False
            for child in pairs:
                answer = plain(*child)
                if answer is None:
                    answer = known.get(child)
                    if answer is None:
                        stack.append(child)
                        waiting = True
                        continue
                children.append(answer)
            if not waiting:
                known[pair] = self._row(place, tuple(children))
                stack.pop()
        return known[wanted]

    def _split(self, a: int, b: int) -> tuple[int, list[_Pair]]:
        """Return the higher of two rows' questions, and what is left of both sets for each answer."""
        place_a, children_a = self._rows[a]
        place_b, children_b = self._rows[b]
        if place_a == place_b:
            return place_a, list(zip(children_a, children_b, strict=True))
        if place_a > place_b:
            return place_a, [(child, b) for child in children_a]
        return place_b, [(a, child) for child in children_b]

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

        `among` is all that were built when it is not given. The answer is empty when all of them lie in `wanted`. Of
        equally few, options come before questions. `wanted` must hold a variant of `among`, else `ValueError`. It is
        exact as long as the search stays small (`_PATIENCE`); beyond that, none of its parts can be left out.
        """
        among = self.built if among is None else self.both(among, self.built)
        wanted = self.both(wanted, among)
        if wanted == NONE:
            raise ValueError("the set is empty")
        shown = self.either(wanted, self.without(ALL, among))
        choice = self._shortened(self._any(wanted), wanted, among)
        if self._depth(shown) <= _DEEPEST:
            for size in range(len(choice) + 1):
                search = _Search(self)
                found = search.choice(shown, wanted, size)
                if search.tired:
                    break
                if found is not None:
                    return tuple((self.names[place], self.choices[place][branch]) for place, branch in reversed(found))
        return choice

    def _shortened(self, choice: Choice, wanted: VariantSet, among: VariantSet) -> Choice:
        """Leave out what can be left out, the newest questions first: many at once while that goes."""
        chunks = [choice]
        while chunks:
            chunk = chunks.pop()
            shorter = tuple(literal for literal in choice if literal not in chunk)
            if self.within(self.both(self.cube(shorter), among), wanted):
                choice = shorter
            elif len(chunk) > 1:
                middle = len(chunk) // 2
                chunks += [chunk[:middle], chunk[middle:]]
        return choice

    def _any(self, node: int) -> Choice:
        """Return the choices that lead to one variant of a set that has some."""
        way: list[tuple[str, str]] = []
        while node != ALL:
            place, children = self._rows[node]
            branch = next(branch for branch, child in enumerate(children) if child != NONE)
            way.append((self.names[place], self.choices[place][branch]))
            node = children[branch]
        return tuple(reversed(way))

    def _depth(self, node: int) -> int:
        """Return an upper bound of the questions that one way through a set meets."""
        return self._rows[node][0] + 1


class _Search:
    """The shortest choice, found by leaving out or answering one question after the other."""

    def __init__(self, space: Space) -> None:
        self.space = space
        self.failed: dict[tuple[int, int], int] = {}
        self.tired = False

    def choice(self, shown: int, wanted: int, size: int) -> list[tuple[int, int]] | None:
        """Return at most `size` answers after which all lies in `shown` and some of it in `wanted`."""
        if wanted == NONE or shown == NONE:
            return None
        if shown == ALL:
            return []
        if self.failed.get((shown, wanted), -1) >= size or self.tired:
            return None
        place = max(self.space._rows[shown][0], self.space._rows[wanted][0])
        shown_by, wanted_by = self._answers(shown, place), self._answers(wanted, place)
        every, some = ALL, NONE
        for one, other in zip(shown_by, wanted_by, strict=True):
            every, some = self.space.both(every, VariantSet(one)), self.space.either(some, VariantSet(other))
        found = self.choice(every, some, size)
        if found is not None:
            return found
        if size:
            for branch, (one, other) in enumerate(zip(shown_by, wanted_by, strict=True)):
                found = self.choice(one, other, size - 1)
                if found is not None:
                    return [(place, branch), *found]
        self.failed[shown, wanted] = size
        self.tired = self.tired or len(self.failed) > _PATIENCE
        return None

    def _answers(self, node: int, place: int) -> tuple[int, ...]:
        own, children = self.space._rows[node]
        return children if own == place else (node,) * len(self.space.choices[place])


def _both(a: int, b: int) -> int | None:
    if a == b or b == ALL:
        return a
    if a == ALL:
        return b
    return NONE if a == NONE or b == NONE else None


def _either(a: int, b: int) -> int | None:
    if a == b or b == NONE:
        return a
    if a == NONE:
        return b
    return ALL if a == ALL or b == ALL else None


def _without(a: int, b: int) -> int | None:
    if b == NONE or a == NONE:
        return a
    return NONE if a == b or b == ALL else None
