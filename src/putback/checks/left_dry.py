"""A fluid is let out and never filled in again.

The engine runs dry: a gearcase without oil is ruined in minutes, a circuit without coolant in less.

Add a `fill` step behind the one that closes and tightens the last drain.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end, cause
from putback.ledger.closing import unfinished
from putback.ledger.missing import back_step
from putback.ledger.opened import Opened
from putback.model.states import FluidState
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: drain-plug
  - drain: coolant
           ^^^^^^^ coolant is let out and never filled in again
  - install: drain-plug
  - tighten: drain-plug
  - check: drain plug
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
  - install: header-cap
  - check: drain plug
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fluids that are out at the end."""
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.state, FluidState) and left.thing:
                also = left.ways
                if left.state.opened_by != left.state.off_by:
                    also += cause(book, left.state.opened_by, "its drain is opened here")
                message = f"{left.thing.name} is let out and never filled in again"
                yield Fault(
                    left.span,
                    message,
                    also,
                    back_step(book, "fill", left),
                    left.variants,
                    left.among,
                    at_end(book, left.key, left.entry),
                )
