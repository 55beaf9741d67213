"""A hose, pipe, cable or linkage is never reconnected.

It leaks, draws air, or does nothing.

Add a `connect` step for it, or for the end that is still off.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger.closing import unfinished
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_step
from putback.model.machine import Line
from putback.model.states import LineState, ends
from putback.source.finding import Level
from putback.source.grammar import listed

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - set: seacock
    to: closed
  - disconnect: inlet-hose
                ^^^^^^^^^^ inlet hose comes off and is never reconnected
  - set: seacock
    to: open
"""

PASSES = """
steps:
  - set: seacock
    to: closed
  - disconnect: inlet-hose
  - connect: inlet-hose
  - set: seacock
    to: open
  - check: inlet hose
    limit: no drop in 1 min
    otherwise:
      - stop: Close the seacock. Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield lines with an open end."""
    things = opened.graph.machine.things if opened.graph else {}
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.state, LineState) and isinstance(left.thing, Line):
                where = ""
                if left.state.open < ends(left.thing):
                    names = [things[end].name if end in things else end for end in sorted(left.state.open)]
                    where = f" at the {listed(names)}"
                message = f"{left.thing.name} comes off and is never reconnected{where}"
                yield Fault(
                    left.span,
                    message,
                    left.ways,
                    listed_at_end(opened, book, left.key) or back_step(book, "connect", left),
                    left.variants,
                    left.among,
                    at_end(book, left.key, left.entry),
                )
