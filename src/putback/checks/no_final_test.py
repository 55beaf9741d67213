"""Nothing proves that the machine works after it was put together.

A job that takes something apart ends with a test: water at the tell-tale, gears that engage, no leak.

Add a `run`, `check` or `measure` step, with its limit, after the last thing is fitted.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, End
from putback.ledger.book import PROOF
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Block, Later
from putback.model.states import ProofState
from putback.source.finding import Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
  - tighten: guard-bolts
             ^^^^^^^^^^^ the job ends here without a test: no run, check or measurement follows the work on guard bolts
"""

PASSES = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last assembling step of jobs that no test follows."""
    for book in opened.books:
        if isinstance(book.sequence, Block | Later):
            continue
        for end in book.ends:
            yield from _at_end(book, end)


def _at_end(book: Book, end: End) -> Iterator[Fault]:
    space, left = book.graph.space, NONE
    for held, state in book.closing(PROOF, end):
        if isinstance(state, ProofState) and not state.proved:
            left = space.either(left, held)
    for entry, on_the_way in book.before_end(end) if left != NONE else ():
        variants = space.both(left, on_the_way)
        if variants == NONE or not entry.step.verb.assembles:
            continue
        left = space.without(left, variants)
        thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
        if entry.target is None or thing is None or not entry.step.verb.takes_thing(thing):
            # Nothing was assembled: the name is wrong, and told as such.
            continue
        message = f"the job ends here without a test: no run, check or measurement follows the work on {named(thing)}"
        yield Fault(entry.target.span, message, entry.ways, variants=variants, among=end.variants)
