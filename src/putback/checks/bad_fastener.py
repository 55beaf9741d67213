"""The description of a fastener or a setting makes no sense.

A thread that no tap cuts, a class that no bolt head carries, five positions for six bolts: the torque, the order and
the drawing worked out from it would be wrong. Nor can any order of work satisfy two nuts that lock each other, or a
setting that disturbs itself.

Write what is marked on the piece, or what the drawing shows. The hint says which values are known.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.TORQUE
STAGE = "model"

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    class: "8.8"
    thread: M5 x 0.8
    torque: 3.5 N·m
    condition: as usual
               ^^^^^^^^ 'as usual' is not a known thread condition
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M5 x 0.8, torque: 3.5 N·m, condition: clean and dry, class: "8.8"}
"""
