"""A job goes back to an earlier step in more ways than can be followed.

Every time that an `again` leads back, the machine may stand differently, and each of these ways is followed until
nothing new turns up. Here there are too many, so that nothing is proved of what comes after.

Let fewer inspections lead back, or end the job with `stop` and say where to begin anew.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level

LEVEL = Level.ERROR
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
parts: {lid: {}}
fasteners:
  screws: {name: lid screw, count: 300, holds: lid}
# jobs/example.yaml
steps:
  - remove: screws
    count: 1
    name: look
  - check: the joint
    limit: dry
    otherwise:
      - again: look
        ^^^^^ this leads back in more ways than can be followed, so what comes after is not proved
  - install: screws
  - check: the joint, at last
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - inspect: belt-guard
    name: look
  - check: belt guard
    limit: does not rattle
    otherwise:
      - loosen: guard-bolts
      - tighten: guard-bolts
      - again: look
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield `again` steps that were not followed to their end."""
    for book in case.books:
        for step in book.undecided:
            yield Fault(
                step.key, "this leads back in more ways than can be followed, so what comes after is not proved"
            )
