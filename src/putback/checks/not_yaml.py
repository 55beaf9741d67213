"""A file cannot be read as YAML.

Nothing in it can be checked, so nothing is proved. Often it is a tab, a missing quotation mark, or a line that is not
indented like its neighbours.

Correct the line that the message points at, or one just above it. Save the file as UTF-8.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.READING
STAGE = "load"

FAILS = """
steps:
  - remove: [cover-screws, pump-cover
            ^ the list that '[' opens here is not closed
  - install: pump-cover
"""

PASSES = """
steps:
  - inspect: [cover-screws, pump-cover]
    note: Look for cracks.
"""
