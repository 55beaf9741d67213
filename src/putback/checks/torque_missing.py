"""A threaded fastener has no torque.

"Tight enough" strips an aluminium thread or loses a propeller. A taper pipe thread seals only when it is turned well
past hand-tight.

Give the fastener a `torque`, or a pipe thread its turns `past-hand-tight`. If there is none, say so: `by-hand: how`, or
`no-torque: why`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.threads import ThreadSystem
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
  ^^^^^^^^^^ four lid screws have a thread but no torque
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 N·m, class: "8.8"}
  pressure-plug: {name: pressure plug, thread: 1/8 NPT, past-hand-tight: 2 .. 3 turns}
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
                    also = Also(ref.span, "tightened here, without a torque")
                    stated = step.action.torque_span is not None and step.action.stage is None
                    tightened.setdefault(ref.name, []).append((also, stated))
    for key, thing in machine.things.items():
        if not isinstance(thing, Fastener) or _told(thing):
            continue
        if thing.held_for is not None:
            continue  # the torque of the joint is that of what is turned
        uses = tightened.get(key, [])
        bare = tuple(also for also, stated in uses if not stated)
        if bare or (thing.threaded and not uses):
            yield Fault(thing.span, f"{counted(thing)} {_lacks(thing, bool(bare))}", bare[:1], _hint(thing))


def _told(thing: Fastener) -> bool:
    """Tell whether a fastener says how tight it is; a thread that seals by its taper is not tight by hand."""
    taper = thing.screw is not None and thing.screw.taper
    by_hand = thing.by_hand is not None and (not taper or "turn" in thing.by_hand.lower())
    return bool(thing.torque_span or thing.stages or thing.past_hand_tight_span or by_hand or thing.no_torque)


def _lacks(thing: Fastener, tightened: bool) -> str:
    have = verb_s(thing, "has", "have")
    if _in_pipe(thing):
        alone = ", which is not tight by hand, and" if thing.by_hand else " and"
        return f"{have} a pipe thread{alone} neither a torque nor turns past hand-tight"
    if thing.thread:
        return f"{have} a thread but no torque"
    return f"{verb_s(thing, 'is', 'are')} tightened but {have} no torque" if tightened else f"{have} no torque"


def _in_pipe(thing: Fastener) -> bool:
    return thing.screw is not None and thing.screw.system is ThreadSystem.PIPE


def _hint(thing: Fastener) -> str:
    if thing.by_hand:
        return "add 'past-hand-tight: … turns', or write 'torque: …' instead of 'by-hand'"
    turns = ", or 'past-hand-tight: … turns'" if _in_pipe(thing) else ""
    by_hand = "" if thing.screw and thing.screw.taper else ", or 'by-hand: …' if it is tightened without a tool"
    return f"look it up, and add 'torque: …'{turns}{by_hand}"
