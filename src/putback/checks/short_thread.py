"""Too little of a bolt's thread is engaged for what it is screwed into.

A soft thread holds only if it is long: in steel one diameter, in aluminium one and a half or two. A shorter one strips
before the bolt is tight, at a torque that looks right. Common practice, no source.

Use a longer bolt, or fit a thread insert. If the length in the machine file is wrong, correct it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.members import STEEL
from putback.joints.usual import is_short
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.fastened import joint_of
from putback.model.machine import Fastener
from putback.source.finding import Also, Level
from putback.units import digits

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {material: aluminium}
fasteners:
  lid-screw:
    class: "8.8"
    thread: M8
    torque: 16 N·m
    to: pump
    engagement: 8 mm
                ^^^^ lid screw has 8 mm of thread in aluminium, which needs 12 mm or more
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {material: aluminium}
fasteners:
  lid-screw: {thread: M8, class: "8.8", torque: 16 N·m, to: pump, engagement: 16 mm}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners whose engaged length is less than the trade takes for enough at the least."""
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if not isinstance(thing, Fastener) or thing.engagement is None or thing.engagement_span is None or not machine:
            continue
        joint = joint_of(thing, machine, opened.guide.library)
        if joint is not None and is_short(joint):
            material = STEEL if joint.insert or joint.material is None else joint.material
            least = material.least * joint.thread.diameter
            have = verb_s(thing, "has", "have")
            message = f"{named(thing)} {have} {thing.engagement.text} of thread in {material.name}, which needs "
            yield Fault(
                thing.engagement_span, f"{message}{digits(least, 3)} mm or more", (Also(thing.span, named(thing)),)
            )
