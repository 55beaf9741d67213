"""What a guide measures, tests and looks for: each limit with what is judged by it, in the words of the author."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.job import Step
from putback.model.machine import AnyThing, Part
from putback.model.measured import Measured, measured
from putback.model.said import Limit
from putback.model.verbs.asking import Measure, Verify


class Judged(NamedTuple):
    """One limit."""

    limit: Limit
    """The limit, where it is written: in a step, or in the machine file for a part that wears."""
    words: str
    """What is judged by it, in words: those of the step, or the name of the thing."""
    of: str
    """The name of the thing; empty where a step has words."""
    measures: bool
    """Whether it is measured, so that only numbers can tell; else it is checked, and words may."""

    @property
    def what(self) -> Measured | None:
        """What is measured; None when nobody can tell from the words."""
        return measured(self.words, self.of)


def judged_in(opened: Opened) -> Iterator[Judged]:
    """Yield every limit of a guide, once: those of its parts, then those of its steps in the order of the files."""
    machine = opened.guide.machine
    things = machine.things if machine is not None else {}
    for thing in things.values():
        if isinstance(thing, Part) and thing.wear and thing.wear.limit:
            yield Judged(thing.wear.limit, thing.wear.measure or thing.name, thing.name, measures=True)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            action = step.action
            if isinstance(action, Measure | Verify) and action.limit:
                words, of = what_is_judged(step, things.get(step.things[0].name) if step.things else None)
                yield Judged(action.limit, words, of, isinstance(action, Measure))


def what_is_judged(step: Step, thing: AnyThing | None) -> tuple[str, str]:
    """Return what a step asks about, in words, and the name of the thing, if it is one."""
    if thing is None:
        return (step.things[0].name if step.things else ""), ""
    wear = thing.wear if isinstance(thing, Part) else None
    return (wear.measure if wear and wear.measure else thing.name), thing.name
