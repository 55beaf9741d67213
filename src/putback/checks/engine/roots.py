"""Faults that come of the same: the first of a job is told, and the others say nothing more."""

from __future__ import annotations

from putback.checks.engine.form import Fault, Root
from putback.checks.engine.known import KnownCheck
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.variants import NONE, EntangledError, VariantSet

_AT_END = "as it was"
"""How a thing is wanted at the end, or as a block says."""


def at_end(book: Book, account: str) -> Root:
    """Return what a fault of the end comes of."""
    return Root(book.sequence.path, account, _AT_END, -1, len(book.entries))


def without_consequences(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> list[tuple[KnownCheck, Fault]]:
    """Leave out faults that come of the same as an earlier one of their job, in variants in which that one is told."""
    told: dict[tuple[str, str, str, int], list[VariantSet | None]] = {}
    left_out: set[int] = set()
    rooted = [(fault.root, number) for number, (_, fault) in enumerate(found) if fault.root is not None]
    of_blocks = _of_blocks(found, opened)
    for root, number in sorted(rooted, key=lambda each: (each[0].at, each[1])):
        variants, before = found[number][1].variants, told.setdefault(root.key, [])
        others = of_blocks.get((root.path, root.account), [])
        if root.wanted != _AT_END:
            others = [*others, *before]
        try:
            covered = any(_covers(other, variants, opened) for other in others)
        except EntangledError:
            covered = False
        if covered:
            left_out.add(number)
        else:
            before.append(variants)
    return [each for number, each in enumerate(found) if number not in left_out]


def _of_blocks(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> dict[tuple[str, str], list[VariantSet | None]]:
    """Return the variants in which a block that a job does leaves a thing as it should not, by job and thing.

    It is told at the block, and what comes of it in the jobs says nothing more.
    """
    nesting, result = opened.nesting, dict[tuple[str, str], list[VariantSet | None]]()
    ends = [(fault.root, fault.variants) for _, fault in found if fault.root and fault.root.wanted == _AT_END]
    blocks = {block.path: key for key, block in nesting.blocks.items()}
    for root, variants in ends:
        doing = {blocks[root.path]} if root.path in blocks else set()
        for sequence in opened.guide.sequences() if doing else ():
            if sequence.path != root.path and not doing.isdisjoint(nesting.reached(sequence)):
                result.setdefault((sequence.path, root.account), []).append(variants)
    return result


def _covers(one: VariantSet | None, other: VariantSet | None, opened: Opened) -> bool:
    """Tell whether what holds in the variants of one holds in all of those of the other."""
    if one is None or opened.graph is None:
        return one is None
    return other is not None and opened.graph.space.without(other, one) == NONE
