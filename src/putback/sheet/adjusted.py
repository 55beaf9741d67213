"""The settings that a job disturbs, each with the step that brings it within its limit again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from putback.ledger.entries import Entry
from putback.ledger.handover import is_left
from putback.model.setting import Setting
from putback.model.states import SettingState
from putback.model.terms import When
from putback.sheet.limits import Limits
from putback.sheet.survey import Branch, Survey
from putback.variants import NONE, VariantSet


@dataclass(frozen=True, slots=True)
class SettingBack:
    """A setting that is looked at once more before the job is signed off."""

    setting: Setting
    """What was disturbed."""
    step: str
    """The number of the last step that adjusts or measures it; empty when there is none."""
    when: When | None
    """The variants in which it is disturbed; None for all."""
    only_if: tuple[str, ...] = ()
    """The steps of which only a branch disturbs it; empty when it is disturbed in any case."""


def settings_back(survey: Survey, limits: Limits) -> Iterator[SettingBack]:
    """Yield the settings that a job disturbs, in the order of the machine file."""
    for key, thing in survey.book.graph.machine.things.items():
        if isinstance(thing, Setting) and len(survey.book.history[key][0]) > 1 and not _left(survey, key):
            uses = _disturbed(survey, key)
            for held, state in survey.book.history[key][1][0] if key in survey.book.found else ():
                if isinstance(state, SettingState) and not state.known:
                    uses[()] = survey.space.either(uses.get((), NONE), held)
            for variants, branches in limits.in_two(uses):
                numbers = limits.numbers_of(branches, variants)
                step = _last(survey, limits, key, variants, branches)
                yield SettingBack(thing, step, limits.condition(variants), numbers)


def _left(survey: Survey, key: str) -> bool:
    """Tell whether a setting is left as it is to the job after this one."""
    return not survey.book.is_last and is_left(survey.book, key)


def _disturbed(survey: Survey, key: str) -> dict[Branch, VariantSet]:
    """Return the variants in which a setting is disturbed, by the branch of the step that does so."""
    space, book, found = survey.space, survey.book, dict[Branch, VariantSet]()
    for entry in survey.entries:
        for held, state in book.after(key, entry) if book.changed(key, entry) else ():
            if isinstance(state, SettingState) and state.off_by == entry.index:
                branch = survey.branch(entry)
                here = survey.answered(held, branch)
                if here != NONE:
                    found[branch] = space.either(found.get(branch, NONE), here)
    return found


def _last(survey: Survey, limits: Limits, key: str, variants: VariantSet, branches: list[Branch]) -> str:
    """Return the number of the last step that adjusts or measures a setting, in any case or else in a branch."""

    def settles(entry: Entry) -> bool:
        return entry.step.verb.settles and entry.target is not None and entry.target.name == key

    entries = [entry for entry in reversed(survey.entries) if settles(entry)]
    ways: list[Branch] = [(), *branches]
    for of_all in (True, False):
        for entry in entries:
            number = limits.number_of(entry.order, variants)
            if number and (survey.branch(entry) in ways) is of_all:
                return number
    return ""
