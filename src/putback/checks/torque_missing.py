"""A threaded fastener has no torque.

"Tight enough" strips an aluminium thread or loses a propeller.

Give the fastener a `torque`. When there is none, say so: `by-hand: how`, or `no-torque: why`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import counted, verb_s
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.TORQUE
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8}
  ^^^^^^^^^^ four lid screws have a thread and no torque
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 N·m, class: "8.8"}
  vent-knob: {name: vent knob, thread: M6 x 1.0, by-hand: until it stops}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners with a thread, or with a `tighten` step, that have neither a torque nor a reason."""
    machine = opened.guide.machine
    if machine is None:
        return
    tightened: dict[str, list[tuple[Also, bool]]] = {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Tighten):
                for ref in step.things:
                    also = Also(ref.span, "tightened here, to no torque")
                    stated = step.action.torque_span is not None and step.action.stage is None
                    tightened.setdefault(ref.name, []).append((also, stated))
    for key, thing in machine.things.items():
        if not isinstance(thing, Fastener) or thing.torque_span or thing.stages or thing.by_hand or thing.no_torque:
            continue
        if thing.held_for is not None:
            continue  # the torque of the joint is that of what is turned
        uses = tightened.get(key, [])
        bare = tuple(also for also, stated in uses if not stated)
        if bare or (thing.threaded and not uses):
            why = f"{verb_s(thing, 'has', 'have')} "
            if thing.thread:
                why += "a thread and "
            elif bare:
                why = f"{verb_s(thing, 'is', 'are')} tightened and {why}"
            message = f"{counted(thing)} {why}no torque"
            yield Fault(thing.span, message, bare[:1], "add 'torque: …', or 'by-hand: …', or 'no-torque: why'")
