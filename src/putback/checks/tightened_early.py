"""A group of fasteners is tightened before the one of its joint that comes first.

What is tightened last in a joint presses where the others have already drawn the faces together. Tightened first, it
holds the part askew: the faces do not meet, and the part may crack.

Tighten them in the order that `tightened-after` in the machine file gives. To bring them to a stage first, such as
snug, is right.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.mending.sooner import sooner
from putback.model.called import counted, verb_s
from putback.model.machine import Fastener
from putback.model.states import GroupState, State
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-bolts: {count: 2, kind: bolt, thread: M8, class: "8.8", torque: 22 N·m, secures: lid, to: pump, order: in turn}
  rear-bolt: {kind: bolt, thread: M6, class: "8.8", torque: 9 N·m, secures: lid, to: pump, tightened-after: lid-bolts}
# jobs/example.yaml
steps:
  - loosen: [lid-bolts, rear-bolt]
  - tighten: rear-bolt
             ^^^^^^^^^ rear bolt is tightened, but two lid bolts come first and are not all tight yet
  - tighten: lid-bolts
  - check: pump
    limit: does not leak at the lid
    otherwise: [{stop: Do the job again.}]
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
fasteners:
  lid-bolts: {count: 2, kind: bolt, thread: M8, class: "8.8", torque: 22 N·m, secures: lid, to: pump, order: in turn}
  rear-bolt: {kind: bolt, thread: M6, class: "8.8", torque: 9 N·m, secures: lid, to: pump, tightened-after: lid-bolts}
# jobs/example.yaml
steps:
  - loosen: [lid-bolts, rear-bolt]
  - tighten: rear-bolt
    torque: snug
  - tighten: [lid-bolts, rear-bolt]
  - check: pump
    limit: does not leak at the lid
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that tighten a group while the one before it is not tight."""
    for book in opened.in_place():
        for entry in book.of(Tighten):
            things = book.graph.machine.things
            thing = things.get(entry.target.name) if entry.target else None
            if not isinstance(thing, Fastener) or thing.tightened_after is None:
                continue
            first = things.get(thing.tightened_after.name)
            action = entry.step.action
            if not isinstance(first, Fastener) or not isinstance(action, Tighten) or action.is_stage(thing):
                continue
            here = book.where(first.key, entry, _is_not_tight)
            if here == NONE:
                continue
            comes = f"{counted(first)} {verb_s(first, 'comes first and is not', 'come first and are not all')}"
            message = f"{counted(thing)} {verb_s(thing, 'is', 'are')} tightened, but {comes} tight yet"
            also = (Also(thing.tightened_after.span, "the machine file gives the order"), *entry.ways)
            hint = sooner(book, entry, "tighten", first.key, here)
            yield Fault(entry.span, message, also, hint, here, book.reached(entry))


def _is_not_tight(state: State) -> bool:
    """Tell whether pieces of a group are in and not tight, or are out."""
    return isinstance(state, GroupState) and state.tight < state.all
