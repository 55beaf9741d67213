"""A kit holds something that no job puts in new, or more of it than any job takes.

Something is left over that somebody has paid for, and the mechanic wonders what was forgotten. Often a job puts back
the old one, and should renew it; or the kit is another one.

Renew it in the job that takes the kit, or correct `contents` or `kit` in the machine file.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened, wider
from putback.model.called import named
from putback.model.details import Kit
from putback.model.job import Job, Later
from putback.model.kits import contents_of
from putback.model.machine import AnyThing, Fastener, Line, Part
from putback.model.said import place_of
from putback.sheet.renewed import renewed
from putback.source.finding import Also, Level
from putback.source.grammar import number
from putback.source.quoting import quote

LEVEL = Level.ADVICE
GROUP = Group.TOOLS

FAILS = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {replace: always}, ring: {}}
stacks: [[lid, felt]]
kits:
  lid-kit: {number: T-100, contents: {felt: 1, ring: 1}}
                                               ^^^^ the kit 'lid-kit' holds one ring, but no job puts in a new one
# jobs/example.yaml
steps:
  - remove: [lid, felt]
  - install: felt
    new: true
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts: {lid: {}, felt: {replace: always}, ring: {}}
stacks: [[lid, felt]]
kits:
  lid-kit: {number: T-100, contents: {felt: 1}}
# jobs/example.yaml
steps:
  - remove: [lid, felt]
  - install: felt
    new: true
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what is over of the kits that the file describes and some job takes; for the others, jobs are to come."""
    machine = opened.guide.machine
    if machine is None or not machine.kits or opened.guide.misses_jobs:
        return
    whole = wider(opened)
    most: dict[str, int] = {}
    for book in whole.books:
        for row in renewed(book) if isinstance(book.sequence, Job | Later) else ():
            most[row.key] = max(most.get(row.key, 0), row.most())
    walked = {book.sequence.path for book in whole.books}
    if any(job.path not in walked for job in opened.guide.jobs.values()):
        return
    for kit in machine.kits.values():
        contents = contents_of(kit, machine)
        if any(thing.key in most for thing, _ in contents):
            for thing, held in contents:
                yield from _spare(kit, thing, held, most.get(thing.key, 0))


def _spare(kit: Kit, thing: AnyThing, held: int, most: int) -> Iterator[Fault]:
    packed = next((each for each in kit.contents if each.thing.name == thing.key), None)
    if most and not (packed and held > most):
        return
    holds = f"the kit {quote(kit.key)} holds {number(held)} {named(thing, held)}"
    also = (Also(kit.span, "the kit is described here"),) if kit.span else ()
    if packed is None:
        said = thing.kit if isinstance(thing, Part | Fastener | Line) else None
        yield Fault(place_of(said or "", thing.span), f"{holds}, but no job puts in a new one", also)
    elif most:
        new = "new one" if most == 1 else "new ones"
        yield Fault(packed.span, f"{holds}, but no job puts in more than {number(most)} {new}", also)
    else:
        yield Fault(packed.thing.span, f"{holds}, but no job puts in a new one", also)
