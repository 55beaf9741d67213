"""A part goes on without the grease or oil that belongs on it.

A seal with a dry lip burns in the first minute, a dry impeller tears, a dry chain wears out. The machine file names
under `lubricant` what goes on a part before it is fitted.

Add an `apply` step before it goes on: to the part, or to what it goes on.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.ledger.prepared import Fitting, applied, bare, fittings
from putback.model.called import named, verb_s
from putback.model.machine import Fastener, Part
from putback.source.finding import Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLEANING

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  shaft-seal: {lubricant: grease, replace: always}
  pump: {}
stacks: [[shaft-seal, pump]]
# consumables.yaml
grease: {}
# jobs/example.yaml
steps:
  - remove: shaft-seal
  - install: shaft-seal
             ^^^^^^^^^^ shaft seal goes on without grease
    new: true
  - check: the pump
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  shaft-seal: {lubricant: grease, replace: always}
  pump: {}
stacks: [[shaft-seal, pump]]
# consumables.yaml
grease: {}
# jobs/example.yaml
steps:
  - remove: shaft-seal
  - apply: grease
    to: shaft-seal
  - install: shaft-seal
    new: true
  - check: the pump
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield parts that go on before their lubricant was applied to them, or to what they go on."""
    for book in opened.in_place():
        on = None
        for fitting in fittings(book):
            thing = fitting.thing
            if not isinstance(thing, Part) or thing.lubricant is None:
                continue
            lubricant = book.library.consumables.get(thing.lubricant.name)
            on = applied(book) if on is None else on
            ready = [other for place in _places(book, fitting) for other in on.get((place, thing.lubricant.name), [])]
            variants, off_by = bare(book, fitting, ready)
            if variants == NONE or lubricant is None:
                continue
            be = verb_s(thing, "goes", "go")
            message = f"{named(thing)} {be} on without {lubricant.name}"
            hint = f"add 'apply: {lubricant.key}' with 'to: {thing.key}' before it"
            also = (*cause(book, off_by, "taken off here"), *fitting.entry.ways)
            yield Fault(fitting.ref.span, message, also, hint, variants, book.reached(fitting.entry))


def _places(book: Book, fitting: Fitting) -> list[str]:
    """Return the part, and what it goes on: what is inside it, under it in a stack, what it is screwed into."""
    thing, graph = fitting.thing, book.graph
    inside = [edge.inner for edge in graph.inside(thing.key)]
    to = [thing.to.name] if isinstance(thing, Fastener) and thing.to else []
    return list(dict.fromkeys([thing.key, *inside, *graph.under(thing.key), *to]))
