"""Equipment is never taken away.

A locking pin in the flywheel, a plug in a hose or a rag in a port wrecks the engine at the first start.

Add a `take-away` step.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger.closing import unfinished
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_step
from putback.model.states import EquipmentState
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - place: locking-pin
           ^^^^^^^^^^^ locking pin is put in place and never taken away
"""

PASSES = """
steps:
  - place: locking-pin
  - take-away: locking-pin
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield equipment that is still there at the end."""
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.state, EquipmentState):
                name = book.library.equipment[left.key].name
                message = f"{name} is put in place and never taken away"
                yield Fault(
                    left.span,
                    message,
                    left.ways,
                    listed_at_end(opened, book, left.key) or back_step(book, "take-away", left),
                    left.variants,
                    left.among,
                    at_end(book, left.key, left.entry),
                )
