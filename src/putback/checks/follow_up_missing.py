"""What settles is to be tightened once more, and no follow-up of the job says how to get there.

The machine file says `retighten-after`, and the page prints the hours and the torque. Where a cover hides the bolts, or
a clearance changes with them, that is half a job: the cover comes off and wants a new gasket, the engine must be cold,
and the clearance is set after the bolts.

Add `follow-ups` to the job with all of its steps, and `again: true` at the `tighten`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.ledger.settled import settling
from putback.model.called import named, verb_s
from putback.model.job import Job
from putback.source.finding import Also, Level

LEVEL = Level.WARNING
GROUP = Group.CLOSING

_MACHINE = """
# machine.yaml
machine: Bench engine
parts: {head: {}, cover: {}}
fasteners:
  bolts:
    {kind: bolt, count: 2, thread: M8, class: "8.8", torque: 20 N·m, retighten-after: 10 h, secures: head}
stacks: [[cover, head]]
access-after: {bolts: [cover]}
# jobs/example.yaml
steps:
  - remove: cover
  - remove: bolts
  - remove: head
  - install: head
  - install: bolts
  - tighten: bolts
"""

FAILS = (
    _MACHINE
    + """             ^^^^^ bolts are due again after 10 h, cover must come off for it, and no follow-up says so
  - install: cover
  - {check: cover, limit: dry, otherwise: [{stop: Do the job again.}]}
"""
)

PASSES = (
    _MACHINE
    + """  - install: cover
  - {check: cover, limit: dry, otherwise: [{stop: Do the job again.}]}
follow-ups:
  - after: 10 h
    steps:
      - remove: cover
      - tighten: bolts
        again: true
      - install: cover
      - {check: cover, limit: dry, otherwise: [{stop: Do the job again.}]}
"""
)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the steps that tighten what settles, where more is to do for it than to tighten it once more."""
    for book in opened.books:
        for entry, target, thing, why, variants in settling(book) if isinstance(book.sequence, Job) else ():
            hours = thing.retighten_after.text if thing.retighten_after else ""
            once = f"{named(thing)} {verb_s(thing, 'is', 'are')} due again after {hours}"
            also = (*entry.ways, Also(thing.span, "the machine file says so"))
            hint = f"give the job 'follow-ups' with the steps that are due after {hours}"
            message = f"{once}, {why}, and no follow-up says so"
            yield Fault(target.span, message, also, hint, variants, book.reached(entry))
