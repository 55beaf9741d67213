"""Sets of variants and ways, folded into one table of rows that a script can walk.

Only what is used is in it. Options that have been chosen already are left out; so is the difference between all
machines that were built and all machines.
"""

from __future__ import annotations

from collections.abc import Mapping

from putback.variants import ALL, NONE, Space, VariantSet


class Diagram:
    """A table of rows, that grows as sets are asked for."""

    def __init__(self, space: Space, fixed: Mapping[str, str]) -> None:
        """Take a space, and the choices that have been made."""
        self.space = space
        self.fixed = fixed
        self.rows: list[tuple[int, tuple[int, ...]]] = []
        """The number of a question of the space, and what is left of the set for each answer: a number of `set`."""
        self._known: dict[int, int] = {NONE: 0, ALL: 1}
        self._unique: dict[tuple[int, tuple[int, ...]], int] = {}
        self._whole: dict[int, bool] = {}

    def set(self, variants: VariantSet) -> int:
        """Return the number of a set: 0 is none, 1 all that were built, and from 2 on the rows in order."""
        if variants not in self._whole:
            self._whole[variants] = self.space.within(self.space.built, variants)
        return 1 if self._whole[variants] else self.folded(variants)

    def folded(self, variants: VariantSet) -> int:
        """Return the number of a set as it is, with the chosen options left out."""
        stack = [variants]
        while stack:
            node = stack[-1]
            if node in self._known:
                stack.pop()
                continue
            place = self.space.place_of(node)
            children = self.space.answers(node, place)
            chosen = self.fixed.get(self.space.names[place])
            if chosen is not None:
                children = (children[self.space.choices[place].index(chosen)],)
            waiting = [child for child in children if child not in self._known]
            if waiting:
                stack += waiting
                continue
            self._known[node] = self._row(place, tuple(self._known[child] for child in children))
            stack.pop()
        return self._known[variants]

    def _row(self, place: int, children: tuple[int, ...]) -> int:
        if children.count(children[0]) == len(children):
            return children[0]
        key = (place, children)
        if key not in self._unique:
            self.rows.append(key)
            self._unique[key] = len(self.rows) + 1
        return self._unique[key]
