"""A job does not say how long it takes.

The quayside crane is booked by the hour. Who starts a job that takes longer than the tide does not finish it.

Give the job its `time`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level

LEVEL = Level.WARNING
GROUP = Group.HOUSE

FAILS = """
job: Look at the guard
^^^ this job has no time
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""

PASSES = """
job: Look at the guard
time: 5 min
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield jobs without a time."""
    for job in opened.guide.jobs.values():
        if job.time is None:
            yield Fault(job.span, "this job has no time", hint="add 'time', such as 'time: 30 min'")
