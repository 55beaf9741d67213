"""Nothing proves that the machine works after it was put together.

A job that takes something apart ends with a test: water at the tell-tale, gears that engage, no leak.

Add a `run`, `check` or `measure` step, with its limit, after the last thing is fitted.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book
from putback.ledger.book import PROOF
from putback.ledger.goes_with import is_silent
from putback.ledger.opened import Opened
from putback.ledger.proof import not_tested
from putback.model.called import named
from putback.model.job import Job
from putback.model.states import ProofState
from putback.source.finding import Also, Level
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
    unsure = {
        one.use.ref.span.path
        for one in opened.unknown
        if one.use.kinds in (("option",), ("choice",)) and not one.is_clear
    }
    for book in opened.books:
        if book.sequence.path in unsure:
            continue  # what stands under a condition that nobody knows may be the test
        for end, entry, variants, test in not_tested(book) if book.is_last else ():
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if entry.target is None or thing is None or not entry.step.verb.takes_thing(thing):
                continue  # nothing was assembled: the name is wrong, and told as such
            work, also = f"the work on {named(thing)}", entry.ways
            message = f"the job ends here without a test: no run, check or measurement follows {work}"
            if test is not None and test.index < entry.index:
                also = (Also(test.span, "the last test comes before it"), *also)
            elif test is not None and is_silent(test):
                message = f"the job ends without a test: nothing is checked during the run that follows {work}"
                also = (Also(test.span, "it is run here"), *also)
            elif test is not None:
                message = f"no test of the whole follows {work}"
                also = (Also(test.span, "this tests something else"), *also)
            yield Fault(entry.target.span, message, also, None, variants, end.variants)
        if book.is_last and book.earlier is not None:
            yield from _of_chain(book)


def _of_chain(book: Book) -> Iterator[Fault]:
    """Yield that the last job of a chain puts nothing together, and does not test what the one before did."""
    if not isinstance(book.sequence, Job):
        return
    either, without = book.graph.space.either, book.graph.space.without
    for end in book.ends:
        told = NONE
        for one in not_tested(book):
            told = either(told, one.variants) if one.end is end else told
        for held, state in book.closing(PROOF, end):
            variants = without(held, told)
            if isinstance(state, ProofState) and not state.proved and book.sequence.after and variants != NONE:
                message = "the chain ends here without a test: nothing tests what the job before put together"
                yield Fault(book.sequence.after.span, message, variants=variants, among=end.variants)
