"""What is in each kit, and which jobs take something of it."""

from __future__ import annotations

from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.details import Kit
from putback.model.job import Job
from putback.model.kits import contents_of, kits_of
from putback.model.machine import AnyThing
from putback.prose.contents import jobs_in_order
from putback.sheet.job import sheet_of


class Kitted(NamedTuple):
    """One kit."""

    kit: Kit
    """Its name and number."""
    contents: tuple[tuple[AnyThing, int], ...]
    """What is in it, and how many; 0 of what is not counted."""
    jobs: tuple[Job, ...]
    """The jobs that fit something of it, in the order of the book."""


def kits_with_jobs(opened: Opened) -> list[Kitted]:
    """Return the kits of the machine that have something for the chosen variants, in the order of its file."""
    machine, graph = opened.guide.machine, opened.graph
    if machine is None or graph is None:
        return []
    users: dict[str, dict[str, Job]] = {}
    for job in jobs_in_order(opened.guide):
        sheet = sheet_of(job, opened)
        for new in sheet.set_up.parts if sheet else ():
            if new.kit is not None:
                users.setdefault(new.kit.key, {})[job.key] = job
    found = []
    for kit in kits_of(machine).values():
        inside = [(thing, count) for thing, count in contents_of(kit, machine) if graph.applies(thing.when)]
        if inside:
            found.append(Kitted(kit, tuple(inside), tuple(users.get(kit.key, {}).values())))
    return found
