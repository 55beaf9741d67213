"""A step calls for a tool that the library does not have.

The list of tools at the head of the job would not name it rightly, and the mechanic would start without it.

Correct the name, or add the tool to `tools.yaml`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.names import uses_of
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.source.nearest import nearest
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.TOOLS

FAILS = """
steps:
  - inspect: belt-guard
    tool: soket-10
          ^^^^^^^^ no tool is called 'soket-10'
"""

PASSES = """
steps:
  - inspect: belt-guard
    tool: socket-10
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names of tools that are not in the library."""
    tools = opened.guide.library.tools
    if "tool" in opened.guide.library.broken:
        return  # of a file that could not be used, no name is known
    for use in uses_of(opened.guide):
        if use.kinds == ("tool",) and use.ref.name not in tools:
            near = nearest(use.ref.name, tools)
            hint = f"did you mean '{near}'?" if near else "add it to tools.yaml"
            yield Fault(use.ref.span, f"no tool is called {quote(use.ref.name)}", hint=hint)
