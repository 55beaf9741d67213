"""A step calls for a tool that the library does not have.

The tool list at the top of the job would be wrong, and the mechanic would start without the tool.

Correct the name, or add the tool to `tools.yaml`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.unknown_name import fault_of
from putback.ledger.opened import Opened
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.TOOLS

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    tool: soket-10
          ^^^^^^^^ no tool is called 'soket-10'
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    tool: socket-10
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names of tools that are not in the library."""
    for unknown in opened.unknown:
        if unknown.use.kinds == ("tool",):
            yield fault_of(unknown)
