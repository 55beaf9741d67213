"""A part goes on while its shaft is turned, and the step says no way or the wrong one.

Impeller vanes folded against the running direction break or pump nothing. The machine file says which way with `turns`.

Add `turn: clockwise` or `turn: anticlockwise`, as the machine file has it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Install, Verb
from putback.model.machine import Part
from putback.source.finding import Level

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
             ^^^^^^^^ impeller goes on while the shaft is turned clockwise; the step does not say so
    new: true
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
    """Yield `install` steps that turn the wrong way or do not say which."""
    for book in opened.books:
        for entry in book.of(Verb.INSTALL):
            action, target = entry.step.action, entry.target
            thing = book.graph.machine.things.get(target.name) if target else None
            if not isinstance(action, Install) or target is None or not isinstance(thing, Part) or not thing.turns:
                continue
            goes = f"{thing.name} goes on while the shaft is turned {thing.turns}"
            hint = f"write 'turn: {thing.turns}'"
            if action.turn is None:
                message = f"{goes}; the step does not say so"
                yield Fault(target.span, message, entry.ways, hint, entry.worlds, book.reached(entry))
            elif action.turn.name != thing.turns:
                message = f"{goes}; the step says {action.turn.name}"
                yield Fault(action.turn.span, message, entry.ways, hint, entry.worlds, book.reached(entry))
        for entry in book.of(Verb.REPLACE):
            target = entry.target
            thing = book.graph.machine.things.get(target.name) if target else None
            if target is not None and isinstance(thing, Part) and thing.turns:
                message = f"{thing.name} goes on while the shaft is turned {thing.turns}; 'replace' cannot say so"
                hint = f"write 'remove', and then 'install' with 'turn: {thing.turns}'"
                yield Fault(target.span, message, entry.ways, hint, entry.worlds, book.reached(entry))
