"""A file that every guide needs is missing.

Without `machine.yaml` there is nothing to prove a job against; without `guide.yaml` there is no cover.

Add it. `putback new` writes a guide with all of them.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.READING
STAGE = "guide"

FAILS = """
# machine.yaml absent
^ this guide has no machine.yaml
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""
