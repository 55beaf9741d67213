"""New thread-locker or sealant goes on the remains of the old.

Old thread-locker keeps the new from curing, and its crumbs take up the torque. A bolt that was sealed twice leaks along
the old sealant.

Add a `clean` step for the piece, or for its threads, after it comes out and before the new compound goes on. A new
piece needs none.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group, cause, met_at
from putback.ledger import Book, Entry
from putback.ledger.newness import comes_new
from putback.ledger.opened import Opened
from putback.ledger.prepared import HARDENS, Fitting, applied, bare, cleaned, fittings, wants_cleaning
from putback.model.called import goes_in, named, verb_s
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Replace
from putback.source.finding import Level
from putback.source.late import Late
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.CLEANING

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, compound: locker, secures: lid, to: pump, class: "8.8"}
# consumables.yaml
locker: {name: thread-locker, threads: thread-locker}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - apply: locker
    to: lid-screws
  - install: lid-screws
             ^^^^^^^^^^ lid screws go in with new thread-locker on the old
  - tighten: lid-screws
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, compound: locker, secures: lid, to: pump, class: "8.8"}
# consumables.yaml
locker: {name: thread-locker, threads: thread-locker}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - clean: the threads of the lid screws and of their holes
  - apply: locker
    to: lid-screws
  - install: lid-screws
  - tighten: lid-screws
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


_HOLES = Late(r"(?:the )?(?:blind |threaded |tapped )?holes? (?:of|for) (?!.*\b(?:and|with)\b)", re.IGNORECASE)
"""Words of who cleans the holes, and not what goes into them."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield old pieces that go in with something new on a thread that never lost the old."""
    asked = wants_cleaning(opened.graph.machine) if opened.graph else set()  # `not-cleaned` looks at these
    hardens = [key for key, each in opened.guide.library.consumables.items() if each.threads in HARDENS]
    for book in opened.in_place() if hardens else ():
        on = applied(book)
        coated = {thing for thing, consumable in on if consumable in hardens} - asked
        for fitting in fittings(book) if coated else ():
            if fitting.thing.key in coated:
                for consumable in hardens:
                    yield from _coated(book, fitting, consumable, on.get((fitting.thing.key, consumable), []))


def _coated(book: Book, fitting: Fitting, consumable: str, on: list[Entry]) -> Iterator[Fault]:
    """Yield that an old piece goes in with something new on its thread that never lost the old."""
    space, thing = book.graph.space, fitting.thing
    if not on or isinstance(fitting.entry.step.action, Replace) or (isinstance(thing, Fastener) and thing.single_use):
        return  # that the old one goes back where it must be new is told by `single-use-reused`
    pieces = [each for each in cleaned(book, thing) if not (each.target and _HOLES.match(each.target.name))]
    variants, off_by = bare(book, fitting, pieces)
    fresh: VariantSet = NONE
    for entry in on:
        if off_by < entry.index < fitting.entry.index:
            fresh = space.either(fresh, space.variants_of(entry.variants))
    variants = space.without(space.both(variants, fresh), comes_new(book, fitting.entry))
    if variants != NONE and book.by(off_by) is not None:
        name = book.library.consumables[consumable].name
        where = "in" if goes_in(thing) else "on"
        message = f"{named(thing)} {verb_s(thing, 'goes', 'go')} {where} with new {name} on the old"
        span, hint = met_at(fitting.entry, book.by(off_by)), f"add 'clean: {thing.key}' before it"
        also = (*cause(book, off_by, f"taken {'out' if where == 'in' else 'off'} here"), *fitting.entry.ways)
        yield Fault(span, message, also, hint, variants, book.reached(fitting.entry))
