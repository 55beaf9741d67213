"""A block is reversed, but one of its steps has no safe reverse.

A part that was replaced in one go, or work that depends on the result of an inspection, cannot be reversed by rule.

Write the way back as steps of its own.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root
from putback.ledger.opened import Opened
from putback.model.job import Block
from putback.model.states import NEVER
from putback.model.verbs.blocks import Reverse
from putback.source.finding import Also, Level
from putback.source.span import Span

LEVEL = Level.ERROR
GROUP = Group.ORDER

FAILS = """
# blocks/new-belt.yaml
block: Renew the belt
ends-with: [guard-bolts, belt-guard]
steps:
  - remove: guard-bolts
  - remove: belt-guard
  - replace: belt
    ^^^^^^^ 'reverse' cannot undo this step; write out the way back step by step
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
    """Yield steps that a `reverse` cannot reverse; once where the block leaves nothing that could be reversed."""
    blocks = opened.guide.library.blocks
    for book in opened.books:
        idle = set[Span]()
        for step in book.sequence.steps():
            for ref in step.things if isinstance(step.action, Reverse) else ():
                block = blocks.get(ref.name)
                if block is not None and not _moved(block):
                    idle.add(step.key)
                    what = "the block ends as it begins" if block.ends_with else "the block has no 'ends-with'"
                    message = f"'{ref.name}' leaves everything as it was, so there is nothing to reverse"
                    root = Root(
                        book.sequence.path, ref.name, "reversed", NEVER, len(book.entries), True, chain=(step.key,)
                    )
                    yield Fault(ref.span, message, (Also(block.span, what),), root=root)
        stuck: dict[Span, list[Span]] = {}
        for one, reverse in book.stuck:
            stuck.setdefault(reverse.key, []).append(one.key)
        for key, (first, *others) in stuck.items():
            if key not in idle:
                also = (Also(key, "reversed from here"), *(Also(other, "nor can this one") for other in others))
                yield Fault(first, "'reverse' cannot undo this step; write out the way back step by step", also)


def _moved(block: Block) -> set[str]:
    return {ref.name for ref in block.ends_with} - {ref.name for ref in block.begins_with}
