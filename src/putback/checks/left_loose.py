"""A fastener is left loose or hand-tight.

What is only hand-tight works loose, leaks, or falls off while running.

Add a `tighten` step behind the last `install` or `loosen` of it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger.closing import unfinished
from putback.ledger.opened import Opened
from putback.model.called import counted, placed, verb_s
from putback.model.states import GroupState
from putback.model.verbs.pieces import Loosen
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
             ^^^^^^^^^^^ two guard bolts go in hand-tight and are never tightened
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield groups that are not tight at the end."""
    for book in opened.books:
        for left in unfinished(book):
            if not isinstance(left.state, GroupState) or not left.state.loose or left.thing is None:
                continue
            entry, thing, count = book.by(left.state.on_by), left.thing, left.state.loose
            be = verb_s(thing, "is", "are", count)
            if entry and isinstance(entry.step.action, Loosen):
                done = f"{be} loosened"
            else:
                done = f"{verb_s(thing, 'goes', 'go', count)} in hand-tight"
                done += "" if entry else " or loose"
            also = cause(book, left.state.off_by, "taken out here") if left.state.off_by != left.state.on_by else ()
            what = f"{counted(thing, count)}{placed(thing, left.state.places, as_='loose')}"
            yield Fault(
                entry.target.span if entry and entry.target else left.span,
                f"{what} {done} and {be} never tightened",
                (*also, *(entry.ways if entry else ())),
                hint=f"add 'tighten: {left.key}'",
                variants=left.variants,
                among=left.among,
            )
