"""Whether a machine runs, so that its hours are counted: a winch or a jack has no hour meter."""

from __future__ import annotations

from functools import lru_cache

from putback.guide.record import Guide
from putback.model.job import Job
from putback.model.machine import Fastener
from putback.model.verbs.controls import Run


@lru_cache(maxsize=8)
def counts_hours(guide: Guide) -> bool:
    """Tell whether the machine of a guide is run, or anything of it is due by running hours."""
    machine = guide.machine
    if machine is None or machine.verb_needs.get("run") or machine.can_start:
        return True
    if any(isinstance(thing, Fastener) and thing.retighten_after for thing in machine.things.values()):
        return True
    return any(map(_by_hours, guide.jobs.values())) or any(
        isinstance(step.action, Run) for sequence in guide.sequences() for step in sequence.steps()
    )


def _by_hours(job: Job) -> bool:
    due = job.interval
    return due is not None and bool(due.hours or (due.first and due.first.hours))
