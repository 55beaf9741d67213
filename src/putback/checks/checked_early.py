"""A fluid is filled in, but its level is not checked again once it has settled.

Thick oil holds air, and takes minutes to creep into bearings: a level that looked right at first is low when the
machine goes back to work. The machine file gives the settling time as `settles`.

After the `fill`, add a `wait` of that time, then a `check` of the level.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, End, Entry
from putback.ledger.goes_with import wants_no_proof
from putback.ledger.opened import Opened
from putback.mending.sooner import said
from putback.model.called import named
from putback.model.good import limit_of
from putback.model.job import Block
from putback.model.machine import Fluid
from putback.model.verbs.fluids import Fill
from putback.model.verbs.telling import Wait
from putback.source.finding import Level
from putback.source.late import Late
from putback.source.span import Span
from putback.units import si
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.PROOF

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
fasteners:
  plug: {kind: plug, by-hand: until it stops, to: pump}
fluids:
  oil: {drains: [plug], fills: [plug], settles: 10 min}
# jobs/example.yaml
steps:
  - remove: plug
  - drain: oil
  - fill: oil
          ^^^ the level of oil is not checked again after standing for 10 min
  - install: plug
  - check: level of the oil, and the plug
    limit: at the mark, and no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
fasteners:
  plug: {kind: plug, by-hand: until it stops, to: pump}
fluids:
  oil: {drains: [plug], fills: [plug], settles: 10 min}
# jobs/example.yaml
steps:
  - remove: plug
  - drain: oil
  - fill: oil
  - install: plug
  - wait: 10 min
  - check: level of the oil, and the plug
    limit: at the mark, and no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

_LATER = Late(r"\b(?:after|when|once) (?:it|the \w+|\d)", re.IGNORECASE)
"""Words of a check that waits by itself: `at the mark after 10 min`."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last step that fills in what settles, where no look at its level follows a wait."""
    things = opened.graph.machine.things if opened.graph else {}
    slow = {key: thing for key, thing in things.items() if isinstance(thing, Fluid) and thing.settles}
    for book in opened.books if slow else ():
        if isinstance(book.sequence, Block):
            continue
        for fluid in slow.values():
            told: dict[Span, VariantSet] = {}
            found = [each for end in book.ends for each in _filled(book, end, fluid)]
            for fault, look in sorted(found, key=lambda each: (each[0].span.path, each[0].span.line)):
                # Of what is filled in and topped up before one look, the filling is told, and that alone.
                here = book.graph.space.variants_of(fault.variants or NONE)
                if look is None or book.graph.space.without(here, told.get(look, NONE)) != NONE:
                    yield fault
                if look is not None:
                    told[look] = book.graph.space.either(here, told.get(look, NONE))


def _filled(book: Book, end: End, fluid: Fluid) -> Iterator[tuple[Fault, Span | None]]:
    """Go back from an end to the filling, over a look with a wait before it; beside the fault, the last look alone."""
    space, looked, stood, last = book.graph.space, NONE, NONE, None
    for entry, variants in book.before_end(end):
        action = entry.step.action
        if entry.step.verb.asks and _is_about(book, entry, fluid):
            looked, last = space.either(looked, variants), last or entry
            if _waits(book, entry):
                stood = space.either(stood, variants)
        elif isinstance(action, Wait) and _is_long(action, fluid):
            stood = space.either(stood, space.both(looked, variants))
        elif isinstance(action, Fill) and entry.target and entry.target.name == fluid.key:
            here = space.without(space.without(variants, stood), wants_no_proof(book, entry))
            # Where nobody looks at all, `not-checked` tells it.
            here = space.both(here, looked) if fluid.check_when_back else here
            if here != NONE and fluid.settles:
                time = fluid.settles.text
                message = f"the level of {named(fluid)} is not checked again after standing for {time}"
                look = (
                    last if last and all(each.step is not last.step for each in book.entries[: entry.index]) else None
                )
                hint = f"add 'wait: {time}' after it, and a 'check' of its level after that"
                if look and not look.via:
                    hint = f"add 'wait: {time}' before {said(look.step, entry.step.key)}"
                fault = Fault(entry.target.span, message, entry.ways, hint, here, end.variants)
                yield fault, look.step.key if look else None
                return


def _is_about(book: Book, entry: Entry, fluid: Fluid) -> bool:
    """Tell whether a question is about a fluid, by its name, or the last word of it and a level: no oil filter."""
    name, limit = entry.target.name if entry.target else "", limit_of(entry.step.action, book.graph.machine.things)
    words = f" {name} {entry.step.text or ''} ".lower().replace(",", " ")
    if name == fluid.key or name in book.graph.machine.things:
        return name == fluid.key
    shown = f"{words} {limit.text if limit else ''}"
    last = f" {fluid.name.split()[-1].lower()} " in words and any(each in shown for each in ("level", "mark", "full"))
    return last or f" {fluid.name.lower()} " in words


def _waits(book: Book, entry: Entry) -> bool:
    limit = limit_of(entry.step.action, book.graph.machine.things)
    said = (entry.target.name if entry.target else "", entry.step.text, limit.text if limit else "")
    return any(words and _LATER.search(words) for words in said)


def _is_long(wait: Wait, fluid: Fluid) -> bool:
    if wait.duration is None or fluid.settles is None:
        return wait.until is not None
    stood, wanted = (max(filter(None, si(each)), default=0.0) for each in (wait.duration, fluid.settles))
    return stood >= wanted
