"""The checks, one file each, named as the check (`left_off.py` is `left-off`).

A module is a `Check`. It has, in order: its docstring (first line the fault; then why it matters at the bench; then
what to do instead), `LEVEL`, `GROUP`, `FAILS` and `PASSES` (examples in caret notation, see `putback.testing`), and one
generator `find(opened)` that yields `Fault`s; `INJURES` when nobody may waive it, `NEEDS` when it asks for whole files
of the library. A fault that an earlier stage finds (reading, shape, values) has no generator but `STAGE`, the module
that finds it. Here the modules are run, and faults become findings; `engine` finds them, here and in other packages.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from functools import cache

from putback.checks.engine.as_written import as_written, plain
from putback.checks.engine.brought import all_of
from putback.checks.engine.form import Check, Fault, Group, Root
from putback.checks.engine.known import KnownCheck
from putback.checks.engine.roots import at_end, leaving, without_consequences
from putback.checks.engine.unsure import without_unsure
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.model.machine import Machine
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import counted_word, listed
from putback.source.outside import BadCheckError
from putback.source.span import Span
from putback.variants import NONE, Choice, EntangledError, VariantSet

__all__ = [
    "BadCheckError", "Check", "Fault", "Group", "KnownCheck", "Root", "all_checks", "at_end", "cause", "chain_to",
    "leaving", "met_at", "own_checks", "run_checks", "too_many",
]  # fmt: skip

CHECKING = 150_000
"""Pairs of rows of a diagram that the checks of a guide may work out, besides those of the walk."""

PER_BOOK = 10_000
"""The same for each job and block."""


MOST_ENDS = 12
"""Ends of a job, of which the one is told that the fewest choices lead to."""

MOST_AT_ONE_PLACE = 6
"""Findings of one check at one place."""


@cache
def all_checks() -> dict[str, KnownCheck]:
    """Return every check, by name: those of this folder, then those that other packages bring.

    Raises `BadCheckError` when one of them is not as it must be.
    """
    return all_of(sys.modules[__name__])


def own_checks() -> dict[str, KnownCheck]:
    """Return the checks of Putback itself, by name."""
    return {name: check for name, check in all_checks().items() if check.package is None}


def run_checks(opened: Opened, unfinished: list[str] | None = None) -> Iterator[Finding]:
    """Yield the findings of every check, in the order of their names.

    A check that raises stops the run: the error says which one it was; of one that another package brings, it is a
    `BadCheckError`. A check that cannot follow all variants is told, and its name goes to `unfinished`.
    """
    unfinished = [] if unfinished is None else unfinished
    if opened.graph is not None:
        opened.graph.space.allow(CHECKING + PER_BOOK * len(opened.books))
    found: list[tuple[KnownCheck, Fault]] = []
    for check in all_checks().values():
        if check.needs & opened.guide.library.broken:
            continue
        try:
            faults = check.faults(opened)
            found += [(check, fault) for fault in (faults if check.package is None else _sound(faults))]
        except EntangledError:
            unfinished.append(check.name)
        except Exception as error:
            if check.package is None:
                error.add_note(f"while checking '{check.name}' in {opened.guide.shown}")
                raise
            words = f"{check.said} failed in {opened.guide.shown}: {type(error).__name__}: {error}"
            raise BadCheckError(words) from error
    first = as_written(without_consequences(without_unsure(found, opened), opened), opened)
    for check in all_checks().values():
        try:
            for fault in _together((fault for other, fault in first if other is check), opened):
                yield _finding(check, fault, opened)
        except EntangledError:
            unfinished.append(check.name)
    if unfinished and opened.graph is not None:
        machine = opened.graph.machine
        names = [*unfinished[:3], f"{len(unfinished) - 3} more checks"] if len(unfinished) > 4 else unfinished
        message = f"{too_many(machine)}, so this check is incomplete: {listed(names)}"
        yield Finding("too-many-loops", Level.ERROR, machine.options_span or machine.span, message)


def too_many(machine: Machine) -> str:
    """Return the first half of a message about options that cannot be followed."""
    return (
        f"{counted_word(len(machine.options), 'option')} and the inspections combine in more ways than can be followed"
    )


def _sound(faults: Iterable[object]) -> Iterator[Fault]:
    """Look at what a check of another package yields."""
    if not isinstance(faults, Iterable):
        raise TypeError(f"find must yield Faults, but returned {faults!r}")
    for fault in faults:
        if not isinstance(fault, Fault) or not isinstance(fault.span, Span) or not fault.message:
            raise TypeError(f"find must yield Faults with a span and a message, not {fault!r}")
        yield fault


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
        elif opened.graph is not None and other.variants is not None:
            variants = None if fault.variants is None else opened.graph.space.either(other.variants, fault.variants)
            alike[fault.among] = other._replace(variants=variants)
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


def _finding(check: KnownCheck, fault: Fault, opened: Opened) -> Finding:
    variant = _variant(fault, opened)
    return Finding(check.name, check.level, fault.span, fault.message, fault.also, fault.hint, variant)


def _variant(fault: Fault, opened: Opened) -> Choice:
    if fault.variants is None or opened.graph is None:
        return ()
    space, among = opened.graph.space, fault.among
    if among is not None and space.both(fault.variants, among) == NONE:
        among = None
    found = space.smallest(fault.variants, among)
    return tuple((plain(option), choice) for option, choice in found) if found else found


def met_at(entry: Entry, earlier: Entry | None) -> Span:
    """Return where an entry goes wrong by an earlier one: its own name, or the `do` by which it comes after that one.

    A block that is right by itself is not to blame for what a job did before it.
    """
    before = [step.key for step in earlier.via] if earlier is not None else []
    for number, step in enumerate(entry.via if earlier is not None else ()):
        if step.key not in before[number : number + 1]:
            return step.things[0].span if step.things else step.key
    return entry.span


def chain_to(entry: Entry, span: Span) -> tuple[Span, ...]:
    """Return the places of the `do` and `reverse` steps that led to an entry, down to the one that names `span`."""
    for number, step in enumerate(entry.via):
        if any(ref.span == span for ref in step.things):
            return tuple(one.key for one in entry.via[: number + 1])
    return ()


def cause(book: Book, number: int, message: str) -> tuple[Also, ...]:
    """Return the place of the entry with a number, as a place that explains a finding; none for no entry."""
    entry = book.by(number)
    if entry is None:
        return ()
    span = entry.span
    return (*entry.ways, Also(span, message))
