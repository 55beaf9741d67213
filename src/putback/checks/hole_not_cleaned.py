"""A bolt goes into a blind hole that nobody blew or swabbed out while it was open.

Oil, water or coolant at the bottom of a blind hole has no way out: the bolt acts on it like the piston of a press, and
cracks the casting. On grit, the bolt reaches its torque before the joint is closed.

After what is bolted there comes off, add a `clean` step for the holes, with compressed air or a rag on a thin rod.
Words such as `clean: the blind holes of the head bolts` are enough. The machine file says which holes are blind:
`hole: blind`.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group, cause, met_at
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.ledger.prepared import Fitting, bare, fittings
from putback.model.called import named, verb_s
from putback.model.machine import Fastener
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.pieces import Remove
from putback.source.finding import Level
from putback.source.late import Late
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLEANING

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, secures: lid, to: pump, class: "8.8", hole: blind}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - remove: lid
  - clean: lid-screws
  - install: lid
  - install: lid-screws
             ^^^^^^^^^^ lid screws go into blind holes that were not cleaned out while open
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
  lid-screws: {count: 2, thread: M6, torque: 7 N·m, secures: lid, to: pump, class: "8.8", hole: blind}
# jobs/example.yaml
steps:
  - remove: lid-screws
  - remove: lid
  - clean: the blind holes of the lid screws
  - install: lid
  - install: lid-screws
  - tighten: lid-screws
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_HOLES = Late(r"\b(?:holes?|tapped|tappings?|(?:inner|female|internal) threads?)\b", re.IGNORECASE)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners that go into a blind hole which was open, and was not cleaned out."""
    things = opened.graph.machine.things if opened.graph else {}
    blind = {key for key, thing in things.items() if isinstance(thing, Fastener) and thing.hole == "blind"}
    for book in opened.in_place() if blind else ():
        for fitting in fittings(book):
            if fitting.thing.key in blind and isinstance(fitting.thing, Fastener):
                yield from _into(book, fitting, fitting.thing, english=opened.guide.is_english)


def _into(book: Book, fitting: Fitting, thing: Fastener, *, english: bool) -> Iterator[Fault]:
    things = book.graph.machine.things
    ready = [
        entry
        for entry in book.of(Clean)
        if entry.target
        and entry.target.name not in things
        and (not english or _HOLES.search(f"{entry.target.name} {entry.step.text or ''}"))
    ]
    variants, off_by = bare(book, fitting, ready)
    opens = {ref.name for ref in thing.secures}
    uncovered = [
        entry
        for entry in book.of(Remove)
        if entry.target and entry.target.name in opens and off_by < entry.index < fitting.entry.index
    ]
    if variants == NONE or not uncovered:
        return
    holes, was = verb_s(thing, "a blind hole", "blind holes"), verb_s(thing, "was", "were")
    message = f"{named(thing)} {verb_s(thing, 'goes', 'go')} into {holes} that {was} not cleaned out while open"
    hint = f"add 'clean: the blind {verb_s(thing, 'hole', 'holes')} of the {named(thing)}' before it"
    also = (*cause(book, off_by, "taken out here"), *fitting.entry.ways)
    span = met_at(fitting.entry, book.by(off_by))
    yield Fault(span, message, also, hint, variants, book.reached(fitting.entry))
