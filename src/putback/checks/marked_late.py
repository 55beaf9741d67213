"""A position is marked when nothing holds the part any more.

Once the bolts are loose it has slipped, or been turned over in the hand: the mark shows where it lies, not where it
sat.

Mark it before what holds it is loose. Looking at a mark later, or scribing it again, is fine if an earlier one was made
in time.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book
from putback.ledger.loosened import loosed
from putback.ledger.opened import Opened
from putback.mending.sooner import own_step, said
from putback.model.called import named, verb_s
from putback.model.machine import Line, Part
from putback.model.verbs.marking import Mark
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: tensioner-bolt
  - mark: tensioner
          ^^^^^^^^^ tensioner is marked here, but is already loose
  - remove: tensioner
  - install: tensioner
  - align: tensioner
  - install: tensioner-bolt
  - tighten: tensioner-bolt
  - check: belt
    limit: gives 10 mm at 20 N
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - mark: tensioner
  - remove: tensioner-bolt
  - remove: tensioner
  - install: tensioner
  - align: tensioner
  - install: tensioner-bolt
  - tighten: tensioner-bolt
  - check: belt
    limit: gives 10 mm at 20 N
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield first marks of what nothing holds any more: it may have moved."""
    for book in opened.in_place():
        yield from _of_book(book)


def _of_book(book: Book) -> Iterator[Fault]:
    space, before = book.graph.space, dict[str, VariantSet]()
    for entry in book.of(Mark):
        thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
        if not isinstance(thing, Part | Line) or not thing.adjustable or entry.target is None:
            continue
        earlier, (variants, since) = before.get(thing.key, NONE), loosed(book, entry, thing.key)
        before[thing.key], loose = space.either(earlier, entry.variants), book.by(since)
        variants = space.without(space.without(variants, earlier), book.away(thing.key, entry))
        if variants != NONE and loose is not None and loose.target is not None:
            are = verb_s(thing, "is", "are")
            message = f"{named(thing)} {are} marked here, but {are} already loose"
            hint = None if entry.via else f"move it before {said(own_step(loose), entry.step.key)}"
            also = (*cause(book, since, "it came loose here"), *entry.ways)
            yield Fault(entry.target.span, message, also, hint, variants, book.reached(entry))
