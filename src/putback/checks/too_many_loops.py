"""There are more ways through a job than can be followed.

Each time a `back-to` leads back, the machine may be in another state, and each of these ways is followed until nothing
new turns up. Options that meet in pairs on one thing multiply in the same way. Here there are too many, so nothing
after this point is proved.

Blocks that each do several others soon make a job that nobody can do.

Let fewer inspections lead back, put back what an `otherwise` changed before its `back-to`, or end the job with `stop`
and say where to start again. If the options are the cause, limit things and steps by fewer of them at a time.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, too_many
from putback.ledger.length import MOST_STEPS
from putback.ledger.opened import Opened
from putback.model.job import Block
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.ORDER
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
parts: {lid: {}}
fasteners:
  screws: {name: lid screw, count: 300, secures: lid}
# jobs/example.yaml
steps:
  - remove: screws
    count: 1
    name: look
  - check: the joint
    limit: dry
    otherwise:
      - back-to: look
        ^^^^^^^ this leads back in more ways than can be followed, so what comes after is not proved
  - install: screws
  - check: the joint, at last
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    name: look
  - check: belt guard
    limit: does not rattle
    otherwise:
      - loosen: guard-bolts
      - tighten: guard-bolts
      - back-to: look
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield `back-to` steps that were not followed to their end, and what could not be walked at all."""
    machine = opened.guide.machine
    for book in opened.books:
        for step in book.undecided:
            yield Fault(
                step.key, "this leads back in more ways than can be followed, so what comes after is not proved"
            )
    for long in opened.too_long:
        message = (
            f"this is {long.steps:,} steps when its blocks are written out; more than {MOST_STEPS:,} are not followed"
        )
        yield Fault(long.block.span if long.block else long.sequence.span, message, hint="do each block fewer times")
    for sequence in opened.entangled if machine else ():
        assert machine is not None
        if sequence is None:
            yield Fault(machine.options_span or machine.span, f"{too_many(machine)}, so no job is proved")
        else:
            what = "block" if isinstance(sequence, Block) else "job"
            yield Fault(sequence.span, f"{too_many(machine)}, so this {what} is not proved")
