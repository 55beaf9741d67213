"""One name is used for two things.

A step that uses it could mean either: a part and a fastener, or a caution of the guide and one of the library.

Give one of them another name.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.NAMES
STAGE = "model"

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
fasteners:
  lid: {count: 4}
  ^^^ 'lid' names a fastener, but is already the name of a part
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  lid: {}
fasteners:
  lid-screws: {count: 4}
"""
