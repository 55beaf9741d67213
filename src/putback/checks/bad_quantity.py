"""A quantity cannot be understood.

Its unit is unknown, or measures something else: a torque in kilograms, a volume in metres.

Write it as the trade does: `18 N·m`, `0.2 mm .. 0.4 mm`, `20 N·m ± 10 %`.
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
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 kg}
                                                                    ^^^^^^ '3.5 kg' is a mass, but a torque is expected
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 N·m, class: "8.8"}
"""
