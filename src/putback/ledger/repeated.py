"""What came off at all places in one step, and goes on place by place."""

from __future__ import annotations

from putback.model.job import Repeat, Step
from putback.model.machine import Machine
from putback.model.verb import Action
from putback.model.verbs.cleaning import Apply


def repeats(step: Step, action: Action, machine: Machine) -> tuple[Repeat, ...]:
    """Return the places that a step of the way back is for: they are printed as one step, as they came off in one."""
    refs = action.to if isinstance(action, Apply) else action.things
    spots = {
        (thing.each.name, thing.place)
        for ref in (refs if machine.places else ())
        if (thing := machine.things.get(ref.name)) and thing.place and thing.each
    }
    if len(spots) != 1:
        return step.rounds
    (kind, place), *_ = spots
    if any(each.places == kind for each in step.rounds):
        return step.rounds
    return (*step.rounds, Repeat(step.key, kind, place, None))
