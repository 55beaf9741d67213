"""Something is measured or checked, and nothing says what is good.

A number without a limit decides nothing: the reader writes down 0.3 mm and does not know whether to be glad.

Add `limit:` with a number and its unit, or with words that two people would judge alike. For a part, `wear` in the
machine file says it for all jobs.
"""

from collections.abc import Iterator, Sequence

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.machine import Part
from putback.model.verbs.asking import Measure, Verify
from putback.source.finding import Level

LEVEL = Level.ERROR
GROUP = Group.PROOF

FAILS = """
steps:
  - measure: belt guard
    ^^^^^^^ nothing says what is good here
    otherwise:
      - stop: Fit a new guard.
"""

PASSES = """
steps:
  - measure: belt guard
    limit: 2 mm .. 5 mm
    otherwise:
      - stop: Fit a new guard.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield measurements and checks without a limit, of their own or of the part."""
    if opened.guide.machine is None:
        return  # the limit may stand in the machine file, which could not be used
    things = opened.guide.machine.things
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            action = step.action
            if not isinstance(action, Measure | Verify) or action.limit:
                continue
            if isinstance(action, Measure) and action.difference:
                continue
            known = [things.get(ref.name) for ref in step.things]
            if isinstance(action, Measure) and all(isinstance(thing, Part) and thing.wear for thing in known):
                limits = [thing.wear.limit for thing in known if isinstance(thing, Part) and thing.wear]
                if known and all(limits):
                    continue
            if not isinstance(action, Measure) or not _keeps_position(known):
                yield Fault(step.key, "nothing says what is good here", hint="add 'limit: …'")


def _keeps_position(known: Sequence[object]) -> bool:
    """Tell whether all are adjustable: what is measured then is kept, to be set again, and has no limit."""
    return bool(known) and all(getattr(thing, "adjustable", False) for thing in known)
