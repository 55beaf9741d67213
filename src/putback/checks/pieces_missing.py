"""Fewer fasteners go back than came out.

Six out is six in. A screw that is in the tray at the end is missing somewhere.

Install the rest, or correct the count.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book, Entry
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.opened import Opened
from putback.model.called import counted, placed
from putback.model.states import GroupState
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Level
from putback.source.grammar import number
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
             ^^^^^^^^^^^ two guard bolts come out, but only one goes back
    count: 1
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: guard-bolts
    count: 1
  - install: guard-bolts
    count: 1
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield groups of which only some are back at the end."""
    for book in opened.books:
        for left in unfinished(book):
            if isinstance(left.state, GroupState) and left.thing and 0 < left.state.out < left.state.taken:
                taken, back = left.state.taken, left.state.taken - left.state.out
                entry = _put_in(book, left)
                go = "goes" if back == 1 else "go"
                message = f"{counted(left.thing, taken)} come out, but only {number(back)} {go} back"
                if left.state.places:
                    message += f": the one{placed(left.thing, left.state.places, as_='out')} is missing"
                yield Fault(
                    entry.target.span if entry and entry.target else left.span,
                    message,
                    (*cause(book, left.state.off_by, "taken out here"), *(entry.ways if entry else ())),
                    variants=left.variants,
                    among=left.among,
                )


def _put_in(book: Book, left: Unfinished) -> Entry | None:
    """Return the last entry that put some in; others may have been loosened since."""
    found = None
    for entry in book.of(Install, Replace):
        if (
            entry.target
            and entry.target.name == left.key
            and book.graph.space.both(entry.variants, left.variants) != NONE
        ):
            found = entry
    return found
