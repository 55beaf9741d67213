"""The machine runs with a guard off.

An open belt, blade or fan takes a sleeve or a finger before anybody can stop it.

Put the guard back before the run. A part whose name ends in "guard" is one; any other needs `guard: true` in the
machine file. If a run must be done without it, waive this with the reason, and say in the step how to keep clear.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.ledger.running import what_runs
from putback.mending.wanting import wanting
from putback.model.called import named
from putback.model.guards import is_guard
from putback.model.machine import AnyThing, Control
from putback.model.states import ControlState, State, is_whole
from putback.model.terms import Need, Ref
from putback.model.verbs.controls import RUN, Run
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS

FAILS = """
steps:
  - remove: guard-bolts
  - remove: belt-guard
  - caution: running-engine
  - run: engine
         ^^^^^^ belt guard is off when the engine runs
    for: 5 min
  - install: belt-guard
  - install: guard-bolts
  - tighten: guard-bolts
  - run: engine
    for: 1 min
  - check: belt-guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: guard-bolts
  - remove: belt-guard
  - install: belt-guard
  - install: guard-bolts
  - tighten: guard-bolts
  - caution: running-engine
  - run: engine
    for: 5 min
  - check: belt-guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield runs with a guard off, each guard once for as long as it is off."""
    for book in opened.in_place():
        runs = book.of(Run)
        needed = {need.control.name for need in book.graph.machine.verb_needs.get(RUN.name, ())}
        things = book.graph.machine.things.values() if runs else ()
        for guard in [thing for thing in things if thing.key not in needed and is_guard(thing)]:
            told: dict[int, VariantSet] = {}
            for entry in runs:
                yield from _off(book, entry, guard, told)


def _off(book: Book, entry: Entry, guard: AnyThing, told: dict[int, VariantSet]) -> Iterator[Fault]:
    space, span = book.graph.space, entry.span
    for variants, state in book.before(guard.key, entry):
        if _is_in_place(guard, state):
            continue
        since = state.on_by if isinstance(state, ControlState) else state.off_by
        here = space.without(variants, told.get(since, NONE))
        if here == NONE:
            continue
        told[since] = space.either(here, told.get(since, NONE))
        wanted = guard.normal.name if isinstance(guard, Control) else "on"
        lack = wanting(book, entry, Need(Ref(guard.key, span), Ref(wanted, span)), guard, state, here)
        how = state.position if isinstance(state, ControlState) else "off"
        message = f"{named(guard)} is {how} when the {what_runs(book, entry)} runs"
        also = (*cause(book, since, lack.cause), *entry.ways)
        root = Root(book.sequence.path, guard.key, wanted, since, entry.index)
        yield Fault(span, message, also, lack.hint, here, book.reached(entry), root)


def _is_in_place(guard: AnyThing, state: State) -> bool:
    return (
        state.position == guard.normal.name
        if isinstance(guard, Control) and isinstance(state, ControlState)
        else is_whole(state)
    )
