"""The index of a guide: parts, fasteners, lines, fluids, settings, tools, supplies and hazards, with jobs and steps.

It has main entries only, and not every mention: where a thing comes off and goes on, is renewed, tightened, measured,
drained, filled or adjusted. That it is looked at or only loosened counts where no job does more with it, and few
do that; what is done in a branch, where the job does it nowhere else. Of a tool and of what is used up it has the jobs.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from putback.ledger.hazards import risks
from putback.ledger.opened import Opened
from putback.model.job import Job
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.setting import Setting
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.prose.contents import jobs_in_order
from putback.sheet.job import JobSheet, sheet_of
from putback.sheet.lines import SheetStep


class Handling(StrEnum):
    """What is done with a thing."""

    OFF = "off"
    ON = "on"
    RENEWED = "renewed"
    LOOSENED = "loosened"
    TIGHTENED = "tightened"
    DRAINED = "drained"
    FILLED = "filled"
    ADJUSTED = "adjusted"
    MEASURED = "measured"
    INSPECTED = "inspected"


_HANDLED: tuple[tuple[tuple[type, ...], Handling], ...] = (
    ((Remove, Disconnect), Handling.OFF),
    ((Install, Connect), Handling.ON),
    ((Replace,), Handling.RENEWED),
    ((Loosen,), Handling.LOOSENED),
    ((Tighten,), Handling.TIGHTENED),
    ((Drain,), Handling.DRAINED),
    ((Fill,), Handling.FILLED),
    ((Adjust,), Handling.ADJUSTED),
    ((Measure,), Handling.MEASURED),
    ((Inspect, Verify), Handling.INSPECTED),
)

_LESSER = frozenset({Handling.INSPECTED, Handling.LOOSENED})
"""What counts only where nothing more is done with a thing."""

_FEW = 4
"""So many jobs that only look at a thing are told; of more, it is a part of every run and no main entry."""


class IndexGroup(StrEnum):
    """What an entry is, in the order in which groups are printed."""

    PARTS = "parts"
    FASTENERS = "fasteners"
    FLUIDS = "fluids"
    SETTINGS = "settings"
    TOOLS = "tools"
    SUPPLIES = "supplies"
    HAZARDS = "hazards"


BY_NAME = frozenset({IndexGroup.TOOLS, IndexGroup.SUPPLIES, IndexGroup.HAZARDS})
"""Groups of what is no thing of the machine."""


class Done(NamedTuple):
    """Where a job does one thing."""

    handling: Handling | None
    """What it does; None for a hazard, of which only the steps are told."""
    steps: tuple[str, ...]
    """The numbers of the steps."""


class InJob(NamedTuple):
    """What one job does with something."""

    job: Job
    """The job."""
    done: tuple[Done, ...]
    """What it does where; nothing when it only needs it."""


@dataclass(frozen=True, slots=True)
class Indexed:
    """One thing of the index."""

    group: IndexGroup
    """What it is."""
    what: AnyThing | str
    """The thing of the machine; the name of anything else."""
    jobs: tuple[InJob, ...]
    """The jobs that have it, in the order of the book."""


@lru_cache(maxsize=1)
def index_of(opened: Opened) -> tuple[Indexed, ...]:
    """Return what the jobs of a guide work on, with what, and what can hurt there; by groups, each as it comes."""
    gatherer = _Gatherer(opened)
    for job in jobs_in_order(opened.guide):
        sheet = sheet_of(job, opened)
        if sheet is not None:
            gatherer.take(job, sheet)
    return tuple(gatherer.entries())


def indexed_in(job: Job, sheet: JobSheet, opened: Opened) -> tuple[Indexed, ...]:
    """Return what one job works on: the same entries, without those of other jobs."""
    gatherer = _Gatherer(opened)
    gatherer.take(job, sheet)
    return tuple(gatherer.entries())


_Steps = dict[tuple[IndexGroup, str], dict[Handling | None, dict[str, bool]]]
"""Of one job, the numbers of the steps of each thing, by what they do; whether each stands in a branch."""


class _Gatherer:
    def __init__(self, opened: Opened) -> None:
        self.opened = opened
        self.things = opened.guide.machine.things if opened.guide.machine else {}
        self.found: dict[tuple[IndexGroup, str], list[InJob]] = {}

    def take(self, job: Job, sheet: JobSheet) -> None:
        """Take what one job does, and what it needs."""
        steps: _Steps = {}
        for line in sheet.walk():
            for key in self.handled(line):
                handling = next((handling for kinds, handling in _HANDLED if isinstance(line.step.action, kinds)), None)
                if handling is not None:
                    steps.setdefault(key, {}).setdefault(handling, {})[line.number] = line.conditional
        for name, number in self.hazards(job, sheet):
            steps.setdefault((IndexGroup.HAZARDS, name), {}).setdefault(None, {})[number] = False
        for key, handlings in steps.items():
            self.found.setdefault(key, []).append(InJob(job, tuple(_main(handlings))))
        layout = sheet.set_up
        needed = [(IndexGroup.TOOLS, str(row.what)) for row in (*layout.tools, *layout.equipment)]
        needed += [(IndexGroup.SUPPLIES, str(row.what)) for row in layout.consumables]
        for key in dict.fromkeys(needed):
            self.found.setdefault(key, []).append(InJob(job, ()))

    def handled(self, line: SheetStep) -> Iterator[tuple[IndexGroup, str]]:
        """Yield the things of a step that are in the index."""
        for ref in line.step.things if line.number else ():
            group = _group(self.things.get(ref.name))
            if group is not None:
                yield group, ref.name

    def hazards(self, job: Job, sheet: JobSheet) -> Iterator[tuple[str, str]]:
        """Yield the names of hazards that a job meets and tells of, each with the step below the message."""
        library, book = self.opened.guide.library, self.opened.book_of(job)
        there = {risk.hazard.key for risk in risks(book)} if book is not None else set()
        waiting: list[str] = []
        for line in sheet.walk():
            for shown in line.messages:
                covered = (library.hazards[ref.name] for ref in shown.message.covers if ref.name in library.hazards)
                waiting += [hazard.name for hazard in covered if hazard.key in there]
            if line.number:
                yield from ((name, line.number) for name in waiting)
                waiting.clear()

    def entries(self) -> Iterator[Indexed]:
        """Yield the entries."""
        for (group, key), jobs in self.found.items():
            known = group not in BY_NAME
            yield Indexed(group, self.things[key] if known else key, tuple(_of_note(jobs)))


def _group(thing: AnyThing | None) -> IndexGroup | None:
    """Return the group of a thing; controls are moved in every job, and are in none."""
    match thing:
        case Part() | Line():
            return IndexGroup.PARTS
        case Fastener():
            return IndexGroup.FASTENERS
        case Fluid():
            return IndexGroup.FLUIDS
        case Setting():
            return IndexGroup.SETTINGS
        case Control() | None:
            return None


def _of_note(jobs: list[InJob]) -> list[InJob]:
    """Return the jobs that do more with a thing than look at it; those that only do that where there are no others."""
    more = [used for used in jobs if not used.done or any(done.handling not in _LESSER for done in used.done)]
    return more or (jobs if len(jobs) <= _FEW else [])


def _main(handlings: dict[Handling | None, dict[str, bool]]) -> Iterator[Done]:
    """Yield the main of what is done with a thing, in the order of `Handling`."""
    more = any(handling not in _LESSER for handling in handlings)
    for handling in (None, *Handling):
        steps = handlings.get(handling, {})
        always = [number for number, conditional in steps.items() if not conditional]
        if steps and not (more and handling in _LESSER):
            yield Done(handling, tuple(always or steps))
