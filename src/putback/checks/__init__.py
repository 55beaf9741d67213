"""The checks, one file each, named as the check (`left_off.py` is `left-off`).

A module has, in order: its docstring (first line the fault; then why it matters at the bench; then what to do
instead), `LEVEL`, `FAILS` and `PASSES` (examples in caret notation, see `putback.testing`), and one generator
`find(opened)` that yields `Fault`s; `INJURES` when nobody may accept it, `NEEDS` when it asks for whole files of the
library. A fault that an earlier stage finds (reading, shape, values) has no generator
but `STAGE`, the module that finds it. The engine here finds the modules and turns faults into findings.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import NamedTuple

from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.model.machine import Machine
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import counted_word, listed
from putback.source.span import Span
from putback.variants import NONE, Choice, EntangledError, VariantSet

CHECKING = 150_000
"""Pairs of rows of a diagram that the checks of a guide may work out, besides those of the walk."""

PER_BOOK = 10_000
"""The same for each job and block."""


MOST_ENDS = 12
"""Ends of a job, of which the one is told that the fewest choices lead to."""

MOST_AT_ONE_PLACE = 6
"""Findings of one check at one place."""


class Root(NamedTuple):
    """What several faults of a job come of: something that is not as they need it. One step more mends them all."""

    path: str
    """The job or block."""
    account: str
    """What is not as it is needed: the name of a thing."""
    wanted: str
    """How it is needed."""
    since: int
    """The number of the entry that made it as it is."""
    at: int
    """The number of the entry that needs it; does not count for whether two are the same."""

    @property
    def key(self) -> tuple[str, str, str, int]:
        """What two faults that come of the same have in common."""
        return self.path, self.account, self.wanted, self.since


_AT_END = "as it was"
"""How a thing is wanted at the end, or as a block says."""


def at_end(book: Book, account: str) -> Root:
    """Return what a fault of the end comes of."""
    return Root(book.sequence.path, account, _AT_END, -1, len(book.entries))


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
    root: Root | None = None
    """What it comes of, when other faults of the same job can come of it as well: the first of these tells it."""


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


def run_checks(opened: Opened, unfinished: list[str] | None = None) -> Iterator[Finding]:
    """Yield the findings of every check, in the order of their names.

    A check that raises stops the run: the error says which one it was. A check that cannot follow all variants is told,
    and its name goes to `unfinished`.
    """
    unfinished = [] if unfinished is None else unfinished
    if opened.graph is not None:
        opened.graph.space.allow(CHECKING + PER_BOOK * len(opened.books))
    found: list[tuple[Check, Fault]] = []
    for check in all_checks().values():
        find = getattr(check.module, "find", None)
        if find is None or check.needs & opened.guide.library.broken:
            continue
        try:
            found += [(check, fault) for fault in find(opened)]
        except EntangledError:
            unfinished.append(check.name)
        except Exception as error:
            error.add_note(f"while checking '{check.name}' in {opened.guide.shown}")
            raise
    first = _without_consequences(found, opened)
    for check in all_checks().values():
        for fault in _together((fault for other, fault in first if other is check), opened):
            yield _finding(check, fault, opened)
    if unfinished and opened.graph is not None:
        machine = opened.graph.machine
        names = [*unfinished[:3], f"{len(unfinished) - 3} more checks"] if len(unfinished) > 4 else unfinished
        message = f"{too_many(machine)}, so this was not checked to its end: {listed(names)}"
        yield Finding("undecided", Level.ERROR, machine.options_span or machine.span, message)


def _without_consequences(found: list[tuple[Check, Fault]], opened: Opened) -> list[tuple[Check, Fault]]:
    """Leave out faults that come of the same as an earlier one of their job, in variants in which that one is told."""
    told: dict[tuple[str, str, str, int], list[VariantSet | None]] = {}
    left_out: set[int] = set()
    rooted = [(fault.root, number) for number, (_, fault) in enumerate(found) if fault.root is not None]
    of_blocks = _of_blocks(found, opened)
    for root, number in sorted(rooted, key=lambda each: (each[0].at, each[1])):
        worlds, before = found[number][1].worlds, told.setdefault(root.key, [])
        others = of_blocks.get((root.path, root.account), [])
        if root.wanted != _AT_END:
            others = [*others, *before]
        if any(_covers(other, worlds, opened) for other in others):
            left_out.add(number)
        else:
            before.append(worlds)
    return [each for number, each in enumerate(found) if number not in left_out]


def _of_blocks(found: list[tuple[Check, Fault]], opened: Opened) -> dict[tuple[str, str], list[VariantSet | None]]:
    """Return the variants in which a block that a job does leaves a thing as it should not, by job and thing.

    It is told at the block, and what comes of it in the jobs says nothing more.
    """
    nesting, result = opened.nesting, dict[tuple[str, str], list[VariantSet | None]]()
    ends = [(fault.root, fault.worlds) for _, fault in found if fault.root and fault.root.wanted == _AT_END]
    blocks = {block.path: key for key, block in nesting.blocks.items()}
    for root, worlds in ends:
        doing = {blocks[root.path]} if root.path in blocks else set()
        for sequence in opened.guide.sequences() if doing else ():
            if sequence.path != root.path and not doing.isdisjoint(nesting.reached(sequence)):
                result.setdefault((sequence.path, root.account), []).append(worlds)
    return result


def _covers(one: VariantSet | None, other: VariantSet | None, opened: Opened) -> bool:
    """Tell whether what holds in the variants of one holds in all of those of the other."""
    if one is None or opened.graph is None:
        return one is None
    return other is not None and opened.graph.space.without(other, one) == NONE


def too_many(machine: Machine) -> str:
    """Return the first half of a message about options that cannot be followed."""
    return f"{counted_word(len(machine.options), 'option')} and the inspections meet in more ways than can be followed"


def _together(faults: Iterable[Fault], opened: Opened) -> Iterator[Fault]:
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
        elif opened.graph is not None and other.worlds is not None:
            worlds = None if fault.worlds is None else opened.graph.space.either(other.worlds, fault.worlds)
            alike[fault.among] = other._replace(worlds=worlds)
    yield from _few(_plainest(list(alike.values()), opened) for alike in found.values())


def _plainest(faults: list[Fault], opened: Opened) -> Fault:
    """Return the fault that the fewest choices show, the first of equals."""
    return min(faults, key=lambda fault: len(_variant(fault, opened))) if len(faults) > 1 else faults[0]


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


def _finding(check: Check, fault: Fault, opened: Opened) -> Finding:
    variant = _variant(fault, opened)
    return Finding(check.name, check.level, fault.span, fault.message, fault.also, fault.hint, variant)


def _variant(fault: Fault, opened: Opened) -> Choice:
    if fault.worlds is None or opened.graph is None:
        return ()
    return opened.graph.space.smallest(fault.worlds, fault.among)


def cause(book: Book, number: int, message: str) -> tuple[Also, ...]:
    """Return the place of the entry with a number, as a place that explains a finding; none for no entry."""
    entry = book.by(number)
    if entry is None:
        return ()
    span = entry.target.span if entry.target else entry.step.key
    return (*entry.ways, Also(span, message))
