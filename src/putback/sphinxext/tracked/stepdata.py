"""Steps as the script of a page knows them: what is ticked, read, answered and waited for at each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from docutils import nodes

from putback.model.good import limit_of
from putback.model.job import Sequence as Job
from putback.model.machine import Fastener
from putback.model.readings import each_apart, readings_of
from putback.model.said import Limit
from putback.model.timed import time_within
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import BackTo
from putback.model.verbs.controls import Run
from putback.model.verbs.pieces import Remove
from putback.model.verbs.telling import Stop, Wait
from putback.sheet import SheetStep
from putback.sphinxext.tracked.limits import Plain, Units, units_for
from putback.units import Form, Quantity
from putback.words import Language

_WORKED = ("largest", "smallest", "average", "difference")
"""What is worked out of several readings, in the order in which the page has lines for it."""

Above: TypeAlias = tuple[int, int] | None
"""The number of the step that a step hangs on, and which of its branches; -1 for an `each`."""


class StepData:
    """Writes the steps of a job down as plain objects."""

    def __init__(self, job: Job, words: Language, units: Units) -> None:
        """Take the job whose steps they are, the words of its page, and the units that it prints."""
        self.job = job
        self.words = words
        self.units = units

    def written(self, line: SheetStep, key: str, above: Above, variants: int) -> Plain:
        """Return a step; the set of variants by its number in the diagram."""
        found: Plain = {"n": line.number, "id": nodes.make_id(f"{self.job.key}-step-{line.number}"), "key": key}
        found |= {"set": variants, "up": list(above) if above else None, "kind": kind_of(line)}
        found["verb"] = line.step.verb.name
        names = [self.words.position_name(name) for grid in line.grids for name in grid.names]
        found["boxes"] = names or None
        if len(line.grids) > 1:
            found["grids"] = [len(grid.names) for grid in line.grids]
        found["branches"] = list(self.branches(line))
        found["blanks"] = list(self.blanks(line))
        limit = limit_of(line.step.action, self.words.things)
        found["good"] = self.words.limit(limit) if limit else ""
        found["timer"] = self.timer(line, limit)
        return {name: value for name, value in found.items() if value or name in ("set", "up")}

    def branches(self, line: SheetStep) -> Iterator[Plain]:
        """Yield what hangs on the answer of a step, in the order of the page."""
        places, apart = 1, each_apart(line.step, self.words.things)
        for grid in line.grids:
            places *= len(grid.names)
        if line.otherwise:
            yield {"words": self.words.otherwise(line.step, places)}
        for outcome in line.outcomes:
            words = self.words.outcome(line.step, outcome.found, places)
            yield {"words": words, "each": True} if apart else {"words": words}

    def blanks(self, line: SheetStep) -> Iterator[Plain]:
        """Yield the lines to write on at a step, in the order of the page."""
        action, things = line.step.action, self.words.things
        names = [name for grid in line.grids for name in grid.names]
        of = [things.get(ref.name) for ref in action.things]
        if isinstance(action, Remove) and any(isinstance(thing, Fastener) and thing.uncounted for thing in of):
            yield {"role": "counted"}
        for _ in self.words.uses(line.step):
            yield from ({"role": "use", "box": box} for box in range(len(names))) if names else [{"role": "use"}]
        if isinstance(action, Measure | Adjust):
            for box in range(len(names)) if names else [None]:
                at = {} if box is None else {"box": box}
                yield from ({**blank, **at} for blank in self.readings(line))

    def readings(self, line: SheetStep) -> Iterator[Plain]:
        """Yield the lines for the readings of one place, and for what is worked out of them."""
        action, things = line.step.action, self.words.things
        limit, outcomes = limit_of(action, things), [outcome.found for outcome in line.outcomes]
        if not isinstance(action, Measure):
            yield {"role": "reading", "units": self.units_for(limit, outcomes)}
            return
        count = len(readings_of(action, things))
        judged = self.units_for(limit, outcomes)
        difference = self.units_for(action.difference, outcomes) if action.difference else []
        alone = action.judge == "each" or count == 1
        free = [{"unit": unit["unit"], "limit": None} for unit in judged or difference]
        for _ in range(count):
            yield {"role": "reading", "units": judged if alone and judged else free}
        wanted = {action.judge} | ({"difference"} if action.difference else set())
        for worked in _WORKED if count > 1 else ():
            if worked in wanted:
                yield {"role": "worked", "of": worked, "units": difference if worked == "difference" else judged}

    def units_for(self, limit: Limit | None, outcomes: Sequence[Limit]) -> list[Plain]:
        """Return the units of a reading, as this page prints them."""
        return units_for(limit, outcomes, self.units, self.words.unit_of)

    def timer(self, line: SheetStep, limit: Limit | None) -> Plain | None:
        """Return how long a step takes that is done by the clock; None for one that is not."""
        match line.step.action:
            case Wait(duration=duration):
                return self.timed(duration)
            case Run(for_=duration):
                return self.timed(duration)
            case Verify() if limit and limit.quantity is None:
                within = time_within(limit.text)
                return self.timed(within, most=True) if within else None
            case _:
                return None

    def timed(self, duration: Quantity | None, *, most: bool = False) -> Plain | None:
        """Return a time; of a span, the least that will do, or the most that is allowed."""
        if duration is None:
            return None
        seconds = duration.to("s")
        most = most or duration.form in (Form.AT_MOST, Form.LESS_THAN)
        time = seconds.high if most else seconds.low
        return {"seconds": float(time), "most": most, "text": self.words.quantity(duration)} if time else None


def kind_of(line: SheetStep) -> str:
    """Return what a mechanic does with a step on the page."""
    match line.step.action:
        case BackTo():
            return "back"
        case Stop():
            return "stop"
        case Measure() | Adjust():
            return "reading"
        case Inspect() | Verify():
            return "check"
        case _ if line.each:
            return "each"
        case _:
            return "check" if line.otherwise or line.outcomes else "tick"


def with_above(lines: Sequence[SheetStep]) -> Iterator[tuple[SheetStep, SheetStep | None, int]]:
    """Yield every line of a page in order, with the step that it hangs on, and which of its branches it stands in."""
    for line in lines:
        yield line, None, -1
        yield from _below(line)


def _below(line: SheetStep) -> Iterator[tuple[SheetStep, SheetStep | None, int]]:
    for branch, steps in ((-1, line.each), (0, line.otherwise), *enumerate(each.steps for each in line.outcomes)):
        for inner in steps:
            yield inner, line, branch
            yield from _below(inner)
