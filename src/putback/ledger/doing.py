"""Every time that a block is done or reversed in a job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.job import Block, Step
from putback.model.terms import Ref
from putback.model.verbs.blocks import Do, Reverse
from putback.source.span import Span


class Doing(NamedTuple):
    """A block, done or reversed once."""

    step: Step
    """The `do` or `reverse` step."""
    ref: Ref
    """The name of the block in it."""
    block: Block
    """The block."""
    entries: list[Entry]
    """What is done, in order."""

    @property
    def backwards(self) -> bool:
        """Whether it is reversed."""
        return isinstance(self.step.action, Reverse)

    @property
    def chain(self) -> tuple[Span, ...]:
        """The places of the steps that led there, its own the last."""
        keys = []
        for step in self.entries[0].via:
            keys.append(step.key)
            if step is self.step:
                break
        return tuple(keys)


def runs(book: Book) -> Iterator[Doing]:
    """Yield every block that is done or reversed from its first step on, the outer ones first."""
    firsts: dict[tuple[int, ...], int] = {}
    doing: list[Doing] = []
    found: list[Doing] = []
    for entry in book.entries:
        depth = 0
        while depth < min(len(doing), len(entry.via)) and _goes_on(doing[depth], entry, depth, book):
            depth += 1
        del doing[depth:]
        for level in range(depth, len(entry.via)):
            ref = _name_of(entry, level, book)
            if ref is None:
                break
            run = Doing(entry.via[level], ref, book.library.blocks[ref.name], [])
            doing.append(run)
            key = (*map(id, entry.via[: level + 1]), ref.span.column, ref.span.line)
            if firsts.setdefault(key, entry.order) >= entry.order:
                found.append(run)
        for run in doing:
            run.entries.append(entry)
    yield from found


def _goes_on(run: Doing, entry: Entry, level: int, book: Book) -> bool:
    # For each place, a step is written out once more: the same place in the file, and another step.
    same = run.step is entry.via[level] and run.entries[-1].order <= entry.order
    return same and (len(run.step.things) == 1 or run.ref == _name_of(entry, level, book))


def _name_of(entry: Entry, level: int, book: Book) -> Ref | None:
    """Return the name of the block that an entry is in, so many blocks deep."""
    step = entry.via[level]
    path = (entry.via[level + 1] if level + 1 < len(entry.via) else entry.step).key.path
    for ref in step.things:
        block = book.library.blocks.get(ref.name)
        if block is None:
            continue
        # The way back of a block is written out together with those of the blocks in it.
        if block.path == path or (isinstance(step.action, Reverse) and path in _files(block, book)):
            return ref
    return None


def _files(block: Block, book: Book) -> set[str]:
    """Return the files of a block and of the blocks that it does."""
    found, waiting = {block.path}, [block]
    while waiting:
        for step in waiting.pop().steps():
            for ref in step.things if isinstance(step.action, Do | Reverse) else ():
                inner = book.library.blocks.get(ref.name)
                if inner is not None and inner.path not in found:
                    found.add(inner.path)
                    waiting.append(inner)
    return found
