"""Hands are in a machine that can start.

A key that is on, a lanyard that is clipped, a lead that is back on its plug: one touch, or one turn of the flywheel,
and the machine takes the hand that is still on a pin, a hose or a tank. The machine file says under `can-start` when
that is so.

Complete the last of these just before the run, after everything that is done by hand, and undo it straight after the
run, before anything is touched. In between, controls may be set and anything looked at.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.ledger.starting import Ready, hands_in, ready_at, runs_before, stands_beside, ways_to_start
from putback.mending.unready import ended
from putback.model.called import named
from putback.model.terms import Need
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench engine
controls:
  lanyard: {positions: [clipped, pulled], normal: pulled}
parts:
  engine: {}
  propeller: {}
fasteners:
  pin: {kind: cotter pin, secures: propeller}
needs: {run: {lanyard: clipped}}
can-start: {lanyard: clipped}
# jobs/example.yaml
steps:
  - remove: pin
  - remove: propeller
  - set: lanyard
    to: clipped
  - install: propeller
             ^^^^^^^^^ the machine can start here, with lanyard clipped
  - install: pin
  - caution: running-engine
  - run: engine
  - {check: propeller, limit: turns freely, otherwise: [{set: lanyard, to: pulled}, {stop: Do the job again.}]}
  - set: lanyard
    to: pulled
"""

PASSES = """
# machine.yaml
machine: Bench engine
controls:
  lanyard: {positions: [clipped, pulled], normal: pulled}
parts:
  engine: {}
  propeller: {}
fasteners:
  pin: {kind: cotter pin, secures: propeller}
needs: {run: {lanyard: clipped}}
can-start: {lanyard: clipped}
# jobs/example.yaml
steps:
  - remove: pin
  - remove: propeller
  - install: propeller
  - install: pin
  - caution: running-engine
  - set: lanyard
    to: clipped
  - run: engine
  - {check: propeller, limit: turns freely, otherwise: [{set: lanyard, to: pulled}, {stop: Do the job again.}]}
  - set: lanyard
    to: pulled
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first step with hands in a machine that can start, since it can, and since it last ran."""
    for book in opened.in_place():
        if not ways_to_start(book):
            continue
        told: dict[tuple[int, int], VariantSet] = {}
        for entry in book.entries:
            hands = hands_in(book, entry)
            for ready in ready_at(book, entry, hands) if hands != NONE else ():
                key = ready.since, runs_before(book, entry)
                here = book.graph.space.without(ready.variants, told.get(key, NONE))
                if stands_beside(book, entry, ready):
                    continue
                if here != NONE:
                    told[key] = book.graph.space.either(told.get(key, NONE), here)
                    yield _fault(book, entry, ready._replace(variants=here))


def _fault(book: Book, entry: Entry, ready: Ready) -> Fault:
    so = listed([_said(book, need) for need in ready.way])
    end = ended(book, entry, ready)
    also = (
        *cause(book, ready.since, "since here"),
        Also(ready.way[0].control.span, "the machine file says so here"),
        *entry.ways,
    )
    root = Root(
        book.sequence.path, end.need.control.name, end.need.position.name, ready.since, entry.index, follows=True
    )
    span = entry.span
    return Fault(
        span, f"the machine can start here, with {so}", also, end.hint, ready.variants, book.reached(entry), root
    )


def _said(book: Book, need: Need) -> str:
    thing = book.graph.machine.things.get(need.control.name)
    brought = book.library.equipment.get(need.control.name)
    name = named(thing) if thing else brought.name if brought else need.control.name
    return f"{name} {need.position.name}"
