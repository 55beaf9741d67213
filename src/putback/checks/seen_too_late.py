"""What must come within a time is looked for after that time is over.

Water that must come within 20 s, a light that must go out within 5 s: anyone who runs the engine for five minutes
first, and looks then, has run it dry, or without oil.

Run it no longer than the limit says, or give the run no time; look; then let it run on in another step.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.model.good import limit_of
from putback.model.said import Limit, place_of
from putback.model.timed import time_within
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.controls import Run
from putback.model.verbs.telling import Caution, Note, Wait
from putback.source.finding import Also, Level
from putback.source.quoting import quote
from putback.source.span import Span
from putback.units import Quantity, least, most
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS

FAILS = """
steps:
  - caution: running-engine
  - run: pump
    for: 5 min
         ^^^^^ the pump runs for 5 min before anybody looks for 'water within 60 s'
  - check: outlet
    limit: water within 60 s
    otherwise:
      - stop: Switch the pump off, and look for what blocks it.
"""

PASSES = """
steps:
  - caution: running-engine
  - run: pump
    for: 60 s
  - check: outlet
    limit: water within 60 s
    otherwise:
      - stop: Switch the pump off, and look for what blocks it.
  - run: pump
    for: 4 min
  - check: outlet
    limit: a steady jet
    otherwise:
      - stop: Switch the pump off, and look for what blocks it.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield runs that are longer than what is looked for after them allows; each once."""
    things = opened.graph.machine.things if opened.graph else {}
    for book in opened.in_place():
        told = set[Span]()
        for entry in book.of(Verify, Measure) if book.of(Run) else ():
            limit = limit_of(entry.step.action, things)
            within = time_within(limit.text) if limit else None
            late = _late(book, entry, within) if within else None
            if limit is not None and late is not None and late.span not in told:
                told.add(late.span)
                yield _fault(book, entry, limit, late)


class _Late(NamedTuple):
    """A run that is over before somebody looks."""

    run: Entry
    """Its entry, the longest since what is looked for was due to begin."""
    span: Span
    """The place of its time."""
    total: Quantity
    """How long it goes on."""
    within: Quantity
    """In what time it must be seen."""
    variants: VariantSet
    """The variants in which it is so."""


def _late(book: Book, entry: Entry, within: Quantity) -> _Late | None:
    """Return the run that goes on for longer than the time in which something must be seen after it.

    The time begins with the run, or with the last thing done before somebody looks: then it is no matter of the run.
    """
    space, found, total = book.graph.space, list[_Late](), 0.0
    for other in reversed(book.entries[: entry.index]):
        variants = space.both(other.variants, entry.variants)
        if variants == NONE:
            continue
        match other.step.action:
            case Caution() | Note() | Inspect():
                pass
            case Verify() | Measure() if other.target and entry.target and other.target.name == entry.target.name:
                break  # it was looked at before
            case Verify() | Measure():
                pass
            case Wait(Quantity() as lasts) | Run(_, _, Quantity() as lasts):
                total += least(lasts)
                found += [_Late(other, place_of(lasts.text, other.step.key), lasts, within, variants)]
            case Run():
                pass
            case _:
                break
    runs = [late for late in found if isinstance(late.run.step.action, Run)]
    return max(runs, key=lambda late: least(late.total)) if runs and total > most(within) else None


def _fault(book: Book, entry: Entry, limit: Limit, late: _Late) -> Fault:
    message = f"the {what_runs(book, late.run)} runs for {late.total.text} before anybody looks for {quote(limit.text)}"
    seen = entry.span
    also = (Also(seen, "it is looked for here"), *late.run.ways)
    hint = f"write {quote(late.within.text)}, and let it run on in another step after that one"
    return Fault(late.span, message, also, hint, late.variants, book.reached(late.run))
