"""What a step of a branch need not name: the question above it does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from putback.model.job import Step
from putback.model.machine import AnyThing
from putback.model.said import source_of
from putback.model.terms import Ref
from putback.model.verbs.acting import Act


def without_asked(step: Step, asked: Sequence[Ref], things: Mapping[str, AnyThing]) -> Step:
    """Return an `act` without the things that are `asked` about, by names or in words, in the step above its branch."""
    action = step.action
    if not isinstance(action, Act) or not asked:
        return step

    def told(name: str) -> bool:
        return any(
            name == ref.name or (name in things and source_of(things[name].name).lower() in ref.name.lower())
            for ref in asked
        )

    left = tuple(ref for ref in action.things if not told(ref.name))
    return step if len(left) == len(action.things) else replace(step, action=action._replace(things=left))
