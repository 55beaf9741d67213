"""How many steps a job has when its blocks are written out, without writing them out.

Two blocks that each do two others are soon more steps than anybody can do: such a job is told, and not walked.
"""

from __future__ import annotations

from collections.abc import Mapping

from putback.model.job import Block, Sequence
from putback.model.terms import Ref, likely
from putback.model.verbs.blocks import Do, Reverse

MOST_STEPS = 10_000
"""Steps of the longest job that is walked: ten times as many as those of a complete overhaul."""


class Lengths:
    """The lengths of jobs and blocks, each worked out once."""

    def __init__(self, blocks: Mapping[str, Block]) -> None:
        """Take the blocks that steps can do, by name."""
        self.blocks = blocks
        self._of_block: dict[str, int] = {}

    def of(self, sequence: Sequence) -> int:
        """Return the number of steps; of a block that leads into itself, once round."""
        waiting = [name for name, _ in self.done_by(sequence)]
        begun: set[str] = set()
        while waiting:
            name = waiting[-1]
            inner = [name for name, _ in self.done_by(self.blocks[name]) if name not in self._of_block]
            if name in begun or name in self._of_block:
                waiting.pop()
                self._of_block.setdefault(name, self._sum(self.blocks[name]))
                continue
            begun.add(name)
            waiting += [other for other in inner if other not in begun]
        return self._sum(sequence)

    def longest(self, sequence: Sequence) -> Ref | None:
        """Return the name, in a step of the sequence, of the block that makes most of its length."""
        done = self.done_by(sequence)
        return max(done, key=lambda each: self._of_block.get(each[0], 0))[1] if done else None

    def too_long(self, sequence: Sequence) -> bool:
        """Tell whether a sequence is too long to be walked."""
        return self.of(sequence) > MOST_STEPS

    def done_by(self, sequence: Sequence) -> list[tuple[str, Ref]]:
        """Return the blocks that a sequence does or reverses, each with the name in the step."""
        found = []
        for step in sequence.steps():
            for written in step.things if isinstance(step.action, Do | Reverse) else ():
                ref = likely(written, self.blocks)
                if ref.name in self.blocks:
                    found.append((ref.name, written))
        return found

    def _sum(self, sequence: Sequence) -> int:
        own = sum(not isinstance(step.action, Do | Reverse) for step in sequence.steps())
        return own + sum(self._of_block.get(name, 0) for name, _ in self.done_by(sequence))
