"""What is left unfinished only because nobody knows when a step is done: its condition names no option or choice."""

from __future__ import annotations

from collections.abc import Iterator

from putback.checks.engine.form import Fault
from putback.checks.engine.known import KnownCheck
from putback.ledger.opened import Opened
from putback.model.job import Step, walk
from putback.model.terms import When
from putback.source.span import Span


def without_unsure(found: list[tuple[KnownCheck, Fault]], opened: Opened) -> list[tuple[KnownCheck, Fault]]:
    """Leave out what is not put back where a step under an unknown condition would do so: that name is told."""
    unknown = {
        one.use.ref.span for one in opened.unknown if one.use.kinds in (("option",), ("choice",)) and not one.is_clear
    }
    if not unknown:
        return found
    names: dict[str, set[str]] = {}
    for sequence in opened.nesting.sequences():
        for section in sequence.sections:
            for step in _unsure(section.steps, unknown, sure=not _names(section.when, unknown)):
                names.setdefault(sequence.path, set()).update(ref.name for ref in step.things)

    def is_unsure(fault: Fault) -> bool:
        root = fault.root
        return root is not None and not names.get(root.path, set()).isdisjoint(root.account.split(","))

    return [(check, fault) for check, fault in found if not is_unsure(fault)]


def _unsure(steps: tuple[Step, ...], unknown: set[Span], *, sure: bool) -> Iterator[Step]:
    for step in steps:
        known = sure and not _names(step.when, unknown)
        if known:
            yield from _unsure(step.inner, unknown, sure=True)
        else:
            yield from walk((step,))


def _names(when: When | None, unknown: set[Span]) -> bool:
    """Tell whether a condition names an option or a choice that nobody knows."""
    clauses = [clause for case in when.cases for clause in case] if when else []
    return any(ref.span in unknown for clause in clauses for ref in (clause.option, *clause.choices))
