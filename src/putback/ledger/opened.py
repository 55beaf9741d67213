"""A guide with everything that is worked out of it: the machine's order, and a book for each job and block.

It is made once for a run. Checks, sheets and pages read the same one, so that what is proved is what is printed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from putback.guide.chains import Chains
from putback.guide.meant import UnknownName, read_as_meant
from putback.guide.nesting import Nesting
from putback.guide.record import Guide
from putback.guide.rounds import MOST_WRITTEN
from putback.guide.written import Written, written_out
from putback.ledger.book import Book
from putback.ledger.handover import Handover, hand_over, left_by
from putback.ledger.length import Lengths
from putback.ledger.program import write_program
from putback.ledger.walk import open_book
from putback.model.job import Block, Job, Sequence
from putback.model.terms import Ref, When
from putback.model.together import joined, with_torques_of_steps
from putback.model.verbs.blocks import Do, Reverse
from putback.variants import NONE, Choice, EntangledError
from putback.variants.graph import Graph


class TooLong(NamedTuple):
    """A job or block that is too long to be walked."""

    sequence: Sequence
    """The job or block."""
    steps: int
    """How many steps it has when its blocks are written out."""
    block: Ref | None
    """The name, in one of its steps, of the block that makes most of them."""


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """A guide, opened for some variants."""

    guide: Guide
    """The guide, with misspelt names as they were meant."""
    only: Choice
    """The options that were chosen: what is checked and printed is for these. None chosen: for all variants."""
    graph: Graph | None
    """The machine's order; None when the machine file could not be used."""
    nesting: Nesting
    """Which jobs and blocks do which blocks."""
    books: tuple[Book, ...] = ()
    """The ledger of every job and block that could be walked, in the order of the guide."""
    entangled: tuple[Sequence | None, ...] = ()
    """Jobs and blocks that could not be walked, since options and inspections meet in too many ways; None for all."""
    too_long: tuple[TooLong, ...] = ()
    """Jobs and blocks that were not walked for their length, but for those that are so through another of these."""
    unknown: tuple[UnknownName, ...] = ()
    """Names that stand for nothing, or for nothing that fits."""
    written: Written | None = None
    """The guide as it was walked, with its places and counts written out; None without a machine."""
    chains: Chains = field(default_factory=lambda: Chains({}))
    """Which jobs go on from which."""
    _by_path: dict[str, Book] = field(init=False, repr=False)
    _in_place: tuple[Book, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Keep the books by file, and those that most checks look at."""
        object.__setattr__(self, "_by_path", {book.sequence.path: book for book in self.books})
        object.__setattr__(self, "_in_place", tuple(self._looked_at()))

    def book_of(self, sequence: Sequence) -> Book | None:
        """Return the ledger of a job or block; None when it could not be walked."""
        return self._by_path.get(sequence.path)

    def in_place(self) -> tuple[Book, ...]:
        """Return the books in which what comes before every step is known: jobs, and blocks that no job does.

        What a job does before a block (a caution, a mark, a closed valve) serves the block's steps too. So of a block
        that some job does, these things are looked at in the job; in the block as well where that is printed alone. A
        job that could not be read may do any of them.
        """
        return self._in_place

    def _looked_at(self) -> Iterator[Book]:
        done: set[str] = set()
        sequences: list[Sequence] = [*self.guide.jobs.values(), *self.guide.laters()]
        while sequences:
            for step in sequences.pop().steps():
                if isinstance(step.action, Do | Reverse):
                    for ref in step.things:
                        block = self.guide.library.blocks.get(ref.name)
                        if block is not None and ref.name not in done:
                            done.add(ref.name)
                            sequences.append(block)
        unsure = self.guide.misses_jobs
        for book in self.books:
            block = book.sequence if isinstance(book.sequence, Block) else None
            if block is None or block.own_page or not (unsure or block.key in done):
                yield book


def open_guide(guide: Guide, only: Choice = ()) -> Opened:
    """Work out the order of the machine and the ledger of every job and block, as far as the files allow.

    `only` are options of the machine with their choice, for variants that were built (`lint.run.chosen` sees to it).
    """
    guide, unknown = read_as_meant(guide)
    nesting = Nesting(guide.sequences(), guide.library)
    if guide.machine is None:
        return Opened(guide, only, None, nesting, unknown=unknown)
    machine = with_torques_of_steps(joined(guide.machine) if unknown else guide.machine, nesting.sequences())
    guide = replace(guide, machine=machine) if machine is not guide.machine else guide
    written = written_out(guide, machine)
    try:
        graph = Graph(written.machine, only, _conditions(guide))
        cycles = graph.cycles()
    except EntangledError:
        return Opened(guide, only, None, nesting, entangled=(None,), unknown=unknown, written=written)
    opener = _Opener(guide, nesting, graph, written)
    if graph.space.built != NONE and not cycles:
        opener.open()
    in_order = tuple(opener.books[each.path] for each in guide.sequences() if each.path in opener.books)
    entangled, too_long = tuple(opener.entangled), tuple(opener.too_long)
    return Opened(guide, only, graph, nesting, in_order, entangled, too_long, unknown, written, opener.chains)


class _Opener:
    """Walks the jobs and blocks of a guide, a job after the one that it goes on from."""

    def __init__(self, guide: Guide, nesting: Nesting, graph: Graph, written: Written) -> None:
        self.guide, self.nesting, self.graph, self.written = guide, nesting, graph, written
        self.chains = Chains(guide.jobs)
        self.books: dict[str, Book] = {}
        self.entangled: list[Sequence | None] = []
        self.too_long: list[TooLong] = []
        self.lengths = Lengths(written.library.blocks)

    def open(self) -> None:
        """Walk whatever can be walked."""
        jobs, blocks = self.guide.jobs, self.guide.blocks
        for sequence in (*map(jobs.__getitem__, self.chains.ordered()), *blocks.values(), *self.guide.laters()):
            if not self.nesting.can_be_written_out(sequence) or not self.nesting.is_known(sequence):
                continue
            if isinstance(sequence, Block) and sequence.takes:
                continue  # with which things, only a job says
            if isinstance(sequence, Job) and not self.has_start(sequence):
                continue  # with what it begins, a job says that is not there, or could not be walked
            if sequence.path in self.written.too_long:
                self.too_long.append(TooLong(sequence, MOST_WRITTEN, None))
            elif self.lengths.too_long(self.written.sequence(sequence)):
                self.note_length(sequence)
            else:
                self.walk(sequence)

    def walk(self, sequence: Sequence) -> None:
        """Walk a job or block, or note that it cannot be."""
        try:
            self.books[sequence.path] = self.walked(sequence)
        except EntangledError:
            self.entangled.append(sequence)

    def note_length(self, sequence: Sequence) -> None:
        """Note a job or block that is too long, but for one that is so through a block of this guide: told there."""
        lengths, blocks = self.lengths, self.guide.blocks
        inner = [name for name, _ in lengths.done_by(sequence) if name in blocks]
        if not any(lengths.too_long(blocks[name]) for name in inner):
            self.too_long.append(TooLong(sequence, lengths.of(sequence), lengths.longest(sequence)))

    def has_start(self, job: Job) -> bool:
        """Tell whether it is known how the machine stands when a job begins."""
        earlier = self.guide.jobs.get(self.chains.earlier.get(job.key, ""))
        if earlier is None:
            return job.after is None
        return earlier.path in self.books or bool(earlier.ends_with)

    def walked(self, sequence: Sequence) -> Book:
        """Walk a block, or a job from where the one before it left the machine."""
        graph, written, chains = self.graph, self.written, self.chains
        after, later = None, False
        if isinstance(sequence, Job):
            later = sequence.key in chains.later
            after = self.handed(chains.earlier[sequence.key]) if sequence.key in chains.earlier else None
        book = open_book(written.sequence(sequence), graph, written.library, written, after)
        book.is_last = book.is_last and not later and not sequence.ends_with
        if later and not sequence.ends_with:
            # Between two others, a job leaves what it finds when it does not say more.
            book.leaves = book.found if after is not None else frozenset(left_by(book))
        return book

    def handed(self, key: str) -> Handover:
        """Return what a job hands over to the next."""
        earlier, written = self.guide.jobs[key], self.written
        following = (written.sequence(self.guide.jobs[each]) for each in self.chains.behind(key))
        behind = (write_program(job, self.graph, written.library.blocks) for job in following)
        book = self.books.get(earlier.path)
        return hand_over(written.sequence(earlier), book, self.graph.machine, self.graph.space, behind)


def wider(opened: Opened) -> Opened:
    """Return the guide opened for all variants: only there it shows what is so in none of them."""
    return open_guide(opened.guide) if opened.only else opened


def _conditions(guide: Guide) -> Iterator[When]:
    """Yield the conditions under which jobs and blocks do something."""
    for sequence in (*guide.jobs.values(), *guide.laters(), *guide.library.blocks.values()):
        yield from (section.when for section in sequence.sections if section.when)
        yield from (step.when for step in sequence.steps() if step.when)
