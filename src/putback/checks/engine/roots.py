"""Faults that come of the same: the first of a job is told, and the others say nothing more.

Two faults come of the same when one thing that is not as they need it makes both; when both show that one block is done
where it does not fit; when one block that is not done at all, or not reversed, would have brought about what both need.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import compress
from typing import TypeAlias

from putback.checks.engine.form import Fault, Root
from putback.checks.engine.known import KnownCheck
from putback.ledger import Book, Entry
from putback.ledger.closing import is_whole_in
from putback.ledger.opened import Opened
from putback.model.job import Block
from putback.model.machine import Control
from putback.model.verbs.blocks import Do, Reverse
from putback.variants import NONE, EntangledError, VariantSet

_AT_END = "as it was"
"""How a thing is wanted at the end."""
_LEFT = "as the block says"
"""How a thing is wanted that a block has under `ends-with`."""

_Key: TypeAlias = tuple[str, object, str, int]


def at_end(book: Book, account: str, entry: Entry | None = None) -> Root:
    """Return what a fault of the end comes of: things, with commas between, and the entry that made them so."""
    return Root(book.sequence.path, account, _AT_END, entry.index if entry else -1, len(book.entries))


def leaving(book: Book, account: str) -> Root:
    """Return what it comes of that a block leaves something as it was."""
    return Root(book.sequence.path, account, _LEFT, -1, len(book.entries))


def without_consequences(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> list[tuple[KnownCheck, Fault]]:
    """Leave out faults that come of the same as an earlier one of their job, in variants in which that one is told."""
    rooted = [(fault.root, number) for number, (_, fault) in enumerate(found) if fault.root is not None]
    if not rooted:
        return found
    silent = _waived(opened)
    speaking = [check.name not in silent for check, _ in found]
    told, left_out = _Told(opened, _of_blocks(list(compress(found, speaking)), opened)), set[int]()

    def later(each: tuple[Root, int]) -> tuple[bool, int, int]:
        root, number = each
        return root.follows or not speaking[number], root.at, number

    for root, number in sorted(rooted, key=later):
        if told.covers(root, found[number][1].variants, speaks=speaking[number] and not root.follows):
            left_out.add(number)
    return [each for number, each in enumerate(found) if number not in left_out]


def _waived(opened: Opened) -> set[str]:
    """Return the checks of which something is waived somewhere: what nobody sees must not stand for anything else."""
    guide = opened.guide
    sequences = [*guide.sequences(), *guide.library.blocks.values()]
    found = [*(guide.cover.waive if guide.cover else ()), *(one for each in sequences for one in each.waive)]
    found += [one for each in sequences for step in each.steps() for one in step.waive]
    return {one.check.name for one in found}


@dataclass(slots=True)
class _Told:
    """What was told of each job so far."""

    opened: Opened
    """The guide."""
    of_blocks: dict[tuple[str, str], list[VariantSet | None]]
    """What is told at the blocks that a job does, by job and thing."""
    known: dict[_Key, list[VariantSet | None]] = field(default_factory=dict)
    """The variants of what was told, by what it comes of."""

    def covers(self, root: Root, variants: VariantSet | None, *, speaks: bool) -> bool:
        """Tell whether a fault comes of what was told; one that speaks for others is noted."""
        book = next((book for book in self.opened.books if book.sequence.path == root.path), None)
        keys = list(self._keys(root, book)) if book is not None else []
        try:
            covered = any(_covers(self.known.get(key, []), variants, self.opened) for key in keys) or all(
                _covers(self.of_blocks.get((root.path, name), []), variants, self.opened)
                for name in root.account.split(",")
            )
        except EntangledError:
            covered = False
        for key in keys if speaks else ():
            self.known.setdefault(key, []).append(variants)
        return covered

    def _keys(self, root: Root, book: Book) -> Iterator[_Key]:
        """Yield what two faults have in common that come of the same."""
        if root.wanted not in (_AT_END, _LEFT):
            yield root.path, root.account, root.wanted, root.since
        entry = book.by(root.at) if root.at < len(book.entries) else None
        if root.misfit and entry is not None and entry.via:
            yield root.path, entry.via[0].key, "misfit", -1
        if root.wanted == _AT_END:
            names = set(root.account.split(","))
            for path, span, what, number in list(self.known):
                if path == root.path and what == "misfit" and names <= _things_of(book, span):
                    yield path, span, what, number
        away = _is_away(root, book)
        if not away and root.since >= 0:
            # Back before it is needed, it is back at the end as well.
            yield from ((root.path, name, _AT_END, root.since) for name in root.account.split(","))
        for block in self._blocks(root, book, away=away):
            if all(is_whole_in(book, name, entry) is away for name in _moved(block)):
                yield root.path, block.key, "not done" if away else "not reversed", -1

    def _blocks(self, root: Root, book: Book, *, away: bool) -> Iterator[Block]:
        """Yield the blocks of which one step more, a `do` or a `reverse`, would have made it as it is wanted."""
        since = book.by(root.since) if root.since < len(book.entries) else None
        via = {ref.name: type(step.action) for step in since.via for ref in step.things} if since else {}
        names = set(root.account.split(","))
        for key, block in self.opened.nesting.blocks.items():
            turned = via.get(key)
            possible = since is None or turned is Reverse if away else turned is Do
            if possible and block.path != root.path and names <= _moved(block):
                yield block


def _is_away(root: Root, book: Book) -> bool:
    """Tell whether a thing is wanted otherwise than on a whole machine: off, placed, not normal."""
    thing = book.graph.machine.things.get(root.account)
    if root.wanted in (_AT_END, _LEFT):
        return root.wanted == _LEFT
    if isinstance(thing, Control):
        return root.wanted != thing.normal.name
    return root.wanted in ("off", "loose", "empty", "placed")


def _moved(block: Block) -> set[str]:
    """Return what a block leaves otherwise than it finds it."""
    return {ref.name for ref in block.ends_with} - {ref.name for ref in block.begins_with}


def _things_of(book: Book, span: object) -> set[str]:
    """Return the things and equipment that a `do` or `reverse` of a job works on."""
    return {entry.target.name for entry in book.entries if entry.via and entry.via[0].key == span and entry.target}


def _of_blocks(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> dict[tuple[str, str], list[VariantSet | None]]:
    """Return the variants in which a block that a job does leaves a thing as it should not, by job and thing.

    It is told at the block, and what comes of it in the jobs says nothing more.
    """
    nesting, result = opened.nesting, dict[tuple[str, str], list[VariantSet | None]]()
    ends = [(fault.root, fault.variants) for _, fault in found if fault.root and fault.root.wanted in (_AT_END, _LEFT)]
    blocks = {block.path: key for key, block in nesting.blocks.items()}
    for root, variants in ends:
        doing = {blocks[root.path]} if root.path in blocks and not root.follows else set()
        for sequence in opened.guide.sequences() if doing else ():
            if sequence.path != root.path and not doing.isdisjoint(nesting.reached(sequence)):
                for name in root.account.split(","):
                    result.setdefault((sequence.path, name), []).append(variants)
    return result


def _covers(ones: list[VariantSet | None], other: VariantSet | None, opened: Opened) -> bool:
    """Tell whether what holds in the variants of some holds in all of those of another."""
    if None in ones:
        return True
    if other is None or not ones or opened.graph is None:
        return False
    left = other
    for one in ones:
        left = opened.graph.space.without(left, one or NONE)
    return left == NONE
