"""What texts can refer to: named steps and pictures of jobs, jobs, limits of the machine file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

from putback.guide.nesting import Nesting
from putback.guide.record import Guide
from putback.model.good import limit_of
from putback.model.job import Sequence, Step
from putback.model.machine import Part
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.telling import Caution, Note


class Named:
    """The names of one guide."""

    def __init__(self, guide: Guide, nesting: Nesting) -> None:
        """Take the jobs, and which blocks they do."""
        self.guide = guide
        self.nesting = nesting
        self._steps: dict[str, dict[str, Step]] = {}
        self._figures: dict[str, set[str]] = {}

    def steps(self, sequence: Sequence) -> dict[str, Step]:
        """Return the steps of a job or block that have a name and are printed with a number, its blocks included."""
        if sequence.path not in self._steps:
            found = self._steps[sequence.path] = {}
            for step in self._all(sequence):
                if step.name is not None and not isinstance(step.action, Caution | Note | Do | Reverse):
                    found.setdefault(step.name.name, step)
        return self._steps[sequence.path]

    def figures(self, sequence: Sequence) -> set[str]:
        """Return the pictures of a job or block, by the names of their files."""
        if sequence.path not in self._figures:
            found = {step.figure.image.name for step in self._all(sequence) if step.figure is not None}
            self._figures[sequence.path] = found
        return self._figures[sequence.path]

    def _all(self, sequence: Sequence) -> Iterator[Step]:
        yield from sequence.steps()
        for key in sorted(self.nesting.reached(sequence)):
            yield from self.nesting.blocks[key].steps()

    def known(self, kind: str, of: str | None, within: Sequence | None) -> Collection[str]:
        """Return the names that a reference may have: in a job or block, or where no job is around it."""
        jobs = self.guide.jobs
        if kind == "job":
            return tuple(jobs)
        if kind == "limit":
            own = self.steps(within) if within is not None else {}
            return (*self.limits(), *(name for name, step in own.items() if self._limit_of(step) is not None))
        of_one = self.steps if kind == "step" else self.figures
        if of is not None:
            return of_one(jobs[of]) if of in jobs else ()
        if within is not None:
            return of_one(within)
        return self.in_one_job(kind)

    def in_one_job(self, kind: str) -> dict[str, str]:
        """Return the steps or pictures that only one job has, each with that job."""
        of_one = self.steps if kind == "step" else self.figures
        counts = Counter(name for job in self.guide.jobs.values() for name in of_one(job))
        return {name: key for key, job in self.guide.jobs.items() for name in of_one(job) if counts[name] == 1}

    def limits(self) -> dict[str, Limit]:
        """Return the limits of the machine file: of settings, and of parts that wear."""
        found: dict[str, Limit] = {}
        for key, thing in self.guide.machine.things.items() if self.guide.machine else ():
            if isinstance(thing, Setting) and thing.limit is not None:
                found[key] = thing.limit
            elif isinstance(thing, Part) and thing.wear is not None and thing.wear.limit is not None:
                found[key] = thing.wear.limit
        return found

    def limit(self, name: str, within: Sequence | None) -> Limit | None:
        """Return a limit by its name: of the machine file, or of a named step of the same job."""
        step = self.steps(within).get(name) if within is not None else None
        return self.limits().get(name) or (self._limit_of(step) if step is not None else None)

    def _limit_of(self, step: Step) -> Limit | None:
        machine = self.guide.machine
        return limit_of(step.action, machine.things if machine else {}) if not isinstance(step.action, Adjust) else None
