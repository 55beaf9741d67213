"""A key or value does not belong where it is.

A misspelt key would be silently ignored, and with it the torque or the condition that it gives.

Correct it as the message says. The language reference lists all keys; an editor that supports JSON Schema shows them.
"""

from putback.checks import Group
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.READING
STAGE = "schema"

FAILS = """
steps:
  - inspekt: belt-guard
    ^^^^^^^ 'inspekt' is not a verb; did you mean 'inspect'?
    note: Look for cracks.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""
