"""Something goes on before what it sits on is cleaned.

A gasket on the remains of the old one leaks; a bearing on a burr or a grain of sand sits crooked. The machine file says
with `clean-before` what goes on a face only once it is clean.

Add a `clean` step after the old one comes off and before the new one goes on.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group, cause, met_at
from putback.ledger import Book
from putback.ledger.opened import Opened
from putback.ledger.prepared import Fitting, bare, cleaned, fittings
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE, VariantSet

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


class _Dirty(NamedTuple):
    """A thing that goes on what was not cleaned."""

    fitting: Fitting
    """The thing, and the step."""
    variants: VariantSet
    """The variants in which it does."""
    also: tuple[Also, ...]
    """What explains it."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what goes on a thing that was not cleaned since that came off; together what one step would clean for."""
    things = opened.graph.machine.things if opened.graph else {}
    seats: dict[str, list[tuple[AnyThing, Also]]] = {}
    for thing in things.values():
        for ref in thing.clean_before:
            seats.setdefault(ref.name, []).append((thing, Also(ref.span, "the machine file says so here")))
    for book in opened.in_place() if seats else ():
        together: dict[tuple[object, ...], list[_Dirty]] = {}
        seen: dict[tuple[object, ...], tuple[AnyThing, Span]] = {}
        for fitting in fittings(book):
            for seat, said in seats.get(fitting.thing.key, ()):
                variants, off_by = bare(book, fitting, cleaned(book, seat))
                variants = book.graph.space.both(variants, book.graph.present(seat.key))
                if variants == NONE:
                    continue
                span = met_at(fitting.entry, book.by(off_by))
                step = fitting.entry.step.key if span == fitting.entry.span else span
                also = (*cause(book, off_by, "taken off here"), said, *fitting.entry.ways)
                place: tuple[object, ...] = (seat.key, step, book.reached(fitting.entry))
                together.setdefault(place, []).append(_Dirty(fitting, variants, also))
                seen.setdefault(place, (seat, span))
        for place, dirty in together.items():
            yield _fault(book, *seen[place], dirty)


def _fault(book: Book, seat: AnyThing, span: Span, dirty: list[_Dirty]) -> Fault:
    space, first = book.graph.space, dirty[0]
    variants, at_once = first.variants, False
    for other in dirty[1:]:
        at_once |= space.both(variants, other.variants) != NONE
        variants = space.either(variants, other.variants)
    go = "go" if at_once else verb_s(first.fitting.thing, "goes", "go")
    on = listed([named(each.fitting.thing) for each in dirty], "and" if at_once else "or")
    itself = len(dirty) == 1 and seat.key == first.fitting.thing.key
    what = verb_s(seat, "it is", "they are") if itself else f"{named(seat)} {verb_s(seat, 'is', 'are')}"
    message = f"{on} {go} on before {what} cleaned"
    also = tuple({(each.span.path, each.span.line, each.message): each for one in dirty for each in one.also}.values())
    return Fault(span, message, also, f"add 'clean: {seat.key}' before it", variants, book.reached(first.fitting.entry))
