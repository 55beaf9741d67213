"""Something is turned, run or moved that equipment holds.

A locking pin in the flywheel breaks, or breaks the flywheel, when the engine is turned or started; a hood that is shut
on its stay rod is bent.

Take the equipment away before. Its entry in equipment.yaml says with `keeps` what it keeps from turning, or how it
keeps a thing; the machine file says with `turns-with` what turns together.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.mending.sooner import sooner
from putback.model.called import goes_in, named
from putback.model.library import Equipment
from putback.model.machine import AnyThing, Control, Machine, Part
from putback.model.needed import is_so
from putback.model.states import ControlState, EquipmentState
from putback.model.verbs.controls import Run
from putback.model.verbs.turning import Turn
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.ORDER
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
        trains = {each.key: _train(book.graph.machine, each) for each in holders}
        for entry in book.entries:
            for holder in holders:
                if entry.target is None or entry.target.name != holder.key:
                    yield from _held(book, entry, holder, trains[holder.key])


def _train(machine: Machine, holder: Equipment) -> dict[str, AnyThing]:
    """Return what cannot be turned, by its name, each with the thing that is held."""
    with_: dict[str, set[str]] = {}
    for part in machine.things.values():
        for ref in part.turns_with if isinstance(part, Part) else ():
            with_.setdefault(part.key, set()).add(ref.name)
            with_.setdefault(ref.name, set()).add(part.key)
    found: dict[str, AnyThing] = {}
    for ref in holder.stills:
        held, waiting = machine.things.get(ref.name), [ref.name]
        while held is not None and waiting:
            name = waiting.pop()
            if name not in found:
                found[name] = held
                waiting += sorted(with_.get(name, ()))
    return found


def _held(book: Book, entry: Entry, holder: Equipment, train: dict[str, AnyThing]) -> Iterator[Fault]:
    action, name = entry.step.action, entry.target.name if entry.target else ""
    thing = book.graph.machine.things.get(name)
    if isinstance(action, Turn) and name in train and thing is not None:
        held = train[name]
        yield from _told(book, entry, holder, f"{named(thing)} cannot be turned", f"{named(held)} from turning", held)
    if isinstance(action, Run):
        for key in {held.key for held in train.values()}:
            held = book.graph.machine.things[key]
            yield from _told(
                book, entry, holder, f"the {what_runs(book, entry)} cannot run", f"{named(held)} from turning", held
            )
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
    span = entry.target.span if entry.target else entry.step.key
    for variants, state in book.before(equipment_account(holder.key), entry):
        here = space.both(variants, book.graph.present(thing.key) if among is None else among)
        if here != NONE and isinstance(state, EquipmentState) and state.there:
            also = (*cause(book, state.on_by, "it was put in place here"), *entry.ways)
            root = Root(book.sequence.path, holder.key, "away", state.on_by, entry.index)
            message, hint = f"{what}: {holder.name} keeps {held}", sooner(book, entry, "take-away", holder.key, here)
            yield Fault(span, message, also, hint, here, book.reached(entry), root)
