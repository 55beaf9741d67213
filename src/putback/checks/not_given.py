"""A block that takes a thing is done without one.

The block says "the caps", and only the job knows which: nothing of it can be proved, and the page would name nothing.

Name the thing where the block is done: `with: {cap: main-caps}`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.verbs.blocks import Do, Reverse
from putback.source.finding import Also, Level
from putback.source.grammar import listed

LEVEL = Level.ERROR
GROUP = Group.NAMES
NEEDS = frozenset({"block"})

FAILS = """
# blocks/in-steps.yaml
block: Tighten in two steps
takes: {bolts: fastener}
steps:
  - tighten: bolts
    torque: 50 %
  - tighten: bolts
# jobs/example.yaml
steps:
  - loosen: guard-bolts
  - do: in-steps
        ^^^^^^^^ in-steps takes a fastener for 'bolts', and nothing says which
  - tighten: guard-bolts
  - check: the joint
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# blocks/in-steps.yaml
block: Tighten in two steps
takes: {bolts: fastener}
steps:
  - tighten: bolts
    torque: 50 %
  - tighten: bolts
# jobs/example.yaml
steps:
  - loosen: guard-bolts
  - do: in-steps
    with: {bolts: guard-bolts}
  - check: the joint
    limit: dry
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield `do` and `reverse` steps of a block that do not say what a name of it stands for."""
    blocks = opened.guide.library.blocks
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if not isinstance(step.action, Do | Reverse):
                continue
            given = {name.name for name, _ in step.action.with_}
            for ref in step.things:
                block = blocks.get(ref.name)
                left = [(name, kind) for name, kind in block.takes if name.name not in given] if block else []
                if left and block:
                    what = listed([f"a {kind.name} for '{name.name}'" for name, kind in left])
                    also = tuple(Also(name.span, "the block takes it") for name, _ in left)
                    hint = f"add 'with: {{{', '.join(f'{name.name}: …' for name, _ in left)}}}'"
                    yield Fault(ref.span, f"{block.key} takes {what}, and nothing says which", also, hint)
