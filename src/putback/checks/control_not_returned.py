"""A control is not returned to its normal position.

The next person finds the seacock closed, or the machine in gear.

Add a `set` step that returns it to its normal position.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end, cause
from putback.ledger.closing import unfinished
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_step
from putback.model.machine import Control
from putback.model.states import ControlState
from putback.source.characters import visible
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - set: seacock
         ^^^^^^^ seacock is left closed; it must be open at the end
    to: closed
"""

PASSES = """
steps:
  - set: seacock
    to: closed
  - set: seacock
    to: open
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield controls that are not in their normal position at the end."""
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.state, ControlState) and isinstance(left.thing, Control):
                also = left.ways
                if left.state.off_by != left.state.on_by:
                    also += cause(book, left.state.off_by, "it leaves its normal position here")
                normal = left.thing.normal.name
                message = f"{left.thing.name} is left {left.state.position}; it must be {normal} at the end"
                back = back_step(book, "set", left, [f"'to: {visible(normal)}'"])
                hint = listed_at_end(opened, book, left.key) or back
                yield Fault(
                    left.span, message, also, hint, left.variants, left.among, at_end(book, left.key, left.entry)
                )
