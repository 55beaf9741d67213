"""What of a step needs no word: threads that nobody saw, and what would be held and is not there."""

from __future__ import annotations

from putback.ledger.entries import Entry
from putback.model.machine import Fastener
from putback.model.states import GroupState, PartState
from putback.model.turned import held_with
from putback.model.verbs.pieces import Install, Replace, Tighten
from putback.sheet.survey import Survey
from putback.variants import NONE


def staying(survey: Survey) -> set[tuple[int, str]]:
    """Return the tightenings of fasteners that nobody put in since they were tight, on the way to there.

    With them, by the same step, what is out of what would be held.
    """
    things, found = survey.book.graph.machine.things, set[tuple[int, str]]()
    for entry in survey.entries:
        thing = things.get(entry.target.name) if entry.target else None
        if not isinstance(thing, Fastener):
            continue
        if isinstance(entry.step.action, Tighten) and not _put_in(survey, entry, thing):
            found.add((entry.order, thing.key))
        found.update((entry.order, held.key) for held in held_with(thing, things) if _is_away(survey, entry, held.key))
    return found


def _is_away(survey: Survey, entry: Entry, key: str) -> bool:
    """Tell whether a fastener or part is out or off before an entry, in all variants on the way to there."""
    branch = survey.branch(entry)
    states = [state for held, state in survey.book.before(key, entry) if survey.answered(held, branch) != NONE]
    return bool(states) and all(
        not state.on if isinstance(state, PartState) else isinstance(state, GroupState) and state.out == state.all
        for state in states
    )


def _put_in(survey: Survey, entry: Entry, thing: Fastener) -> bool:
    """Tell whether, in some variant, pieces that an entry tightens were put in since they were tight."""
    for variants, state in survey.book.before(thing.key, entry):
        if isinstance(state, GroupState) and state.loose and survey.answered(variants, survey.branch(entry)) != NONE:
            by = survey.book.by(state.on_by)
            if by is not None and isinstance(by.step.action, Install | Replace):
                return True
    return False
