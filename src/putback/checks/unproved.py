"""Nothing proves that the machine works after it was put together.

A job that takes something apart ends with a test: water at the tell-tale, gears that engage, no leak.

Add a `run`, `check` or `measure` step, with its limit, after the last thing is fitted.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.ledger.book import PROOF
from putback.ledger.states import Proof
from putback.model.job import Block
from putback.model.machine import noun
from putback.names import VERB_TAKES
from putback.variants import NONE, VariantSet
from putback.words import named

LEVEL = Level.ERROR

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


def find(case: Case) -> Iterator[Fault]:
    """Yield the last assembling step of jobs that no test follows."""
    for book in case.books:
        if isinstance(book.sequence, Block):
            continue
        space = book.graph.space
        causes: dict[int, VariantSet] = {}
        for worlds, state in book.closing(PROOF):
            if isinstance(state, Proof) and state.off_by >= 0:
                causes[state.off_by] = space.either(causes.get(state.off_by, NONE), worlds)
        for number, worlds in causes.items():
            entry = book.entries[number]
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if thing is None or noun(thing) not in VERB_TAKES[entry.step.verb]:
                # Nothing was assembled: the name is wrong, and told as such.
                continue
            yield Fault(
                entry.target.span if entry.target else entry.step.key,
                f"the job ends here without a test: no run, check or measurement follows the work on {named(thing)}",
                entry.ways,
                worlds=worlds,
                among=book.alive,
            )
