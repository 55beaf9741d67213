"""Fuel, oil, coolant or water was let out and filled again, and nobody looks for leaks.

A washer that was forgotten, or a hose that sits askew, loses its fluid over night: onto a hot exhaust, into the bilge,
or out of a gearcase that then runs dry. It is seen in a minute, by whoever looks.

Add a `check`, an `inspect` or a `measure` after it that speaks of leaks: a limit as "dry after 10 min", or a pressure
that is held. `clean` the place before, since a leak shows only where it is dry.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, End, Entry
from putback.ledger.book import PROOF
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Block, Later
from putback.model.machine import AnyThing, Control, Fluid, Line
from putback.model.states import ProofState
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.controls import Set
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - fill: coolant
          ^^^^^^^ after the work on coolant, no check looks for leaks
  - check: coolant in the header tank
    limit: stands at the filler neck
    otherwise:
      - act: Top it up.
"""

PASSES = """
steps:
  - remove: drain-plug
  - drain: coolant
  - install: drain-plug
  - tighten: drain-plug
  - fill: coolant
  - check: drain-plug
    limit: dry after 10 min
    otherwise:
      - stop: Do the job again.
"""

_LEAKS = re.compile(
    r"\b(leak\w*|drip\w*|dry|tight|seep\w*|weep\w*|ooz\w*|sweat\w*|damp\w*|wet\w*|moist\w*|no drops?"
    r"|(loss|fall|drop) (of|in) pressure|pressure (loss|drop|fall|is held|holds|stays)"
    r"|no (film|trace|sign|stain)s? of \w+"
    r"|no (oil|fuel|petrol|diesel|coolant|water|fluid|gas) (at|on|around|under|below|near))\b"
    r"|(?<!without )\bbubbles\b",
    re.IGNORECASE,
)
"""Words of somebody who looks for leaks. What "runs without bubbles" was bled."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the last step that fills or closes, where no look for leaks follows on some way to the end."""
    for book in opened.books:
        if isinstance(book.sequence, Block | Later):
            continue
        for end in book.ends:
            yield from _at_end(book, end)


def _at_end(book: Book, end: End) -> Iterator[Fault]:
    space = book.graph.space
    closings, left = _closings(book, end)
    for held, state in book.closing(PROOF, end) if left != NONE else ():
        if isinstance(state, ProofState) and not state.proved:
            # Where no test follows at all, `no-final-test` tells it.
            left = space.without(left, held)
    for entry, variants in reversed(closings):
        here = space.both(left, variants)
        left = space.without(left, variants)
        if here != NONE and entry.target:
            thing = book.graph.machine.things[entry.target.name]
            message = f"after the work on {named(thing)}, no check looks for leaks"
            hint = "add a 'check' behind it, for example with 'limit: dry after 10 min'"
            yield Fault(entry.target.span, message, entry.ways, hint, here, end.variants)


def _closings(book: Book, end: End) -> tuple[list[tuple[Entry, VariantSet]], VariantSet]:
    """Return every entry that closed what had been opened, and the end's ways that were not looked at since."""
    space, things = book.graph.space, book.graph.machine.things
    opened: dict[str, VariantSet] = {}
    closed: dict[str, VariantSet] = {}
    found: list[tuple[Entry, VariantSet]] = []
    for entry, on_the_way in reversed(list(book.before_end(end))):
        thing = things.get(entry.target.name) if entry.target else None
        if entry.step.verb.asks:
            if _LEAKS.search(_words(entry, thing)):
                for name, variants in closed.items():
                    opened[name] = space.without(opened[name], space.both(variants, on_the_way))
                    closed[name] = space.without(variants, on_the_way)
            continue
        if thing is None or not _holds_fluid(book, thing):
            continue
        opens, closes = entry.step.verb.lets_out, entry.step.verb.assembles
        if isinstance(entry.step.action, Set) and isinstance(thing, Control):
            closes = entry.step.action.to.name == thing.normal.name
            opens = not closes
        if opens:
            for name in (thing.key, *book.graph.lets_out.get(thing.key, ())):
                opened[name] = space.either(opened.get(name, NONE), on_the_way)
        here = space.both(opened.get(thing.key, NONE), on_the_way)
        if closes and here != NONE:
            closed[thing.key] = space.either(closed.get(thing.key, NONE), here)
            found.append((entry, here))
    left = NONE
    for variants in closed.values():
        left = space.either(left, variants)
    return found, left


def _holds_fluid(book: Book, thing: AnyThing) -> bool:
    """Tell whether something runs out when this is opened: a fluid, a drain of one, a hose or a pipe."""
    return (
        isinstance(thing, Fluid)
        or thing.key in book.graph.lets_out
        or (isinstance(thing, Line) and thing.kind in ("hose", "pipe"))
    )


def _words(entry: Entry, thing: AnyThing | None) -> str:
    """Return what a check says: what it looks at, its limit, what it looks for, its own sentence."""
    action = entry.step.action
    said = [named(thing) if thing else "", entry.target.name if entry.target else "", entry.step.text or ""]
    if isinstance(action, Measure | Verify):
        said.append(action.limit.text if action.limit else "")
    elif isinstance(action, Inspect):
        said += action.for_
    return "; ".join(said)
