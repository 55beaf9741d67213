"""Petrol was drained into an open pan, and other work goes on beside it.

Its vapour is heavier than air, creeps along the floor, and catches fire at a spark ten paces away. In twenty steps of
work, somebody kicks the pan over.

As soon as the fuel is out and its drain is shut, take the pan away and empty it into a can with a lid; or catch the
fuel in equipment with `lid: true`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, met_at
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.mending.sooner import sooner
from putback.model.called import named
from putback.model.machine import AnyThing, Fluid
from putback.model.states import EquipmentState
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.fluids import Drain
from putback.source.finding import Also, Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True
NEEDS = frozenset({"equipment"})

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  tank: {}
  frame: {}
  belt: {}
stacks: [[belt, frame]]
fasteners:
  bung: {kind: plug, by-hand: until it stops, to: tank}
fluids:
  petrol: {drains: [bung], tags: [fuel]}
# equipment.yaml
pan: {name: flat pan}
# jobs/example.yaml
steps:
  - place: pan
    at: under the bung
  - remove: bung
  - drain: petrol
  - install: bung
  - remove: belt
            ^^^^ petrol stands in the open flat pan beside this work
  - install: belt
  - take-away: pan
  - fill: petrol
  - {check: the bung, limit: dry after 10 min, otherwise: [{stop: Do the job again.}]}
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  tank: {}
  frame: {}
  belt: {}
stacks: [[belt, frame]]
fasteners:
  bung: {kind: plug, by-hand: until it stops, to: tank}
fluids:
  petrol: {drains: [bung], tags: [fuel]}
# equipment.yaml
pan: {name: flat pan}
# jobs/example.yaml
steps:
  - place: pan
    at: under the bung
  - remove: bung
  - drain: petrol
  - install: bung
  - take-away: pan
    text: Pour the petrol into a can, shut its lid, and take the flat pan away.
  - remove: belt
  - install: belt
  - fill: petrol
  - {check: the bung, limit: dry after 10 min, otherwise: [{stop: Do the job again.}]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first work beside an open vessel that petrol was let out into."""
    things = opened.graph.machine.things if opened.graph else {}
    fuels = {key: thing for key, thing in things.items() if isinstance(thing, Fluid) and _burns(thing)}
    library = opened.guide.library.equipment
    vessels = {key for key, each in library.items() if each.lid is not None} if fuels else set()
    for book in opened.in_place() if vessels else ():
        for entry in book.of(Drain):
            fuel = fuels.get(entry.target.name) if entry.target else None
            if fuel is not None:
                for vessel, variants in _caught_in(book, entry, vessels):
                    if not library[vessel].lid:
                        yield from _beside(book, entry, fuel, vessel, variants)


def _burns(thing: AnyThing) -> bool:
    """Tell whether the vapour of a thing catches fire at once: petrol, and what has held it."""
    return any(tag.name == "fuel" for tag in thing.tags)


def _caught_in(book: Book, entry: Entry, vessels: set[str]) -> Iterator[tuple[str, VariantSet]]:
    """Yield what a fluid runs into: the vessel that was placed last."""
    space, found = book.graph.space, list[tuple[int, str, VariantSet]]()
    placed = {ref.name for each in book.of(Place) for ref in each.step.things} & vessels
    for name in placed:
        for variants, state in book.before(equipment_account(name), entry):
            if isinstance(state, EquipmentState) and state.there:
                found.append((state.on_by, name, variants))
    taken = NONE
    for _, name, variants in sorted(found, reverse=True):
        here = space.without(variants, taken)
        taken = space.either(taken, here)
        if here != NONE:
            yield name, here


def _beside(book: Book, drained: Entry, fuel: Fluid, vessel: str, variants: VariantSet) -> Iterator[Fault]:
    space, name = book.graph.space, book.library.equipment[vessel].name
    left = variants
    for entry in book.entries[drained.index + 1 :]:
        if isinstance(entry.step.action, TakeAway) and entry.target and entry.target.name == vessel:
            left = space.without(left, entry.variants)
        elif (here := space.both(left, entry.variants)) != NONE and _is_other_work(book, entry, fuel):
            message = f"{named(fuel)} stands in the open {name} beside this work"
            also = (Also(drained.step.key, "let out here"), *entry.ways)
            hint = sooner(book, entry, "take-away", vessel, here)
            yield Fault(met_at(entry, drained), message, also, hint, here, book.reached(entry))
            return
        if left == NONE:
            return


def _is_other_work(book: Book, entry: Entry, fuel: Fluid) -> bool:
    """Tell whether a step is work, and not on the fuel, on where it runs out and in, or on what holds it as well."""
    verb, things = entry.step.verb, book.graph.machine.things
    if not verb.works or verb.asks or isinstance(entry.step.action, Clean) or entry.target is None:
        return False
    thing = things.get(entry.target.name)
    own = {fuel.key, *(ref.name for ref in (*fuel.drains, *fuel.fills, *fuel.vents))}
    return entry.target.name not in own and (thing is None or not _burns(thing))
