"""A block says that it leaves something off, and does not.

The job that does the block, and the next one to change it, rely on `ends-with`. What is listed there without need hides
the day when something is really forgotten.

Take the name out of `ends-with`, or add the step that is missing from the block.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, leaving
from putback.ledger.closing import is_closed
from putback.ledger.opened import Opened, wider
from putback.model.called import named, verb_s
from putback.model.job import Block
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING

FAILS = """
# blocks/guard-off.yaml
block: Take off the belt guard
ends-with: [guard-bolts, belt-guard]
                         ^^^^^^^^^^ belt guard is listed under 'ends-with', but the block does not leave it so
steps:
  - remove: guard-bolts
# jobs/example.yaml
steps:
  - do: guard-off
  - reverse: guard-off
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# blocks/guard-off.yaml
block: Take off the belt guard
ends-with: [guard-bolts, belt-guard]
steps:
  - remove: guard-bolts
  - remove: belt-guard
# jobs/example.yaml
steps:
  - do: guard-off
  - reverse: guard-off
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names under `ends-with` whose account closes as a whole machine's would, in every variant."""
    faults = list(_found(opened))
    if faults and opened.only:
        # What the chosen variants do not need, others may.
        everywhere = {fault.span for fault in _found(wider(opened))}
        faults = [fault for fault in faults if fault.span in everywhere]
    yield from faults


def _found(opened: Opened) -> Iterator[Fault]:
    for book in opened.books:
        if not isinstance(book.sequence, Block):
            continue
        for ref in book.sequence.ends_with:
            if is_closed(book, ref.name):
                thing = book.graph.machine.things.get(ref.name)
                equipment = book.library.equipment.get(ref.name)
                name = named(thing) if thing else equipment.name if equipment else ref.name
                several = thing is not None and verb_s(thing, "is", "are") == "are"
                listed = f"{name} {'are' if several else 'is'} listed under 'ends-with'"
                message = f"{listed}, but the block does not leave {'them' if several else 'it'} so"
                yield Fault(ref.span, message, root=leaving(book, ref.name))
