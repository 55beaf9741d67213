"""What was out of limit is changed, but nothing asks whether it is right now.

One shim too many, an adjuster that turned with its lock nut, a contact that was cleaned and is still bad: the job
continues, and the fault goes back with it.

End the branch with the same measurement again and a `stop` in case it fails again, with a `back-to` that returns to the
question, or with a `stop`. A worn part that is replaced by a new one needs no measuring; a gap or a setting does. A
step that only looks, tells or makes safe changes nothing; a note that says "turn the star wheel" does, unless it says
until when.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.no_final_test import find as untested_work
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.ledger.remedies import Remedy, unproved
from putback.mending.sites import some_when, with_keys
from putback.model.verbs.asking import Measure
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: gap under the guard
    name: gap
    limit: 2 mm .. 5 mm
    otherwise:
      - loosen: guard-bolts
      - act: Move the guard.
      - tighten: guard-bolts
                 ^^^^^^^^^^^ what was out of limit is changed here, but not measured again
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - measure: gap under the guard
    name: gap
    limit: 2 mm .. 5 mm
    otherwise:
      - loosen: guard-bolts
      - act: Move the guard.
      - tighten: guard-bolts
      - back-to: gap
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last change of each remedy that does not prove itself."""
    found = [_fault(book, remedy) for book in opened.in_place() for remedy in unproved(book)]
    # Where no test follows at all, `no-final-test` tells it.
    untested = {fault.span for fault in untested_work(opened)} if found else set()
    yield from (fault for fault in found if fault.span not in untested)


def _fault(book: Book, remedy: Remedy) -> Fault:
    asked, measured = remedy.asked, isinstance(remedy.asked.action, Measure)
    message = f"what was out of limit is changed here, but not {'measured' if measured else 'checked'} again"
    once_more = f"{asked.verb.name} it again after this, with 'otherwise: [stop: …]'"
    if not remedy.outermost:
        hint = once_more
    elif asked.name:
        when = with_keys(some_when(book, None, remedy.variants))
        hint = f"add 'back-to: {asked.name.name}'{when} after this, or {once_more}"
    else:
        hint = f"{once_more}; or give that step a 'name', and add 'back-to' with it here"
    return Fault(
        remedy.span, message, (Also(asked.key, f"{'measured' if measured else 'checked'} here"),), hint, remedy.variants
    )
