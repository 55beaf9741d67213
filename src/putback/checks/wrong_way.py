"""A shaft is turned, or a part goes on while it is, and the step gives no direction or the wrong one.

Impeller vanes that are folded against the direction of rotation break or pump nothing, whether the shaft, its pulley or
the propeller in gear turns them. The machine file gives the direction with `rotation`, and what turns together with
`turns-with`; a train holds while each of its parts is on and the gear is engaged. A part with no `rotation` of its own
turns as its neighbour does.

Add `turn: clockwise` to the `install`, or `way: clockwise` to the `turn`, as the machine file has it. If words have
something turned, make them a step.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.newness import condemned
from putback.ledger.opened import Opened
from putback.ledger.trains import OneWay, is_one_way, ways
from putback.model.called import named
from putback.model.machine import Part
from putback.model.said import Said
from putback.model.terms import Ref
from putback.model.verbs.pieces import Install, Replace
from putback.model.verbs.turning import Turn
from putback.prose.turned import said_to_do, turned_in
from putback.source.finding import Level
from putback.source.quoting import short
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
steps:
  - set: seacock
    to: closed
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - remove: impeller
  - install: impeller
             ^^^^^^^^ impeller goes on while the shaft is turned clockwise, but the step does not say so
    new: true
  - clean: the faces of the joint
  - install: cover-gasket
    new: true
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - set: seacock
    to: open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - set: seacock
    to: closed
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - remove: impeller
  - install: impeller
    new: true
    turn: clockwise
  - clean: the faces of the joint
  - install: cover-gasket
    new: true
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - set: seacock
    to: open
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that turn a shaft the wrong way or do not say which."""
    for book in opened.books:
        if not is_one_way(book.graph.machine):
            continue
        for entry in book.of(Install, Replace):
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if entry.target is not None and isinstance(thing, Part) and thing.rotation:
                yield from _goes_on(book, entry, entry.target, thing)
        for entry in book.of(Turn):
            for way in ways(book, entry, entry.target.name) if entry.target else ():
                yield from _turned(book, entry, way)
        yield from _in_words(book) if opened.guide.is_english else ()


def _goes_on(book: Book, entry: Entry, target: Ref, thing: Part) -> Iterator[Fault]:
    action, way, goes = entry.step.action, thing.rotation, f"{thing.name} goes on while the shaft is turned"
    here = book.graph.space.without(entry.variants, condemned(book, entry))  # that one goes on later
    if here == NONE:
        return
    if isinstance(action, Replace):
        back = f"'install: {target.name}' with 'new: true' and 'turn: {way}'"
        hint = f"write 'remove: {target.name}', and add {back} after it"
        message = f"{goes} {way}; 'replace' cannot say so"
        yield Fault(target.span, message, entry.ways, hint, here, book.reached(entry))
    elif isinstance(action, Install) and (action.turn is None or action.turn.name != way):
        said = action.turn or target
        message = f"{goes} {way}, but the step {f'says {said.name}' if action.turn else 'does not say so'}"
        hint = f"write '{way}'" if action.turn else f"add 'turn: {way}'"
        yield Fault(said.span, message, entry.ways, hint, here, book.reached(entry))


def _turned(book: Book, entry: Entry, way: OneWay) -> Iterator[Fault]:
    """Yield a fault for a `turn` that does not say the way, or says the wrong one."""
    action, target, things = entry.step.action, entry.target, book.graph.machine.things
    if not isinstance(action, Turn) or target is None or (action.way is not None and action.way.name == way.way):
        return
    gear = f" with {named(things[way.need.control.name])} in {way.need.position.name}" if way.need else ""
    goes = f"{named(way.part)} may only be turned {way.way}{gear}"
    if way.part.key != target.name:
        goes = f"{named(things[target.name])} turns {named(way.part)}, which may only be turned {way.way}{gear}"
    if action.way is None:
        span, says, hint = target.span, "does not say so", f"add 'way: {way.way}'"
    else:
        # From the other end it is the other way round.
        seen = f", seen from {short(action.seen_from)}" if action.seen_from else ""
        span, says, hint = action.way.span, f"says {action.way.name}{seen}", f"write '{way.way}'"
        hint += ", as seen from the end that the machine file means" if seen else ""
    yield Fault(span, f"{goes}, but the step {says}", entry.ways, hint, way.variants, book.reached(entry))


def _in_words(book: Book) -> Iterator[Fault]:
    """Yield faults for words that have something turned that goes one way only, and do not say which."""
    parts = {part.name.lower(): part for part in book.graph.machine.things.values() if isinstance(part, Part)}
    for entry in book.entries:
        for words in said_to_do(entry.step):
            for part in (parts[name] for name in turned_in(words, parts)):
                for way in ways(book, entry, part.key):
                    only = f"{named(way.part)} may only be turned {way.way}"
                    message = f"this turns {named(part)} without saying which way: {only}"
                    hint = f"write a step 'turn: {part.key}' with 'way: {way.way}'"
                    span = words.span if isinstance(words, Said) else entry.step.key
                    yield Fault(span, message, entry.ways, hint, way.variants, book.reached(entry))
