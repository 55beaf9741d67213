"""A bolt that is tightened by angle is used again.

The angle stretches it for good. The second time it is thinner and longer, and may break or let go as it is turned.

Add `replace: always`. If the maker allows it to be used again, add `reuse: why`, and say how to measure it first.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.fastened import is_sealing
from putback.model.machine import Fastener
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.TORQUE
INJURES = True

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  rod-bolts: {count: 2, thread: M7 x 1.0, class: "10.9", stages: [8 N·m, 90°]}
  ^^^^^^^^^ rod bolts are tightened by angle, which stretches them, but nothing says that they must be new every time
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  rod-bolts: {count: 2, thread: M7 x 1.0, class: "10.9", stages: [8 N·m, 90°], replace: always}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield fasteners with an angle among their stages that are neither single-use nor said to bear it again."""
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if not isinstance(thing, Fastener) or is_sealing(thing):
            continue  # a plug or a filter that is turned on by an angle is not stretched
        if thing.by_angle and not thing.single_use and not thing.reuse:
            be, it, they = verb_s(thing, "is", "are"), verb_s(thing, "it", "them"), verb_s(thing, "it", "they")
            message = f"{named(thing)} {be} tightened by angle, which stretches {it}, but nothing says "
            hint = "add 'replace: always', or 'reuse: why'"
            yield Fault(thing.span, f"{message}that {they} must be new every time", hint=hint)
