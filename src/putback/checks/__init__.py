"""The checks, one file each, named as the check (`left_off.py` is `left-off`).

A module has, in order: its docstring (first line the fault; then why it matters at the bench; then what to do
instead), `LEVEL`, `FAILS` and `PASSES` (examples in caret notation, see `putback.examples`), and one generator
`find(case)` that yields `Fault`s; `INJURES` when nobody may accept it, `NEEDS` when it asks for whole files of the
library. A fault that an earlier stage finds (reading, shape, values) has no generator
but `STAGE`, the module that finds it. The engine here finds the modules and turns faults into findings.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import NamedTuple

from putback.finding import Also, Finding, Level
from putback.graph import Graph
from putback.guide import Guide
from putback.ledger import Book
from putback.model.job import Block, Do, Sequence, Undo
from putback.model.machine import Machine
from putback.model.terms import Ref
from putback.nesting import Nesting
from putback.span import Span
from putback.variants import Choice, EntangledError, VariantSet
from putback.words import counted_word, listed

CHECKING = 150_000
"""Pairs of rows of a diagram that the checks of a guide may work out, besides those of the walk."""

PER_BOOK = 10_000
"""The same for each job and block."""


MOST_ENDS = 12
"""Ends of a job, of which the one is told that the fewest choices lead to."""

MOST_AT_ONE_PLACE = 6
"""Findings of one check at one place."""


class Fault(NamedTuple):
    """What a check yields; the engine adds the check's name and level."""

    span: Span
    """The place to look at first."""
    message: str
    """What was found and what was expected: lower case, no final stop."""
    also: tuple[Also, ...] = ()
    """Earlier places that explain it."""
    hint: str | None = None
    """What would be right."""
    worlds: VariantSet | None = None
    """The variants in which it holds; None for all."""
    among: VariantSet | None = None
    """The variants and ways that come into question: those that reach the end, for what is found there."""


class TooLong(NamedTuple):
    """A job or block that is too long to be walked."""

    sequence: Sequence
    """The job or block."""
    steps: int
    """How many steps it has when its blocks are written out."""
    block: Ref | None
    """The name, in one of its steps, of the block that makes most of them."""


@dataclass(slots=True)
class Case:
    """A guide with everything that was worked out of it, for checks to look at."""

    guide: Guide
    """The guide."""
    graph: Graph | None = None
    """The machine's order; None when the machine file could not be used."""
    books: list[Book] = field(default_factory=list)
    """The ledger of every job and block that could be walked."""
    entangled: list[Sequence | None] = field(default_factory=list)
    """Jobs and blocks that could not be walked, since options and inspections meet in too many ways; None for all."""
    unfinished: list[str] = field(default_factory=list)
    """Checks that could not follow all variants; known when all have run."""
    too_long: list[TooLong] = field(default_factory=list)
    """Jobs and blocks that were not walked for their length, but for those that are so through another of these."""
    nesting: Nesting = field(init=False)
    """Which jobs and blocks do which blocks."""

    def __post_init__(self) -> None:
        """Follow what does what."""
        self.nesting = Nesting(self.guide.sequences(), self.guide.library)

    def in_place(self) -> Iterator[Book]:
        """Yield the books in which what comes before every step is known: jobs, and blocks that no job does.

        What a job does before a block (a caution, a mark, a closed valve) serves the block's steps too. So of a block
        that some job does, these things are looked at in the job. A job that could not be read may do any of them.
        """
        done: set[str] = set()
        sequences: list[Sequence] = list(self.guide.jobs.values())
        while sequences:
            for step in sequences.pop().steps():
                if isinstance(step.action, Do | Undo):
                    for ref in step.things:
                        block = self.guide.library.blocks.get(ref.name)
                        if block is not None and ref.name not in done:
                            done.add(ref.name)
                            sequences.append(block)
        unsure = self.guide.misses_jobs
        for book in self.books:
            if not (isinstance(book.sequence, Block) and (unsure or book.sequence.key in done)):
                yield book


class Check(NamedTuple):
    """One check."""

    name: str
    """Its name, as in messages."""
    module: ModuleType
    """Its module."""

    @property
    def level(self) -> Level:
        """How much its findings matter."""
        level: Level = self.module.LEVEL
        return level

    @property
    def summary(self) -> str:
        """The fault, in one line."""
        return (self.module.__doc__ or "").strip().splitlines()[0]

    @property
    def can_be_accepted(self) -> bool:
        """Whether an author may accept it; not when missing it can injure somebody."""
        return not getattr(self.module, "INJURES", False)

    @property
    def needs(self) -> frozenset[str]:
        """The kinds of entries of the library that it must know all of; else it would find what is not wrong."""
        needs: frozenset[str] = getattr(self.module, "NEEDS", frozenset())
        return needs


@cache
def all_checks() -> dict[str, Check]:
    """Return every check, by name."""
    found = {}
    for info in iter_modules(__path__):
        name = info.name.replace("_", "-")
        found[name] = Check(name, import_module(f"{__name__}.{info.name}"))
    return found


def run_checks(case: Case) -> Iterator[Finding]:
    """Yield the findings of every check, in the order of their names.

    A check that raises stops the run: the error says which one it was. A check that cannot follow all variants is told.
    """
    unfinished = case.unfinished
    if case.graph is not None:
        case.graph.space.allow(CHECKING + PER_BOOK * len(case.books))
    for check in all_checks().values():
        find = getattr(check.module, "find", None)
        if find is None or check.needs & case.guide.library.broken:
            continue
        try:
            for fault in _together(find(case), case):
                yield _finding(check, fault, case)
        except EntangledError:
            unfinished.append(check.name)
        except Exception as error:
            error.add_note(f"while checking '{check.name}' in {case.guide.shown}")
            raise
    if unfinished and case.graph is not None:
        machine = case.graph.machine
        names = [*unfinished[:3], f"{len(unfinished) - 3} more checks"] if len(unfinished) > 4 else unfinished
        message = f"{too_many(machine)}, so this was not checked to its end: {listed(names)}"
        yield Finding("undecided", Level.ERROR, machine.options_span or machine.span, message)


def too_many(machine: Machine) -> str:
    """Return the first half of a message about options that cannot be followed."""
    return f"{counted_word(len(machine.options), 'option')} and the inspections meet in more ways than can be followed"


def _together(faults: Iterable[Fault], case: Case) -> Iterator[Fault]:
    """Make one of faults that say the same of the same place, by the shortest choice that shows one of them.

    Of the same variants and ways they hold wherever one of them does. Those of different ends are kept apart: together,
    many ends can be a long story.
    """
    found: dict[tuple[Span, str], dict[VariantSet | None, Fault]] = {}
    for fault in faults:
        alike = found.setdefault((fault.span, fault.message), {})
        other = alike.get(fault.among)
        if other is None:
            if len(alike) < MOST_ENDS:
                alike[fault.among] = fault
        elif case.graph is not None and other.worlds is not None:
            worlds = None if fault.worlds is None else case.graph.space.either(other.worlds, fault.worlds)
            alike[fault.among] = other._replace(worlds=worlds)
    yield from _few(_plainest(list(alike.values()), case) for alike in found.values())


def _plainest(faults: list[Fault], case: Case) -> Fault:
    """Return the fault that the fewest choices show, the first of equals."""
    return min(faults, key=lambda fault: len(_variant(fault, case))) if len(faults) > 1 else faults[0]


def _few(faults: Iterable[Fault]) -> Iterator[Fault]:
    """Tell the first few faults of one place, and how many more there are: three hundred covers are in one way."""
    at: dict[Span, list[Fault]] = {}
    for fault in faults:
        at.setdefault(fault.span, []).append(fault)
    for here in at.values():
        more = len(here) - MOST_AT_ONE_PLACE
        yield from here[: MOST_AT_ONE_PLACE - 1]
        for last in here[MOST_AT_ONE_PLACE - 1 : MOST_AT_ONE_PLACE]:
            yield last._replace(message=f"{last.message}; and {more} more like this") if more > 0 else last


def _finding(check: Check, fault: Fault, case: Case) -> Finding:
    variant = _variant(fault, case)
    return Finding(check.name, check.level, fault.span, fault.message, fault.also, fault.hint, variant)


def _variant(fault: Fault, case: Case) -> Choice:
    if fault.worlds is None or case.graph is None:
        return ()
    return case.graph.space.smallest(fault.worlds, fault.among)


def cause(book: Book, number: int, message: str) -> tuple[Also, ...]:
    """Return the place of the entry with a number, as a place that explains a finding; none for no entry."""
    entry = book.by(number)
    if entry is None:
        return ()
    span = entry.target.span if entry.target else entry.step.key
    return (*entry.ways, Also(span, message))
