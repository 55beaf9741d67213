"""Sets of variants, as decision diagrams.

A variant is one choice for every option of a machine. What a step does, it does in a set of variants; the ledger
asks of such sets whether they are empty, and what the smallest choice is that lies in one. A set is a whole
number that stands for a shared diagram (Bryant, "Graph-Based Algorithms for Boolean Function Manipulation",
IEEE Trans. Computers C-35, 1986, here with as many branches as an option has choices), so equal sets are equal
numbers, and options that never meet on one thing never multiply.

An inspection that can go either way is one more question with two answers: `Space.ask` adds it. The newest question is
asked first, so that a set that meets a new one grows by one row, and not by a copy of all its rows. One that only some
variants come to is asked just above the options that these differ in: else all such questions would lie above all such
options, and every way through the former would need the latter anew.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import TypeAlias

from putback.variants.fewest import any_way, fewest
from putback.variants.sets import (
    ALL,
    NONE,
    Choice,
    EntangledError,
    VariantSet,
    plain_both,
    plain_either,
    plain_without,
)

_Pair: TypeAlias = tuple[int, int]
_Plain: TypeAlias = Callable[[int, int], int | None]
"""The answer of an operation where it needs no rows; else None."""

ALLOWANCE = 250_000
"""Pairs of rows that a space may work out before more are allowed: about a second, and 100 MiB."""

WIDE = 32
"""Choices of an option from which on a pair of its rows counts as several."""

_Level: TypeAlias = tuple[int, int]
"""Where a question lies in the diagram: above an option of this number (the last, for most), and its own number."""


class Space:
    """The options of a machine, and algebra on sets of its variants."""

    def __init__(self, options: Mapping[str, Sequence[str]] | None = None, order: Sequence[str] = ()) -> None:
        """Make a space; `order` has the options as they lie in the diagram, from the bottom (else as declared)."""
        self.names: list[str] = []
        self.choices: list[tuple[str, ...]] = []
        self.built = ALL
        """The variants that exist: all but those excluded."""
        self._place: dict[str, int] = {}
        self._levels: dict[int, _Level] = {-1: (-1, -1)}
        self._rows: list[tuple[int, tuple[int, ...]]] = [(-1, ()), (-1, ())]
        self._unique: dict[tuple[int, tuple[int, ...]], int] = {}
        self._meets: dict[_Pair, int] = {}
        self._joins: dict[_Pair, int] = {}
        self._lacks: dict[_Pair, int] = {}
        self._forgotten: dict[int, int] = {}
        self._good: dict[int, int] = {}
        self._times: dict[str, int] = {}
        self.stands_for: dict[int, dict[str, str]] = {}
        """By the number of a question that stands for a whole way: the answers that led there."""
        self._left = ALLOWANCE
        declared = options or {}
        self.declared = list(declared)
        """The options in the order of the file."""
        for name in order or declared:
            self._add(name, tuple(declared[name]), len(self.names))
        self._options = len(self.names)

    def _add(self, name: str, values: tuple[str, ...], above: int) -> None:
        self._place[name] = len(self.names)
        self._levels[len(self.names)] = (above, len(self.names))
        self.names.append(name)
        self.choices.append(values)

    def variants_of(self, ways: VariantSet) -> VariantSet:
        """Return the variants in which some answer to the questions lies in `ways`."""
        stack: list[int] = [ways]
        while stack:
            node = stack[-1]
            place, children = self._rows[node]
            waiting = [child for child in children if child not in self._forgotten]
            if waiting:
                stack += waiting
                continue
            left = [VariantSet(self._forgotten[child]) for child in children]
            if place < self._options:
                self._forgotten[node] = self._row(place, tuple(left)) if left else node
            else:
                found = NONE
                for each in left:
                    found = self.either(found, each)
                self._forgotten[node] = found
            stack.pop()
        return VariantSet(self._forgotten[ways])

    def answered(self, ways: VariantSet, yes: Collection[int] = ()) -> VariantSet:
        """Return the variants that lie in `ways` when these questions have the answer yes, and all others no.

        With none, that is the way on which every inspection is good.
        """
        known = {} if yes else self._good
        stack: list[int] = [ways]
        while stack:
            node = stack[-1]
            place, children = self._rows[node]
            if place >= self._options:
                children = (children[0 if place in yes else 1],)
            waiting = [child for child in children if child not in known]
            if waiting:
                stack += waiting
                continue
            left = tuple(known[child] for child in children)
            known[node] = node if not left else left[0] if place >= self._options else self._row(place, left)
            stack.pop()
        return VariantSet(known[ways])

    def ask(self, question: str, *among: VariantSet) -> tuple[VariantSet, VariantSet]:
        """Add a question with the answers yes and no; return the set where it is yes, and where it is no.

        It lies above all that `among` depends on: variants that come to it, or those that something is done in then.
        """
        number = self._times[question] = self._times.get(question, 0) + 1
        if number > 1:
            question = f"{question} ({number})"
        place = self.place_of(*among)
        self._add(question, ("yes", "no"), self._levels[place][0] if place >= 0 else self._options)
        return self.chosen(question, ["yes"]), self.chosen(question, ["no"])

    def go_on(self, ways: VariantSet, variants: VariantSet) -> VariantSet:
        """Return some variants of some ways, as one way of its own.

        One new question stands for all answers that led there, so that what comes after does not grow with them; in a
        choice it is written out again.
        """
        said: dict[str, str] = {}
        for place, branch in any_way(self, self.both(ways, variants)):
            if place in self.stands_for:
                said |= self.stands_for[place]
            elif place >= self._options and self.choices[place][branch] == "yes":
                said[self.names[place]] = "yes"
        self.stands_for[len(self.names)] = said
        way, _ = self.ask(f"way {len(self.names)}")
        return self.both(variants, way)

    def choices_of(self, option: str) -> tuple[str, ...]:
        """Return the choices of an option, or the answers of a question."""
        return self.choices[self._place[option]]

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
        answer = plain_both(a, b)
        if answer is None:
            answer = self._meets.get((a, b))
        return VariantSet(self._apply((a, b), plain_both, self._meets) if answer is None else answer)

    def either(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` or in `b`."""
        answer = plain_either(a, b)
        if answer is None:
            answer = self._joins.get((a, b))
        return VariantSet(self._apply((a, b), plain_either, self._joins) if answer is None else answer)

    def without(self, a: VariantSet, b: VariantSet) -> VariantSet:
        """Return the variants in `a` that are not in `b`."""
        answer = plain_without(a, b)
        if answer is None:
            answer = self._lacks.get((a, b))
        return VariantSet(self._apply((a, b), plain_without, self._lacks) if answer is None else answer)

    def _apply(self, wanted: _Pair, plain: _Plain, known: dict[_Pair, int]) -> int:
        """Work an operation out from the top row down; with a stack of its own, so that no depth is too much."""
        stack = [(wanted, *self._split(*wanted))]
        while stack:
            pair, place, pairs = stack[-1]
            children = []
            waiting = False
            for child in pairs:
                answer = plain(*child)
                if answer is None:
                    answer = known.get(child)
                    if answer is None:
                        stack.append((child, *self._split(*child)))
                        waiting = True
                        continue
                children.append(answer)
            if not waiting:
                known[pair] = self._row(place, tuple(children))
                stack.pop()
                self._left -= max(1, len(children) // WIDE)
                if self._left < 0:
                    raise EntangledError
        return known[wanted]

    def _split(self, a: int, b: int) -> tuple[int, list[_Pair]]:
        """Return the higher of two rows' questions, and what is left of both sets for each answer."""
        place_a, children_a = self._rows[a]
        place_b, children_b = self._rows[b]
        if place_a == place_b:
            return place_a, list(zip(children_a, children_b, strict=True))
        if self._levels[place_a] > self._levels[place_b]:
            return place_a, [(child, b) for child in children_a]
        return place_b, [(a, child) for child in children_b]

    def within(self, a: VariantSet, b: VariantSet) -> bool:
        """Tell whether every variant of `a` is in `b`."""
        return self.without(a, b) == NONE

    def allow(self, pairs: int) -> None:
        """Let so many more pairs of rows be worked out before `EntangledError`."""
        self._left += pairs

    def cube(self, choice: Choice) -> VariantSet:
        """Return the variants that agree with a choice."""
        result: int = ALL
        literals = [self._literal(option, value) for option, value in choice]
        if any(branch < 0 for _, branch in literals):
            return NONE
        for place, branch in sorted(literals, key=lambda literal: self._levels[literal[0]]):
            result = self._row(place, tuple(result if n == branch else NONE for n in range(len(self.choices[place]))))
        return VariantSet(result)

    def _literal(self, option: str, value: str) -> tuple[int, int]:
        place = self._place.get(option, -1)
        known = place >= 0 and value in self.choices[place]
        return place, self.choices[place].index(value) if known else -1

    def smallest(self, wanted: VariantSet, among: VariantSet | None = None) -> Choice:
        """Return the fewest choices after which every variant lies in `wanted`, of those in `among`.

        `among` is all that were built when it is not given. The answer is empty when all of them lie in `wanted`. Of
        equally few, options come before questions. `wanted` must hold a variant of `among`, else `ValueError`. It is
        exact as long as the search stays small; beyond that, none of its parts can be left out.
        """
        among = self.built if among is None else self.both(among, self.built)
        wanted = self.both(wanted, among)
        if wanted == NONE:
            raise ValueError("the set is empty")
        found: dict[str, str] = {}
        for place in [place for place in self.stands_for if self.within(wanted, self._yes(place))]:
            # What others have in common with this way tells nothing about it.
            found |= self.stands_for[place]
            among = self.without(self.both(among, self._yes(place)), self._given(among, place, 1))
            wanted = self.both(wanted, among) or wanted
            among = self.either(among, wanted)
        for place, branch in sorted(fewest(self, wanted, among)):
            found |= self.stands_for.get(place, {self.names[place]: self.choices[place][branch]})
        order = {name: number for number, name in enumerate(self.declared)}
        # Questions come after options, in the order in which they were asked.
        return tuple(sorted(found.items(), key=lambda item: order.get(item[0], len(order))))

    def _yes(self, place: int) -> VariantSet:
        return self.chosen(self.names[place], ["yes"])

    def _given(self, variants: VariantSet, place: int, branch: int) -> VariantSet:
        """Return a set as it is when one question has one answer, and whatever that answer is after that."""
        known: dict[int, int] = {}
        stack: list[int] = [variants]
        while stack:
            node = stack[-1]
            own, children = self._rows[node]
            if self._levels[own] <= self._levels[place]:
                known[node] = children[branch] if own == place else node
                stack.pop()
                continue
            waiting = [child for child in children if child not in known]
            if waiting:
                stack += waiting
                continue
            known[node] = self._row(own, tuple(known[child] for child in children))
            stack.pop()
        return VariantSet(known[variants])

    def place_of(self, *sets: VariantSet) -> int:
        """Return the number of the highest question that some of these sets depend on; -1 for none."""
        return max((self._rows[variants][0] for variants in sets), key=self._levels.__getitem__, default=-1)

    def height(self, place: int) -> tuple[int, int]:
        """Return what questions are sorted by, from the bottom of the diagram to its top."""
        return self._levels[place]

    def options_of(self, variants: VariantSet) -> set[str]:
        """Return the options and questions that a set depends on."""
        seen, stack, found = {int(variants)}, [int(variants)], set[str]()
        while stack:
            place, children = self._rows[stack.pop()]
            found |= {self.names[place]} if children else set()
            new = {child for child in children if child not in seen}
            seen |= new
            stack += new
        return found

    def depth(self, variants: VariantSet) -> int:
        """Return how many questions there are up to the highest that a set depends on."""
        highest = self._levels[self._rows[variants][0]]
        return sum(level <= highest for level in self._levels.values()) - 1

    def answers(self, variants: VariantSet, place: int) -> tuple[VariantSet, ...]:
        """Return what is left of a set for each answer to a question, which must be its highest or above it."""
        own, children = self._rows[variants]
        if own == place:
            return tuple(map(VariantSet, children))
        return (variants,) * len(self.choices[place])
