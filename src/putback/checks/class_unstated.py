"""A torque is given for a bolt whose property class is not.

Without its class the bolt could be anything from soft to the strongest, which is four times as strong. A torque from
the wrong line of a table may then go unnoticed, and the mechanic does not know what to buy when a bolt is lost.

Write what is marked on the head, `class: "8.8"` or `class: A2-70`. A bolt without a mark is soft: `class: "4.8"`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.fastened import is_sealing, joint_of
from putback.model.library import Library
from putback.model.machine import Fastener, Machine
from putback.source.finding import Level

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M5 x 0.8
    torque: 3.5 N·m
            ^^^^^^^ lid screws have a torque but no property class: a wrong torque may go unnoticed
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {count: 4, thread: M5 x 0.8, class: "4.8", torque: 2.5 N·m}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first bolt of the machine file with a torque and no class; it tells of the others."""
    machine = opened.guide.machine
    if machine is None:
        return
    fasteners = [thing for thing in machine.things.values() if isinstance(thing, Fastener)]
    without = [thing for thing in fasteners if _lacks(thing, machine, opened.guide.library)]
    if not without:
        return
    first, others = without[0], len(without) - 1
    more = f"; {others} other{'s' if others > 1 else ''} as well" if others else ""
    have = verb_s(first, "has", "have")
    message = f"{named(first)} {have} a torque but no property class: a wrong torque may go unnoticed{more}"
    yield Fault(
        first.torque_span or first.span, message, (), "add what is marked on the head, such as 'class: \"8.8\"'"
    )


def _lacks(thing: Fastener, machine: Machine, library: Library) -> bool:
    """Tell whether a bolt or nut has a torque, and no class that would tell more of it."""
    judged = thing.screw is not None and thing.screw.stress_area is not None and thing.last_torque is not None
    if not judged or thing.grade is not None or is_sealing(thing):
        return False
    joint = joint_of(thing, machine, library)
    return joint is None or joint.strength is None  # a nut may have none, and its bolt has one
