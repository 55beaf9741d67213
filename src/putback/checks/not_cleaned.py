"""Something goes on before what it sits on is cleaned.

A gasket on the remains of the old one leaks; a bearing on a burr or a grain of sand sits crooked. The machine file says
with `clean-before` what goes on a face only once it is clean.

Add a `clean` step after the old one comes off and before the new one goes on.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger.opened import Opened
from putback.ledger.prepared import bare, cleaned, fittings
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLEANING

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  gasket: {replace: always}
  pump: {clean-before: gasket}
stacks: [[gasket, pump]]
# jobs/example.yaml
steps:
  - remove: gasket
  - install: gasket
             ^^^^^^ gasket goes on before pump is cleaned
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
  gasket: {replace: always}
  pump: {clean-before: gasket}
stacks: [[gasket, pump]]
# jobs/example.yaml
steps:
  - remove: gasket
  - clean: pump
  - install: gasket
    new: true
  - check: the pump
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what goes on a thing that was not cleaned since that came off."""
    things = opened.graph.machine.things if opened.graph else {}
    seats: dict[str, list[tuple[AnyThing, Also]]] = {}
    for thing in things.values():
        for ref in thing.clean_before:
            seats.setdefault(ref.name, []).append((thing, Also(ref.span, "the machine file says so here")))
    for book in opened.in_place() if seats else ():
        for fitting in fittings(book):
            for seat, said in seats.get(fitting.thing.key, ()):
                variants, off_by = bare(book, fitting, cleaned(book, seat))
                variants = book.graph.space.both(variants, book.graph.present(seat.key))
                if variants == NONE:
                    continue
                go, be = verb_s(fitting.thing, "goes", "go"), verb_s(seat, "is", "are")
                what = verb_s(seat, "it is", "they are") if seat.key == fitting.thing.key else f"{named(seat)} {be}"
                message = f"{named(fitting.thing)} {go} on before {what} cleaned"
                hint = f"add 'clean: {seat.key}' before it"
                also = (*cause(book, off_by, "taken off here"), said, *fitting.entry.ways)
                yield Fault(fitting.ref.span, message, also, hint, variants, book.reached(fitting.entry))
