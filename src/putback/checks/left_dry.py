"""A fluid is drained and never refilled.

The engine runs dry: a gearcase without oil is ruined in minutes, a circuit without coolant sooner.

Add a `fill` step after the one that closes and tightens the last drain. A block that leaves it to its jobs lists the
fluid under `ends-with`.
"""

from collections.abc import Callable, Collection, Iterator
from typing import Any

from putback.checks import Fault, Group, at_end, cause
from putback.ledger import Book, Entry
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_step
from putback.mending.sites import at_line
from putback.model.machine import Fastener, Fluid, Part
from putback.model.states import NEVER, FluidState
from putback.model.verb import Verb
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
    """Return the step that fills it in: while what it goes in through is open, and all drains are shut.

    Where the job has it open at no such time, it is opened once more.
    """
    things, hint = book.graph.machine.things, back_step(book, "fill", left)
    fluid = things[left.key]
    fills = [things[ref.name] for ref in fluid.fills if ref.name in things] if isinstance(fluid, Fluid) else []
    if not isinstance(fluid, Fluid) or not fills or not hint.startswith("add 'fill: "):
        return hint
    since, caps = left.entry.index if left.entry else NEVER, {fill.key for fill in fills}
    shut = _last(book, {ref.name for ref in fluid.drains} - caps, since, lambda verb: verb.shuts)
    opened = _last(book, caps, since, lambda verb: verb.opens)
    ready = max(each.index for each in (shut, opened) if each) if opened else NEVER
    closing = next((each for each in book.entries[ready + 1 :] if each.step.verb.shuts and _is_on(each, caps)), None)
    step, _, site = hint.removeprefix("add ").partition(" after ")
    if opened and closing:
        return f"add {step.partition(' before ')[0]} before {at_line(closing.step, left.span)}"
    cap = fills[0]
    if (opened and not _last(book, caps, opened.index, lambda verb: verb.shuts)) or not isinstance(
        cap, Fastener | Part
    ):
        return hint
    if not site and shut:
        step, site = step.partition(" before ")[0], at_line(shut.step, left.span)
    tight = f" and 'tighten: {cap.key}'" if isinstance(cap, Fastener) and cap.turned else ""
    return f"add 'remove: {cap.key}' and {step} and 'install: {cap.key}'{tight} after {site}" if site else hint


def _last(book: Book, names: Collection[str], since: int, does: Callable[[Verb[Any]], bool]) -> Entry | None:
    """Return the last entry after another that does something with one of some things."""
    later = reversed(book.entries[since + 1 :])
    return next((each for each in later if _is_on(each, names) and does(each.step.verb)), None)


def _is_on(entry: Entry, names: Collection[str]) -> bool:
    return entry.target is not None and entry.target.name in names
