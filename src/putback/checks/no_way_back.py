"""A block is reversed, and one of its steps has no safe reverse.

A part that was replaced in one go, or work that depends on how an inspection went, cannot be run backwards by rule.

Write the way back as steps of its own.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.verbs.blocks import Reverse
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
# blocks/new-belt.yaml
block: Renew the belt
steps:
  - replace: belt
    ^^^^^^^ this step cannot be reversed; write its way back out
# jobs/example.yaml
steps:
  - do: new-belt
  - reverse: new-belt
  - check: belt
    limit: gives 10 mm at 20 N
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# blocks/guard-off.yaml
block: Take off the belt guard
ends-with: [guard-bolts, belt-guard]
steps:
  - remove: guard-bolts
  - remove: belt-guard
# jobs/example.yaml
steps:
  - do: guard-off
  - reverse: guard-off
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps that a `reverse` cannot reverse."""
    for book in opened.books:
        for stuck, reverse in book.stuck:
            also = (Also(reverse.key, "reversed from here"),)
            yield Fault(stuck.key, "this step cannot be reversed; write its way back out", also)
    blocks = opened.guide.library.blocks
    stuck_at = {reverse.key for book in opened.books for _, reverse in book.stuck}
    for sequence in opened.guide.jobs.values():
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Reverse) else ():
                if ref.name in blocks and not blocks[ref.name].ends_with and step.key not in stuck_at:
                    also = (Also(blocks[ref.name].span, "the block has no 'ends-with'"),)
                    yield Fault(ref.span, f"'{ref.name}' leaves all as it was, so there is nothing to reverse", also)
