"""A block that needs a thing is done without one, or with one that has no such position.

The block says "the caps", and only the job knows which: nothing can be proved of it, and the page would name nothing.

Name the thing where the block is done: `with: {cap: main-caps}`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.job import Block
from putback.model.machine import Machine
from putback.model.terms import Ref
from putback.model.verbs.blocks import Do, Reverse
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.source.quoting import quote

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
        ^^^^^^^^ in-steps needs a fastener for 'bolts', but none is given
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
                    also = tuple(Also(name.span, "the block asks for it here") for name, _ in left)
                    hint = f"add 'with: {{{', '.join(f'{name.name}: …' for name, _ in left)}}}'"
                    yield Fault(ref.span, f"{block.key} needs {what}, but none is given", also, hint)
                elif block:
                    yield from _unfit(block, step.action.with_, opened.guide.machine)


def _unfit(block: Block, given: tuple[tuple[Ref, Ref], ...], machine: Machine | None) -> Iterator[Fault]:
    """Yield things that have no such position as the block says of them."""
    takes, things = {name.name for name, _ in block.takes}, machine.things if machine else {}
    for name, ref in given:
        mentions = [
            mention
            for step in (block.steps() if name.name in takes and ref.name in things else ())
            if step.verb.mentions and name.name in {each.name for each in step.things}
            for mention in step.verb.mentions(step.action._replace(things=(ref,)), machine)  # type: ignore[attr-defined]
            if mention.known is not None and mention.ref.name not in mention.known
        ]
        for mention in mentions[:1]:
            known = listed([quote(each) for each in mention.known or ()], "or")
            also = (Also(mention.ref.span, f"{block.key} says so here"),)
            words = f"{mention.user} {quote(mention.ref.name)}"
            yield Fault(ref.span, words, also, f"it can be {known}" if known else None)
