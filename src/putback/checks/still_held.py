"""Something that equipment holds is turned, run, moved or taken off.

A locking pin in the flywheel breaks, or breaks the flywheel, when the engine is turned or started; a hood that is shut
on its stay rod is bent. A block beside a propeller holds nothing once the propeller is off: anyone who leaves it there
counts on it later.

Take the equipment away first. Its entry in equipment.yaml says with `keeps` what it keeps from turning, or how it keeps
a thing; the machine file says with `turns-with` what turns together.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.ledger.trains import turns
from putback.mending.sooner import sooner
from putback.model.called import goes_in, named, verb_s
from putback.model.library import Equipment
from putback.model.machine import AnyThing, Control
from putback.model.needed import is_so
from putback.model.states import ControlState, EquipmentState
from putback.model.verbs.controls import Run
from putback.model.verbs.equipment import Place
from putback.model.verbs.pieces import Remove, Replace
from putback.model.verbs.turning import Turn
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench engine
parts:
  crankshaft: {}
  flywheel: {turns-with: crankshaft}
# equipment.yaml
flywheel-pin: {keeps: [crankshaft]}
# jobs/example.yaml
steps:
  - place: flywheel-pin
  - turn: flywheel
          ^^^^^^^^ flywheel cannot be turned: flywheel pin keeps crankshaft from turning
    by: 1 turn
  - take-away: flywheel-pin
"""

PASSES = """
# machine.yaml
machine: Bench engine
parts:
  crankshaft: {}
  flywheel: {turns-with: crankshaft}
# equipment.yaml
flywheel-pin: {keeps: [crankshaft]}
# jobs/example.yaml
steps:
  - place: flywheel-pin
  - take-away: flywheel-pin
  - turn: flywheel
    by: 1 turn
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that move what equipment holds."""
    holders = [each for each in opened.guide.library.equipment.values() if each.stills or each.keeps]
    for book in opened.in_place() if holders else ():
        placed = {ref.name for entry in book.of(Place) for ref in entry.step.things} | book.found
        for holder in holders:
            for entry in book.entries if holder.key in placed else ():
                if entry.target is None or entry.target.name != holder.key:
                    yield from _stilled(book, entry, holder)
                    yield from _kept(book, entry, holder)


def _stilled(book: Book, entry: Entry, holder: Equipment) -> Iterator[Fault]:
    """Yield faults where something turns, runs or comes off that equipment keeps from turning."""
    action, things = entry.step.action, book.graph.machine.things
    stilled = [things[ref.name] for ref in holder.stills if ref.name in things]
    if isinstance(action, Turn) and entry.target and stilled:
        for part, variants in turns(book, entry, entry.target.name):
            for held in stilled:
                if held.key == part.key:
                    what = f"{named(things[entry.target.name])} cannot be turned"
                    yield from _told(book, entry, holder, what, f"{named(held)} from turning", held, variants)
    elif isinstance(action, Run):
        for held in stilled:
            what = f"the {what_runs(book, entry)} cannot run"
            yield from _told(book, entry, holder, what, f"{named(held)} from turning", held)
    elif isinstance(action, Remove | Replace) and entry.target:
        for held in stilled:
            if held.key == entry.target.name:
                what = f"{named(held)} {verb_s(held, 'comes', 'come')} off"
                for fault in _told(book, entry, holder, what, f"{_it(held)} from turning", held):
                    yield fault._replace(hint="put it aside before this step, and place it again when the part is back")


def _kept(book: Book, entry: Entry, holder: Equipment) -> Iterator[Fault]:
    """Yield faults where something is moved that equipment keeps as it is."""
    for ref, how in holder.keeps:
        kept = book.graph.machine.things.get(ref.name)
        if kept is not None and book.changed(ref.name, entry):
            here = _moved(book, entry, kept, how.name)
            if here != NONE:
                yield from _told(book, entry, holder, _done(book, entry, kept), f"{_it(kept)} {how.name}", kept, here)


def _moved(book: Book, entry: Entry, kept: AnyThing, how: str) -> VariantSet:
    """Return the variants in which an entry moves a thing from how it is kept."""
    space, found = book.graph.space, NONE
    before = book.where(kept.key, entry, lambda state: is_so(kept, state, how))
    for variants, state in book.after(kept.key, entry):
        if not is_so(kept, state, how):
            found = space.either(found, space.both(variants, before))
    return found


def _done(book: Book, entry: Entry, kept: AnyThing) -> str:
    """Return what cannot be done: `hood cannot be set to shut`, `cover cannot go on`."""
    if isinstance(kept, Control):
        states = [state for _, state in book.after(kept.key, entry) if isinstance(state, ControlState)]
        return f"{named(kept)} cannot be set to {states[0].position}" if states else f"{named(kept)} cannot be moved"
    on = "in" if goes_in(kept) else "on"
    return f"{named(kept)} cannot go {on}" if entry.step.verb.assembles else f"{named(kept)} cannot be moved"


def _it(kept: AnyThing) -> str:
    return "it" if named(kept) == kept.name else "them"


def _told(
    book: Book, entry: Entry, holder: Equipment, what: str, held: str, thing: AnyThing, among: VariantSet | None = None
) -> Iterator[Fault]:
    space = book.graph.space
    span = entry.span
    for variants, state in book.before(equipment_account(holder.key), entry):
        here = space.both(variants, book.graph.present(thing.key) if among is None else among)
        if here != NONE and isinstance(state, EquipmentState) and state.there:
            also = (*cause(book, state.on_by, "it was put in place here"), *entry.ways)
            root = Root(book.sequence.path, holder.key, "away", state.on_by, entry.index)
            message, hint = f"{what}: {holder.name} keeps {held}", sooner(book, entry, "take-away", holder.key, here)
            yield Fault(span, message, also, hint, here, book.reached(entry), root)
