"""A piece does not fit where it goes: something is in its hole, or the hole has another thread.

A guide stud or a test plug that is still in the hole of a bolt keeps the bolt out, and is easily taken for it. Forcing
a screw into another thread ruins the thread.

Take away what is in the hole before the bolt goes in, and take the bolt out before anything is placed in its hole. A
step names the hole with `in`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.holes import Sitter, differ, fits, holes_taken, is_in, sitting_in
from putback.ledger.opened import Opened
from putback.mending.sooner import later_step, moved_up, sooner
from putback.model.called import goes_in, named, verb_s
from putback.model.machine import AnyThing, Fastener
from putback.model.verbs.equipment import Place
from putback.model.verbs.fluids import Fill
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
steps:
  - remove: guard-bolts
  - place: locking-pin
    in: guard-bolts
  - install: guard-bolts
             ^^^^^^^^^^^ guard bolts do not fit: locking pin sits in a hole of theirs
  - tighten: guard-bolts
  - take-away: locking-pin
  - check: belt guard
    limit: does not rattle
    otherwise: [{stop: Do the job again.}]
"""

PASSES = """
steps:
  - remove: guard-bolts
  - place: locking-pin
    in: guard-bolts
  - install: guard-bolts
    count: 1
  - take-away: locking-pin
  - install: guard-bolts
    count: 1
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what goes where something sits, and equipment that goes where something is or into another thread."""
    for book in opened.in_place():
        taken = {key for key, _ in holes_taken(book)}
        for entry in book.entries if taken else ():
            action, span = entry.step.action, entry.span
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if isinstance(action, Install | Replace) and thing is not None and thing.key in taken:
                yield from _kept_out(book, entry, thing, action, span)
            elif isinstance(action, Place) and entry.target is not None:
                yield from _placed(book, entry, action, span)
            elif isinstance(action, Fill) and entry.target is not None:
                yield from _stopped(book, entry, span)


def _kept_out(book: Book, entry: Entry, thing: AnyThing, action: Install | Replace, span: Span) -> Iterator[Fault]:
    """Fasteners go in where something sits."""
    wanted = {ref.name for ref in action.at}
    sitters = [
        each for each in sitting_in(book, entry, thing.key) if not (each.at and wanted.isdisjoint(each.at) and wanted)
    ]
    for variants, state in book.before(thing.key, entry):
        here, told = variants, list[Sitter]()
        for sitter in sitters:
            both = book.graph.space.both(here, sitter.variants)
            if both != NONE:
                here, told = both, [*told, sitter]
        if told and not fits(thing, state, action, told):
            names = listed([sitter.equipment.name for sitter in told])
            where = "its hole" if not isinstance(thing, Fastener) or thing.count == 1 else "a hole of theirs"
            message = f"{named(thing)} {verb_s(thing, 'does', 'do')} not fit: {names} {_sits(told)} in {where}"
            since = told[0].since
            also = (*cause(book, since, "it was put in there here"), *entry.ways)
            key = told[0].equipment.key
            root = Root(book.sequence.path, key, "away", since, entry.index)
            yield Fault(
                span, message, also, sooner(book, entry, "take-away", key, here), here, book.reached(entry), root
            )


def _sits(sitters: list[Sitter]) -> str:
    return "sits" if len(sitters) == 1 else "sit"


def _placed(book: Book, entry: Entry, action: Place, span: Span) -> Iterator[Fault]:
    """Equipment goes in where something is, or into another thread."""
    things = book.graph.machine.things
    equipment = book.library.equipment.get(entry.target.name) if entry.target else None
    for hole, at in action.in_ if equipment is not None else ():
        thing, positions = things.get(hole.name), tuple(ref.name for ref in at)
        if thing is None or equipment is None or not set(positions) <= set(getattr(thing, "positions", ())):
            continue
        if isinstance(thing, Fastener) and differ(equipment, thing):
            sizes = f"{equipment.thread} does not go into {thing.thread}"
            yield Fault(span, f"{equipment.name} does not fit {named(thing)}: {sizes}", entry.ways)
        for variants, state in book.before(thing.key, entry):
            if is_in(state, thing, positions):
                message = f"{equipment.name} does not fit: {_still(thing, positions)}"
                later = later_step(book, entry, "remove", thing.key)
                hint = moved_up(entry, later) if later is not None else None
                root = Root(book.sequence.path, thing.key, "off", state.on_by, entry.index)
                yield Fault(span, message, entry.ways, hint, variants, book.reached(entry), root)


def _still(thing: AnyThing, positions: tuple[str, ...]) -> str:
    """Return what is in the way: `drain plug is still in`, `cover bolts at front and rear are still in`."""
    many = len(positions) or None
    where = f" at {listed([at.replace('-', ' ') for at in positions])}" if positions else ""
    be = verb_s(thing, "is", "are", many)
    return f"{named(thing, many)}{where} {be} still {'in' if goes_in(thing) else 'on'}"


_STOPPERS = ("plug", "bung", "stopper", "cork", "pin", "bolt", "screw", "stud", "rag")
"""What shuts the hole that it sits in; a funnel or the end of a hose does not."""


def _stopped(book: Book, entry: Entry, span: Span) -> Iterator[Fault]:
    """A fluid goes in where a plug sits."""
    fluid = book.graph.machine.things.get(entry.target.name) if entry.target else None
    fills = getattr(fluid, "fills", ())
    for ref in fills if len(fills) == 1 else ():
        for sitter in sitting_in(book, entry, ref.name):
            name = sitter.equipment.name
            if fluid is not None and any(word in _STOPPERS for word in name.split()):
                message = f"{fluid.name} cannot be filled: {name} sits in the hole that it goes in through"
                also = (*cause(book, sitter.since, "it was put in there here"), *entry.ways)
                key = sitter.equipment.key
                root = Root(book.sequence.path, key, "away", sitter.since, entry.index)
                hint = sooner(book, entry, "take-away", key, sitter.variants)
                yield Fault(span, message, also, hint, sitter.variants, book.reached(entry), root)
