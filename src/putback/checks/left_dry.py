"""A fluid is drained and never refilled.

The engine runs dry: a gearcase without oil is ruined in minutes, a circuit without coolant sooner.

Add a `fill` step after the one that closes and tightens the last drain. A block that leaves it to its jobs lists the
fluid under `ends-with`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end, cause
from putback.ledger import Book
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_step
from putback.model.machine import Fastener, Fluid, Part
from putback.model.states import NEVER, FluidState
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: drain-plug
  - drain: coolant
           ^^^^^^^ coolant is drained and never refilled
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
                message = f"{left.thing.name} is drained and never refilled"
                yield Fault(
                    left.span,
                    message,
                    also,
                    listed_at_end(opened, book, left.key) or _hint(book, left),
                    left.variants,
                    left.among,
                    at_end(book, left.key, left.entry),
                )


def _hint(book: Book, left: Unfinished) -> str:
    """Return the step that fills it in; what it goes in through is opened for it, when no step of the job does so."""
    things = book.graph.machine.things
    fluid = things[left.key]
    fills = [things[ref.name] for ref in fluid.fills if ref.name in things] if isinstance(fluid, Fluid) else []
    names, since = {fill.key for fill in fills}, left.entry.index if left.entry else NEVER
    later = book.entries[since + 1 :]
    opened = any(entry.step.verb.opens and entry.target and entry.target.name in names for entry in later)
    hint = back_step(book, "fill", left)
    if opened or not fills or not isinstance(fills[0], Fastener | Part) or not hint.startswith("add 'fill: "):
        return hint
    cap = fills[0]
    tight = f" and 'tighten: {cap.key}'" if isinstance(cap, Fastener) and cap.turned else ""
    step, _, site = hint.removeprefix("add ").partition(" after ")
    return f"add 'remove: {cap.key}' and {step} and 'install: {cap.key}'{tight} after {site}" if site else hint
