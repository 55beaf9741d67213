"""A waiver has no reason, hides nothing, or waives what must not be waived.

Waivers outlive what they were written for, and then hide the next fault. A finding that could mean an injury cannot be
waived: the machine file must say why there is no hazard. A line of a baseline whose finding is gone is found
as well, as an error.

Give the reason, or delete the line.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.WARNING
GROUP = Group.NAMES
STAGE = "lint"

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    waive:
      no-final-test: nothing was taken apart
      ^^^^^^^^^^^^^ there is no finding of 'no-final-test' here to waive
"""

PASSES = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
  - tighten: guard-bolts
    waive:
      no-final-test: the guard is looked at on every start
"""
