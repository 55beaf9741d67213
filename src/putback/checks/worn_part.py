"""A part that was measured outside its wear limit goes back.

The steps after a measurement out of limit are there to put it right. A worn belt that is taken off and fitted again is
still worn.

Add `new: true` to the step that installs it. If the part is repaired in between, waive this and say how.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Step
from putback.model.machine import Part
from putback.model.terms import Ref
from putback.model.verbs.asking import Measure
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.CLOSING

FAILS = """
steps:
  - measure: belt
    otherwise:
      - remove: belt
      - install: belt
                 ^^^^ the worn belt goes back: it was measured outside its limit
  - check: pump
    limit: gives water within 20 s
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - measure: belt
    otherwise:
      - remove: belt
      - install: belt
        new: true
  - check: pump
    limit: gives water within 20 s
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield `install` steps, under a measurement of a part with a wear limit, that put that part back."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if not isinstance(step.action, Measure):
                continue
            for ref in step.things:
                thing = things.get(ref.name)
                if not isinstance(thing, Part) or thing.wear is None or thing.single_use:
                    continue
                for back in _put_back(opened, step.inner, ref.name, frozenset()):
                    by_block = back.name != ref.name
                    hint = "put its steps here, with 'new: true' for that part" if by_block else "add 'new: true'"
                    message = f"the worn {named(thing)} goes back: it was measured outside its limit"
                    yield Fault(back.span, message, (Also(ref.span, "measured here"),), hint)


def _put_back(opened: Opened, steps: tuple[Step, ...], key: str, doing: frozenset[str]) -> Iterator[Ref]:
    """Yield the places that put a part back as it was, blocks included; none once a new one takes its place."""
    for step in steps:
        action = step.action
        if isinstance(action, Replace) and any(ref.name == key for ref in action.things):
            return
        if isinstance(action, Install) and not action.new:
            yield from (ref for ref in action.things if ref.name == key)
        if isinstance(action, Do | Reverse):
            for ref in action.things:
                block = opened.guide.library.blocks.get(ref.name)
                if block is None or ref.name in doing:
                    continue
                if isinstance(action, Do):
                    inner = tuple(each for section in block.sections for each in section.steps)
                    yield from _put_back(opened, inner, key, doing | {ref.name})
                elif any(
                    part.name == key
                    for each in block.steps()
                    if isinstance(each.action, Remove)
                    for part in each.things
                ):
                    yield ref  # its reverse puts back what it took off
        yield from _put_back(opened, step.inner, key, doing)
