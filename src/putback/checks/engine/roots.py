"""Faults that come of the same: the first of a job is told, and the others say nothing more.

Two faults come of the same when one thing that is not as they need it makes both; when both show that one block is done
where it does not fit; when one block that is not done at all, or not reversed, would have brought about what both need.
Where a block is told to be out of place, nothing is told of its steps. One that is left out itself speaks for nothing:
two faults that leave each other to speak would say nothing at all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import compress
from typing import TypeAlias

from putback.checks.engine.form import Fault, Group, Root
from putback.checks.engine.handed import handed_over
from putback.checks.engine.known import KnownCheck
from putback.ledger import Book, Entry
from putback.ledger.closing import is_whole_in
from putback.ledger.fitting import held_before, since_of
from putback.ledger.opened import Opened
from putback.model.job import Block, Step
from putback.model.machine import Control
from putback.model.states import NEVER
from putback.model.verbs.blocks import Do, Reverse
from putback.source.finding import Level
from putback.source.span import Span
from putback.variants import NONE, EntangledError, VariantSet

_AT_END = "as it was"
"""How a thing is wanted at the end."""
_LEFT = "as the block says"
"""How a thing is wanted that a block has under `ends-with`."""

_ONE_STEP = frozenset({"misfit", "not done", "not reversed"})
"""What is mended by one step, whichever way an inspection went."""

_Key: TypeAlias = tuple[str, object, str, int]


def at_end(book: Book, account: str, entry: Entry | None = None) -> Root:
    """Return what a fault of the end comes of: things, with commas between, and the entry that made them so."""
    return Root(book.sequence.path, account, _AT_END, entry.index if entry else NEVER, len(book.entries))


def leaving(book: Book, account: str) -> Root:
    """Return what it comes of that a block leaves something as it was."""
    return Root(book.sequence.path, account, _LEFT, NEVER, len(book.entries))


def without_consequences(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> list[tuple[KnownCheck, Fault]]:
    """Leave out faults that come of the same as an earlier one of their job, in variants in which that one is told."""
    rooted = [(fault.root, number) for number, (_, fault) in enumerate(found) if fault.root is not None]
    if not rooted:
        return found
    silent = _waived(opened)
    speaking = [check.name not in silent for check, _ in found]
    told, left_out = _Told(opened, _of_blocks(list(compress(found, speaking)), opened)), set[int]()

    def later(each: tuple[Root, int]) -> tuple[bool, bool, int, int]:
        root, number = each
        return root.follows or not speaking[number], _hangs(found[number][1], opened), root.at, number

    misplaced, chains, at = list[Fault](), set[tuple[Span, ...]](), set[tuple[str, int]]()
    for root, number in sorted(rooted, key=later):
        fault = found[number][1]
        if root.last:
            continue
        if told.covers(root, fault.variants, speaks=speaking[number] and not root.follows) or (
            speaking[number]
            and (
                _is_by(root, misplaced, opened)
                or root.chain in chains
                or (root.chain and (root.path, root.since) in at)
            )
        ):
            left_out.add(number)
        # What a step does that is wrong itself is not held against a block that comes after it.
        at.add((root.path, root.at))
        if root.chain and speaking[number] and number not in left_out:
            misplaced.append(fault)
            chains.add(root.chain)
    left_out |= {number for number, (_, fault) in enumerate(found) if _is_inside(fault, misplaced, opened)}
    left_out |= _of_files_with_errors(found, {number: root.path for root, number in rooted if root.last})
    found, ends = handed_over(found, left_out, opened, _files_of_errors)
    left_out |= ends
    return [each for number, each in enumerate(found) if number not in left_out]


def _of_files_with_errors(found: list[tuple[KnownCheck, Fault]], last: dict[int, str]) -> set[int]:
    """Return those that are told only of a file without errors, by number; one told elsewhere counts as well."""
    files = _files_of_errors(each for number, each in enumerate(found) if number not in last) if last else set()
    return {number for number, path in last.items() if path in files}


_OF_STEPS = (
    Group.CLOSING, Group.ORDER, Group.CLEANING, Group.SAFETY, Group.DANGERS, Group.VARIANTS, Group.NAMES, Group.WORDS,
)  # fmt: skip
"""What a step that is lost, stands elsewhere, or has a wrong name is told as."""


def _files_of_errors(found: Iterable[tuple[KnownCheck, Fault]]) -> set[str]:
    """Return the files that errors point at which a lost step may give."""
    wrong = [fault for check, fault in found if check.level is Level.ERROR and check.group in _OF_STEPS]
    return {span.path for fault in wrong for span in (fault.span, *(also.span for also in fault.also))}


def _is_by(root: Root, misplaced: list[Fault], opened: Opened) -> bool:
    """Tell whether what a fault blames was done by a block that is told to be out of place."""
    chains = [other.root.chain for other in misplaced if other.root and other.root.path == root.path]
    book = next((book for book in opened.books if book.sequence.path == root.path), None) if chains else None
    entry = book.by(root.since) if book is not None and root.since < len(book.entries) else None
    via = tuple(step.key for step in entry.via) if entry is not None else ()
    return any(via[: len(chain)] == chain for chain in chains)


def _hangs(fault: Fault, opened: Opened) -> bool:
    """Tell whether a fault is on some ways only, by how inspections went: one on all of them is told before it."""
    if fault.variants is None or opened.graph is None:
        return False
    try:
        return opened.graph.space.variants_of(fault.variants) != fault.variants
    except EntangledError:
        return True


def _is_inside(fault: Fault, misplaced: list[Fault], opened: Opened) -> bool:
    """Tell whether a fault is of a step of a block that is told to be out of place, in the variants in which it is."""
    if not misplaced:
        return False
    places = {also.span for also in fault.also}
    for other in misplaced:
        chain = other.root.chain if other.root else ()
        if (fault.root is None or fault.root.chain != chain) and places.issuperset(chain):
            try:
                if _covers([other.variants], fault.variants, opened, any_way=True):
                    return True
            except EntangledError:
                continue
    return False


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
            covered = any(self._told(key, variants) for key in keys) or any(
                # What a block leaves undone is mended there, on whatever way it is noticed.
                _covers(self.of_blocks.get((root.path, name), []), variants, self.opened, any_way=True)
                for name in root.account.split(",")
            )
        except EntangledError:
            covered = False
        for key in keys if speaks else ():
            self.known.setdefault(key, []).append(variants)
        return covered

    def _told(self, key: _Key, variants: VariantSet | None) -> bool:
        """Tell whether something with a key was told: what one step mends is mended in all variants."""
        ones = self.known.get(key, [])
        return bool(ones) and (key[2] in _ONE_STEP or _covers(ones, variants, self.opened, any_way=True))

    def _keys(self, root: Root, book: Book) -> Iterator[_Key]:
        """Yield what two faults have in common that come of the same."""
        if root.wanted not in (_AT_END, _LEFT):
            yield from _wants(root, book)
        entry = book.by(root.at) if root.at < len(book.entries) else None
        if root.misfit and entry is not None and entry.via:
            yield root.path, entry.via[0].key, "misfit", NEVER
        if root.wanted == _AT_END:
            names = set(root.account.split(","))
            for path, span, what, number in list(self.known):
                if path == root.path and what == "misfit" and names <= _things_of(book, span):
                    yield path, span, what, number
        away = _is_away(root, book)
        if not away and root.since != NEVER:
            # Back before it is needed, it is back at the end as well.
            yield from ((root.path, name, _AT_END, root.since) for name in root.account.split(","))
        for block in self._blocks(root, book, away=away):
            if all(is_whole_in(book, name, entry) is away for name in _moved(block)) or (
                not away and _never_reversed(book, block, root.since)
            ):
                yield root.path, block.key, "not done" if away else "not reversed", NEVER

    def _blocks(self, root: Root, book: Book, *, away: bool) -> Iterator[Block]:
        """Yield the blocks of which one step more, a `do` or a `reverse`, would have made it as it is wanted."""
        since = book.by(root.since) if root.since < len(book.entries) else None
        via = {ref.name: type(step.action) for step in since.via for ref in step.things} if since else {}
        names = set(root.account.split(","))
        for key, block in self.opened.nesting.blocks.items():
            turned = via.get(key)
            possible = since is None or turned is (Reverse if away else Do)
            if possible and block.path != root.path and names <= _moved(block):
                yield block


def _wants(root: Root, book: Book) -> Iterator[_Key]:
    """Yield what is wanted of each thing, and since when it is not so: a block can want several."""
    names, wanted = root.account.split(","), root.wanted.split(",")
    if len(names) == 1 or len(names) != len(wanted):
        yield root.path, root.account, root.wanted, root.since
        return
    entry = book.by(root.at) if root.at < len(book.entries) else None
    for name, how in zip(names, wanted, strict=True):
        if entry is None:
            yield root.path, name, how, root.since
            continue
        away = how == ("off" if name in book.graph.machine.things else "placed")
        for state in {state for _, state in held_before(book, name, entry)}:
            yield root.path, name, how, since_of(state, away=away)


def _is_away(root: Root, book: Book) -> bool:
    """Tell whether a thing is wanted otherwise than on a whole machine: off, placed, not normal."""
    thing, wanted = book.graph.machine.things.get(root.account.split(",")[0]), root.wanted.split(",")[0]
    if wanted in (_AT_END, _LEFT):
        return wanted == _LEFT
    if isinstance(thing, Control):
        return wanted != thing.normal.name
    return wanted in ("off", "loose", "empty", "placed")


def _moved(block: Block) -> set[str]:
    """Return what a block leaves otherwise than it finds it."""
    return {ref.name for ref in block.ends_with} - {ref.name for ref in block.begins_with}


def _never_reversed(book: Book, block: Block, since: int) -> bool:
    """Tell whether a block that was done at an entry is not reversed after it."""
    done = book.by(since) if since < len(book.entries) else None
    later = book.entries[since:] if done is not None and any(block.key in _named(step, Do) for step in done.via) else []
    return bool(later) and not any(block.key in _named(step, Reverse) for entry in later for step in entry.via)


def _named(step: Step, verb: type[Do | Reverse]) -> set[str]:
    return {ref.name for ref in step.things} if isinstance(step.action, verb) else set()


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


def _covers(ones: list[VariantSet | None], other: VariantSet | None, opened: Opened, *, any_way: bool = False) -> bool:
    """Tell whether what holds in the variants of some holds in all of those of another, or on any way there."""
    if None in ones:
        return True
    if not ones or opened.graph is None:
        return False
    space = opened.graph.space
    left = space.built if other is None else space.variants_of(other) if any_way else other
    for one in ones:
        left = space.without(left, space.variants_of(one) if any_way and one else one or NONE)
    return left == NONE
