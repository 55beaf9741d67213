"""A shaft is turned, or a part goes on while it is, and the step says no way or the wrong one.

Impeller vanes folded against the running direction break or pump nothing. The machine file says which way with
`rotation`.

Add `turn: clockwise` to the `install`, or `way: clockwise` to the `turn`, as the machine file has it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.newness import condemned
from putback.ledger.opened import Opened
from putback.model.machine import Part
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.pieces import Install, Replace
from putback.model.verbs.turning import Turn
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
             ^^^^^^^^ impeller goes on while the shaft is turned clockwise; the step does not say so
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
        for entry in book.of(Install, Replace, Turn):
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if entry.target is None or not isinstance(thing, Part) or not thing.rotation:
                continue
            found = _wrong(entry.step.action, entry.target, thing.name, thing.rotation)
            here = book.graph.space.without(entry.variants, condemned(book, entry))  # that one goes on later
            if found is not None and here != NONE:
                ref, message, hint = found
                yield Fault(ref.span, message, entry.ways, hint, here, book.reached(entry))


def _wrong(action: Action, target: Ref, name: str, way: str) -> tuple[Ref, str, str] | None:
    """Return the place, what is wrong and what would be right; None when the way is right."""
    if isinstance(action, Turn):
        goes, key, said = f"{name} is turned {way} only", "way", action.way
    else:
        goes, key, said = f"{name} goes on while the shaft is turned {way}", "turn", None
    if isinstance(action, Replace):
        back = f"'install: {target.name}' with 'new: true' and 'turn: {way}'"
        return target, f"{goes}; 'replace' cannot say so", f"write 'remove: {target.name}', and add {back} behind it"
    if isinstance(action, Install):
        said = action.turn
    if said is None:
        return target, f"{goes}; the step does not say so", f"add '{key}: {way}'"
    if said.name == way:
        return None
    seen, whence = "", ""
    if isinstance(action, Turn) and action.seen_from:
        # From the other end it is the other way round.
        seen, whence = f", seen from {short(action.seen_from)}", ", as it is seen from where the machine file sees it"
    return said, f"{goes}; the step says {said.name}{seen}", f"write '{way}'{whence}"
