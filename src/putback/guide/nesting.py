"""What does what: jobs and blocks, and the blocks that they do or reverse, also in an `otherwise`.

Whoever writes a job out follows these links, so that they must come to an end: no block may lead into itself, and
none may lie too deep. This is found out here, before anything is written out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from putback.model.job import Block, Sequence, Step
from putback.model.library import Library
from putback.model.terms import Ref
from putback.model.verbs.blocks import Do, Reverse
from putback.source.nearest import nearest

DEEPEST_BLOCKS = 100
"""How deep blocks may lie in each other; an `otherwise` around a `do` counts as one more. Earnest guides need three."""


class Link(NamedTuple):
    """One `do` or `reverse` of a block."""

    ref: Ref
    """The name as written."""
    block: str
    """The block that is meant: the one of that name, or the nearest to a misspelt one, as the ledger takes it."""
    levels: int
    """How much deeper the block lies: 1, and 1 for each `otherwise` or `outcomes` around it."""


def links_of(sequence: Sequence, blocks: Mapping[str, Block]) -> Iterator[Link]:
    """Yield what a job or block does and reverses, in the order of the file."""
    for section in sequence.sections:
        waiting: list[tuple[Step, int]] = [(step, 1) for step in reversed(section.steps)]
        while waiting:
            step, levels = waiting.pop()
            waiting += [(inner, levels + 1) for inner in reversed(step.inner)]
            if isinstance(step.action, Do | Reverse):
                for ref in step.things:
                    name = ref.name if ref.name in blocks else nearest(ref.name, blocks)
                    if name is not None:
                        yield Link(ref, name, levels)


class Nesting:
    """The links of a guide, followed once."""

    def __init__(self, own: Iterable[Sequence], library: Library) -> None:
        """Follow the links of a guide's jobs and blocks, and of all blocks of its library."""
        self.blocks = library.blocks
        self.links: dict[str, list[Link]] = {}
        """By block."""
        self.knots: set[str] = set()
        """Blocks from which some block is reached that leads into itself."""
        self.depths: dict[str, int] = {}
        """By block outside of knots: how deep blocks lie in it, itself counted."""
        self._lost: set[str] = set()
        self._library = library
        for key, block in library.blocks.items():
            self.links[key] = list(links_of(block, library.blocks))
        self._settle()
        self.own = list(own)

    def _settle(self) -> None:
        """Take blocks away whose links are all settled, again and again: what is left leads round."""
        users: dict[str, list[str]] = {}
        count: dict[str, int] = {}
        for key, links in self.links.items():
            inner = {link.block for link in links}
            count[key] = len(inner)
            for name in inner:
                users.setdefault(name, []).append(key)
        free = [key for key, number in count.items() if not number]
        while free:
            key = free.pop()
            links = self.links[key]
            self.depths[key] = max((link.levels + self.depths[link.block] for link in links), default=1)
            if any(link.block in self._lost for link in links) or self._misses(self.blocks[key]):
                self._lost.add(key)
            for user in users.get(key, ()):
                count[user] -= 1
                if not count[user]:
                    free.append(user)
        self.knots = set(self.links) - set(self.depths)

    def _misses(self, sequence: Sequence) -> bool:
        return any(
            self._library.is_lost(ref.name)
            for step in sequence.steps()
            if isinstance(step.action, Do | Reverse)
            for ref in step.things
        )

    def sequences(self) -> list[Sequence]:
        """Return the guide's own jobs and blocks, and the shared blocks that these lead to, each once."""
        return list(self._sequences)

    @cached_property
    def _sequences(self) -> list[Sequence]:
        found = list(self.own)
        seen = {id(sequence) for sequence in found}
        for sequence in found:
            for link in self._links(sequence):
                block = self.blocks[link.block]
                if id(block) not in seen:
                    seen.add(id(block))
                    found.append(block)
        return found

    def depth(self, sequence: Sequence) -> int | None:
        """Return how deep blocks lie in a job, or in a block, itself counted; None when they lead round."""
        links = self._links(sequence)
        if any(link.block in self.knots for link in links):
            return None
        inner = max((link.levels + self.depths[link.block] - 1 for link in links), default=0)
        return inner + isinstance(sequence, Block)

    def _links(self, sequence: Sequence) -> list[Link]:
        if isinstance(sequence, Block) and self.blocks.get(sequence.key) is sequence:
            return self.links[sequence.key]
        return list(links_of(sequence, self.blocks))

    def reached(self, sequence: Sequence) -> set[str]:
        """Return the blocks that a job or block does, through others or not."""
        found: set[str] = set()
        waiting = [link.block for link in self._links(sequence)]
        while waiting:
            key = waiting.pop()
            if key not in found:
                found.add(key)
                waiting += [link.block for link in self.links[key]]
        return found

    def can_be_written_out(self, sequence: Sequence) -> bool:
        """Tell whether following a job or block comes to an end, and is not too deep."""
        depth = self.depth(sequence)
        return depth is not None and depth <= DEEPEST_BLOCKS

    def is_known(self, sequence: Sequence) -> bool:
        """Tell whether every block that a job or block leads to could be read, as far as it is written down."""
        return not self._misses(sequence) and not any(link.block in self._lost for link in self._links(sequence))

    def loops(self) -> Iterator[list[Link]]:
        """Yield the ways from a block back into itself, each set of blocks once; the guide's own blocks come first."""
        ids = {id(sequence) for sequence in self.own}
        mine = [key for key, block in self.blocks.items() if id(block) in ids]
        told: set[frozenset[str]] = set()
        for key in dict.fromkeys((*mine, *self.blocks)):
            loop = self._way_back(key) if key in self.knots else None
            if loop and (names := frozenset(link.block for link in loop)) not in told:
                told.add(names)
                yield loop

    def _way_back(self, start: str) -> list[Link] | None:
        """Return the shortest way from a block to itself; the last link leads to it."""
        came: dict[str, tuple[str, Link]] = {}
        waiting = [start]
        for key in waiting:
            for link in self.links[key]:
                if link.block == start:
                    way = [link]
                    while key != start:
                        key, before = came[key]
                        way.append(before)
                    return way[::-1]
                if link.block in self.knots and link.block not in came:
                    came[link.block] = (key, link)
                    waiting.append(link.block)
        return None

    def too_deep(self) -> tuple[int, list[Link]] | None:
        """Return how deep the deepest blocks lie, and the way down, when that is too deep."""
        deepest: tuple[int, list[Link]] | None = None
        for top in (*self.own, *self.blocks.values()):
            depth = self.depth(top) or 0
            if depth > (deepest[0] if deepest else DEEPEST_BLOCKS):
                deepest = depth, self._links(top)
        if deepest is None:
            return None
        way, links = [], deepest[1]
        while links:
            link = max(links, key=lambda each: each.levels + self.depths[each.block])
            way.append(link)
            links = self.links[link.block]
        return deepest[0], way
