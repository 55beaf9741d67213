"""A file uses YAML that is not plain.

Anchors, aliases, merge keys, tags, a second document or a repeated key make one text mean two things to two readers.

Write the value out in full. What is shared is reused by name, with blocks and the library.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.READING
STAGE = "load"

FAILS = """
steps:
  - inspect: belt-guard
    for: cracks
    for: rust
    ^^^ the key 'for' is here a second time; the first is on line 3
"""

PASSES = """
steps:
  - inspect: belt-guard
    for: [cracks, rust]
    otherwise:
      - stop: Get another guard.
"""
