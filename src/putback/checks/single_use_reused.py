"""A single-use part goes back used.

Gaskets, sealing washers, cotter pins and the like seal or lock once. The machine file says `replace: always`.

Add `new: true` to the step that installs it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Fastener, Part
from putback.model.states import GroupState, PartState
from putback.model.verbs.pieces import Install
from putback.source.finding import Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - clean: the faces of the joint
  - install: cover-gasket
             ^^^^^^^^^^^^ the old cover gasket goes back; it must be new every time
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: cover-screws
  - remove: pump-cover
  - remove: cover-gasket
  - clean: the faces of the joint
  - install: cover-gasket
    new: true
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - check: pump cover
    limit: no drop in 1 min
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield single-use things that are installed again without being new."""
    for book in opened.books:
        for entry in book.of(Install):
            action, target = entry.step.action, entry.target
            thing = book.graph.machine.things.get(target.name) if target else None
            if (
                target is None
                or not isinstance(thing, Part | Fastener)
                or not thing.single_use
                or not isinstance(action, Install)
                or action.new
            ):
                continue
            for variants, state in book.before(thing.key, entry):
                was_off = (isinstance(state, PartState) and not state.on and not state.renew) or (
                    isinstance(state, GroupState) and state.out > len(state.renew)
                )
                if was_off and variants != NONE:
                    message = f"the old {named(thing)} {verb_s(thing, 'goes', 'go')} back; "
                    message += f"{verb_s(thing, 'it', 'they')} must be new every time"
                    also = (*cause(book, state.off_by, "it came off here"), *entry.ways)
                    yield Fault(target.span, message, also, "add 'new: true'", variants, book.reached(entry))
