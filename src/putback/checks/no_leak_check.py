"""Fuel, oil, coolant or water was drained and refilled, and nothing is checked for leaks.

A forgotten washer, or a hose that is not on straight, loses its fluid overnight: onto a hot exhaust, into the bilge, or
out of a gearcase that then runs dry. Anyone who looks sees it in a minute.

After it, add a `check`, an `inspect` or a `measure` for leaks: a limit such as "dry after 10 min", or a pressure that
holds. `clean` the place first, since a leak shows only where it is dry.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, End
from putback.ledger.leaks import closings
from putback.ledger.opened import Opened
from putback.ledger.proof import not_tested
from putback.model.called import named
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - remove: header-cap
  - fill: coolant
          ^^^^^^^ after the work on coolant, nothing is checked for leaks
  - install: header-cap
  - check: coolant in the header tank
    limit: stands at the filler neck
    otherwise:
      - act: Top it up.
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
  - check: drain-plug
    limit: dry after 10 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last step that fills or closes, where no look for leaks follows on some way to the end."""
    for book in opened.books:
        if not book.is_last:
            continue
        for end in book.ends:
            yield from _at_end(book, end)


def _at_end(book: Book, end: End) -> Iterator[Fault]:
    space, silent = book.graph.space, NONE
    found = closings(book, end)
    for without in not_tested(book) if found else ():
        if without.end is end and (without.test is None or without.test.index < without.entry.index):
            # Where no test follows at all, `no-final-test` tells it.
            silent = space.either(silent, without.variants)
    for entry, variants, looked in found:
        here = space.without(variants, silent)
        if here != NONE and entry.target:
            message = (
                f"after the work on {named(book.graph.machine.things[entry.target.name])}, nothing is checked for leaks"
            )
            also = entry.ways
            if looked is not None and looked.target is not None:
                also = (Also(looked.target.span, "this one is too early"), *also)
            hint = "add a 'check' after it, for example with 'limit: dry after 10 min'"
            yield Fault(entry.target.span, message, also, hint, here, end.variants)
