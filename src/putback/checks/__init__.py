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
from putback.variants import Choice, EntangledError, VariantSet

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
    for check in all_checks().values():
        find = getattr(check.module, "find", None)
        if find is None or check.needs & opened.guide.library.broken:
            continue
        try:
            for fault in _together(find(opened), opened):
                yield _finding(check, fault, opened)
        except EntangledError:
            unfinished.append(check.name)
        except Exception as error:
            error.add_note(f"while checking '{check.name}' in {opened.guide.shown}")
            raise
    if unfinished and opened.graph is not None:
        machine = opened.graph.machine
        names = [*unfinished[:3], f"{len(unfinished) - 3} more checks"] if len(unfinished) > 4 else unfinished
        message = f"{too_many(machine)}, so this was not checked to its end: {listed(names)}"
        yield Finding("undecided", Level.ERROR, machine.options_span or machine.span, message)


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
