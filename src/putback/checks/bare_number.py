"""A number has no unit where it needs one.

18 what? Newton-metres and pound-feet differ by a third, enough to strip a thread.

Write the unit after the number: `18 N·m`, `300 ml`, `11 kg`.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.NUMBERS
STAGE = "model"

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5}
                                                                    ^^^ '3.5' has no unit
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 N·m, class: "8.8"}
"""
