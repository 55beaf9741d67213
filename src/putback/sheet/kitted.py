"""What is in each kit, and which jobs take something of it."""

from __future__ import annotations

from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.details import Kit
from putback.model.job import Job
from putback.model.kits import kit_of
from putback.model.machine import Fastener, Line, Part
from putback.prose.contents import jobs_in_order
from putback.sheet.job import sheet_of


class Kitted(NamedTuple):
    """One kit."""

    kit: Kit
    """Its name and number."""
    contents: tuple[tuple[Part | Fastener | Line, int], ...]
    """What is in it, and how many."""
    jobs: tuple[Job, ...]
    """The jobs that fit something of it, in the order of the book."""


def kits_of(opened: Opened) -> list[Kitted]:
    """Return the kits of the machine, in the order in which its file names them, without those of other variants."""
    machine, graph = opened.guide.machine, opened.graph
    if machine is None or graph is None:
        return []
    inside: dict[Kit, list[tuple[Part | Fastener | Line, int]]] = {kit: [] for kit in machine.kits.values()}
    for thing in machine.things.values():
        kit = kit_of(machine, thing) if isinstance(thing, Part | Fastener | Line) else None
        if kit is not None and isinstance(thing, Part | Fastener | Line) and graph.applies(thing.when):
            count = max(each for _, each in thing.counts) if isinstance(thing, Fastener) and thing.counts else 1
            count = max(count, thing.count) if isinstance(thing, Fastener) else count
            inside.setdefault(kit, []).append((thing, count))
    users: dict[Kit, dict[str, Job]] = {}
    for job in jobs_in_order(opened.guide):
        sheet = sheet_of(job, opened)
        for new in sheet.set_up.parts if sheet else ():
            if new.kit is not None:
                users.setdefault(new.kit, {})[job.key] = job
    return [Kitted(kit, tuple(things), tuple(users.get(kit, {}).values())) for kit, things in inside.items() if things]
