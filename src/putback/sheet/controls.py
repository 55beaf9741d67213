"""The controls that a job moves: where to, at which steps, and how it leaves them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from putback.ledger.entries import Entry
from putback.model.machine import Control
from putback.model.states import ControlState
from putback.model.terms import When
from putback.model.verbs.controls import Set
from putback.sheet.limits import Limits
from putback.sheet.survey import Survey
from putback.variants import NONE, VariantSet


@dataclass(frozen=True, slots=True)
class ControlMoved:
    """A control that a job moves, in some variants."""

    control: Control
    """It."""
    before: str
    """The position in which the job finds it."""
    steps: tuple[tuple[str, str], ...]
    """The numbers of the steps that set it, each with the position, in the order of the job; no step of a branch."""
    after: str
    """The position in which the job leaves it."""
    when: When | None
    """The variants in which it is so; None for all."""


def moved(survey: Survey, limits: Limits) -> Iterator[ControlMoved]:
    """Yield the controls that a job sets, in the order in which it comes to them."""
    book, first = survey.book, dict[str, list[Entry]]()
    for entry in survey.entries:
        if isinstance(entry.step.action, Set) and entry.target is not None and not survey.branch(entry):
            first.setdefault(entry.target.name, []).append(entry)
    for key, entries in first.items():
        control = book.graph.machine.things.get(key)
        if isinstance(control, Control):
            yield from _of(survey, limits, control, entries)


def _of(survey: Survey, limits: Limits, control: Control, entries: list[Entry]) -> Iterator[ControlMoved]:
    """Yield the rows of one control: one for each way in which variants go through its positions."""
    space, book = survey.space, survey.book
    found: dict[tuple[str, tuple[tuple[str, str], ...]], VariantSet] = {}
    opening = book.history[control.key][1][0] if control.key in book.history else ()
    for held, state in opening:
        here = survey.answered(held, ())
        if here != NONE and isinstance(state, ControlState):
            found[state.position, ()] = space.either(found.get((state.position, ()), NONE), here)
    for entry in entries:
        assert isinstance(entry.step.action, Set)
        doing, position = survey.variants(entry), entry.step.action.to.name
        after: dict[tuple[str, tuple[tuple[str, str], ...]], VariantSet] = {}
        for (before, steps), variants in found.items():
            number = limits.number_of(entry.order, space.both(doing, variants))
            for here, then in (
                (space.both(variants, doing), (*steps, (number, position)) if number else steps),
                (space.without(variants, doing), steps),
            ):
                if here != NONE:
                    after[before, then] = space.either(after.get((before, then), NONE), here)
        found = after
    for (before, steps), variants in found.items():
        for position, here in _left(survey, control, variants).items():
            if steps:
                yield ControlMoved(control, before, steps, position, limits.condition(here))


def _left(survey: Survey, control: Control, variants: VariantSet) -> dict[str, VariantSet]:
    """Return the positions in which some variants leave a control, when every inspection is good."""
    found: dict[str, VariantSet] = {}
    for held, state in survey.book.closing(control.key):
        here = survey.space.both(survey.answered(held, ()), variants)
        if here != NONE and isinstance(state, ControlState):
            found[state.position] = survey.space.either(found.get(state.position, NONE), here)
    return found
