"""The machine runs with equipment still in place.

A plug in a hose, a rag in a port or a pin in a wheel is found by the engine first; what lies beside a belt is thrown.

Take it away before the run. If it may stay, as a stand, a gauge or a flushing cup may, write `may-stay: true` in
equipment.yaml. What holds a load, or has a name that says it stands beside or under a machine, may stay without that.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.book import equipment_account
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.mending.sooner import sooner
from putback.model.states import EquipmentState
from putback.model.verbs.controls import RUN, Run
from putback.model.verbs.equipment import Place
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.DANGERS
NEEDS = frozenset({"equipment"})

FAILS = """
steps:
  - place: locking-pin
  - caution: running-engine
  - run: engine
         ^^^^^^ locking pin is still in place when the engine runs
    for: 5 min
  - take-away: locking-pin
"""

PASSES = """
steps:
  - place: locking-pin
  - take-away: locking-pin
  - caution: running-engine
  - run: engine
    for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield runs with equipment in place that may not stay, each piece once for as long as it is there."""
    for book in opened.in_place():
        names = {ref.name for entry in book.of(Place) for ref in entry.step.things} if book.of(Run) else set()
        told: dict[tuple[str, int], VariantSet] = {}
        for entry in book.of(Run) if names else ():
            for name in sorted(names):
                if _may_not_stay(book, name):
                    yield from _still_there(book, entry, name, told)


def _may_not_stay(book: Book, name: str) -> bool:
    """Tell whether a piece must be away in a run, and no other check says so."""
    equipment, machine = book.library.equipment.get(name), book.graph.machine
    needed = any(need.control.name == name for need in machine.verb_needs.get(RUN.name, ()))
    return equipment is not None and not equipment.may_stay and not equipment.stills and not needed


def _still_there(book: Book, entry: Entry, name: str, told: dict[tuple[str, int], VariantSet]) -> Iterator[Fault]:
    space, span = book.graph.space, entry.span
    for variants, state in book.before(equipment_account(name), entry):
        if not isinstance(state, EquipmentState) or not state.there:
            continue
        here = space.without(variants, told.get((name, state.on_by), NONE))
        if here == NONE:
            continue
        told[name, state.on_by] = space.either(here, told.get((name, state.on_by), NONE))
        message = f"{book.library.equipment[name].name} is still in place when the {what_runs(book, entry)} runs"
        also = (*cause(book, state.on_by, "it was put in place here"), *entry.ways)
        # What is never taken away is told as such.
        root = Root(book.sequence.path, name, "away", state.on_by, entry.index, follows=True)
        yield Fault(span, message, also, sooner(book, entry, "take-away", name, here), here, book.reached(entry), root)
