"""A torque is in the lowest fifth of the only torque wrench that covers it.

A click wrench is least accurate at the low end of its scale. Common practice, and ISO 6789 in its 2003 edition, is to
use it from 20 % of its maximum upwards; the 2017 edition lets the maker mark where the scale starts.

List a smaller wrench in tools.yaml.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.tool_range import wrenches_of
from putback.joints.wrench import LOWEST_FIFTH, Use, usable
from putback.ledger.opened import Opened
from putback.model.machine import Fastener
from putback.source.finding import Level
from putback.units import digits

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 9 N·m, class: "8.8"}
                                             ^^^^^ only torque wrench covers 9 N·m, at less than a fifth of its 110 N·m
# tools.yaml
torque-wrench: {range: 5 N·m .. 110 N·m}
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {count: 2, thread: M6, torque: 9 N·m, class: "8.8"}
# tools.yaml
torque-wrench: {range: 5 N·m .. 110 N·m}
small-torque-wrench: {range: 2 N·m .. 25 N·m}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of the machine file that every listed wrench shows, if at all, in its lowest fifth."""
    library, machine = opened.guide.library, opened.guide.machine
    if any("torque" in tool.key and tool.range is None for tool in library.tools.values()):
        return  # one whose range could not be read may be the right one
    wrenches = wrenches_of(library)
    for thing in machine.things.values() if machine else ():
        torque = thing.last_torque if isinstance(thing, Fastener) else None
        if not isinstance(thing, Fastener) or torque is None or thing.torque_span is None:
            continue
        uses = [(usable(wrench, torque), wrench) for wrench in wrenches]
        low = [wrench for use, wrench in uses if use is Use.LOWEST_FIFTH]
        if low and all(use is not Use.COVERED for use, _ in uses):
            best = min(low, key=lambda wrench: wrench.high)
            part = "a fifth" if LOWEST_FIFTH == 0.2 else f"{LOWEST_FIFTH:.0%}"
            most = f"at less than {part} of its {digits(best.high)} N·m"
            message = f"only {library.tools[best.key].name} covers {torque.text}, {most}"
            yield Fault(thing.torque_span, message)
