"""A new gasket or anode goes on a face that was not cleaned after the old one came off.

Shreds of the old gasket leave a leak beside the new one, and bend what is bolted down on them. An anode on paint or
scale protects nothing.

Add a `clean` step for the faces after the old one comes off and before the new one goes on. Scraping the gasket off is
half the work: oil and dust remain. `clean-before` in the machine file asks for one face by name.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause, met_at
from putback.ledger import Book
from putback.ledger.newness import comes_new
from putback.ledger.opened import Opened
from putback.ledger.prepared import Fitting, bare, fittings, wants_cleaning
from putback.model.called import named, speaks_of, verb_s
from putback.model.machine import AnyThing, Part
from putback.model.screwed import ScrewedPart
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.pieces import Install
from putback.source.finding import Level
from putback.source.late import Late
from putback.variants import NONE

LEVEL = Level.WARNING
GROUP = Group.CLEANING

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
  lid-gasket: {replace: always}
stacks: [[lid, lid-gasket, pump]]
# jobs/example.yaml
steps:
  - remove: lid
  - remove: lid-gasket
  - install: lid-gasket
             ^^^^^^^^^^ lid gasket goes on faces that were not cleaned after the old one came off
    new: true
  - install: lid
  - check: lid
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
  lid-gasket: {replace: always}
stacks: [[lid, lid-gasket, pump]]
# jobs/example.yaml
steps:
  - remove: lid
  - remove: lid-gasket
  - clean: the faces of the lid and of the pump
  - install: lid-gasket
    new: true
  - install: lid
  - check: lid
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

_FACES = Late(r"\b(?:faces?|joints?|seats?|seating|surfaces?|flanges?|mating|gaskets?|grooves?|bare|metal|anodes?)\b")
"""Words of who cleans what a gasket seals, or an anode lies on."""
_ANODES = frozenset({"anode", "anodes", "bar", "block", "plate", "ring"})
"""The last word of what an anode is called."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield new gaskets and anodes for which no face was cleaned since the old one came off."""
    things = opened.graph.machine.things if opened.graph else {}
    asked = wants_cleaning(opened.graph.machine) if opened.graph else set()  # `not-cleaned` looks at these
    gaskets = {key for key, thing in things.items() if _wants_a_face(thing)} - asked
    for book in opened.in_place() if gaskets else ():
        for fitting in fittings(book):
            if fitting.thing.key in gaskets and isinstance(fitting.entry.step.action, Install):
                yield from _on_the_old(book, fitting, english=opened.guide.is_english)


def _wants_a_face(thing: AnyThing) -> bool:
    *words, last = thing.name.casefold().split()
    named_so = last in ("gasket", "gaskets") or (last in _ANODES and "anode" in (*words, last.removesuffix("s")))
    return isinstance(thing, Part) and not isinstance(thing, ScrewedPart) and named_so


def _on_the_old(book: Book, fitting: Fitting, *, english: bool) -> Iterator[Fault]:
    """Yield that a new one goes on for an old one, and no face that it lies on was cleaned meanwhile."""
    space, gasket = book.graph.space, fitting.thing
    once = isinstance(gasket, Part) and gasket.single_use  # of an old one that goes back, `single-use-reused` tells
    new = fitting.entry.variants if once else comes_new(book, fitting.entry)
    if new == NONE:
        return
    graph, things = book.graph, book.graph.machine.things
    near = {edge.outer for edge in graph.outside(gasket.key)} | {edge.inner for edge in graph.inside(gasket.key)}
    ready = [
        entry
        for entry in book.of(Clean)
        if entry.target
        and (
            entry.target.name in near
            or (entry.target.name not in things and (not english or _FACES.search(entry.target.name.lower())))
            or any(speaks_of(entry.target.name, things[name], things) for name in near)
        )
    ]
    variants, off_by = bare(book, fitting, ready)
    variants = space.both(variants, new)
    if variants != NONE and book.by(off_by) is not None:
        goes, old = verb_s(gasket, "goes", "go"), verb_s(gasket, "the old one", "the old ones")
        message = f"{named(gasket)} {goes} on faces that were not cleaned after {old} came off"
        where = "seat" if "anode" in gasket.name.casefold() else "faces of the joint"
        hint = f"add 'clean: the {where} of the {named(gasket)}' before it"
        also = (*cause(book, off_by, "taken off here"), *fitting.entry.ways)
        span = met_at(fitting.entry, book.by(off_by))
        yield Fault(span, message, also, hint, variants, book.reached(fitting.entry))
