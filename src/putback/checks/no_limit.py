"""Something is measured, checked or inspected, with no acceptance limit.

A number without a limit decides nothing: the reader writes down 0.3 mm and does not know whether that is good. Someone
who is sent to inspect a seal, without knowing what for, just looks at it.

Add `limit:` with a range and its unit, or, for a `check`, words that two people would judge alike; for an `inspect`,
add `for:` with what to look for. For a part, `wear` in the machine file gives the limit to all jobs; for what is
adjusted, its setting does.
"""

import re
from collections.abc import Iterator, Mapping, Sequence

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.good import limit_on, looked_for
from putback.model.job import Block
from putback.model.machine import AnyThing
from putback.model.said import Said
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.source.finding import Level
from putback.source.late import Late

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: belt guard
    ^^^^^^^ no acceptance limit given
    otherwise:
      - stop: Fit a new guard.
  - inspect: belt
    ^^^^^^^ nothing says what to look for
    otherwise:
      - stop: Fit a new belt.
"""

PASSES = """
steps:
  - measure: belt guard
    limit: 2 mm .. 5 mm
    otherwise:
      - stop: Fit a new guard.
  - inspect: belt
    for: [cracks, frayed edges]
    otherwise:
      - stop: Fit a new belt.
"""


_ASKS = Late(
    r"\b(?:for|look|looks|feel|feels|see|listen|whether|crack\w*|worn|wear|damage\w*|leak\w*)\b", re.IGNORECASE
)
"""What a note has that says what to look for."""

_NAMES = Late(r"(?!.* for )(?:the|all|both|each|every|its) ", re.IGNORECASE | re.DOTALL)
"""How words begin that name a thing: `the magnet of the drain plug`."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield measurements and checks without a limit, of their own or of the part, and inspections for nothing."""
    if opened.guide.machine is None:
        return  # what is good, and what to look for, may stand in the machine file, which could not be used
    things = opened.guide.machine.things
    yield from _looked_at(opened, things)
    for sequence in opened.nesting.sequences():
        taken = {name.name for name, _ in sequence.takes} if isinstance(sequence, Block) else set()
        for step in sequence.steps():
            action = step.action
            if not isinstance(action, Measure | Verify) or action.limit:
                continue
            if isinstance(action, Measure) and action.difference:
                continue
            if any(ref.name in taken for ref in step.things):
                continue  # what it stands for has its own limit, and is looked at where the block is done
            known = [things.get(ref.name) for ref in step.things]
            if known and all(thing and limit_on(thing, action) for thing in known):
                continue
            if not isinstance(action, Measure) or not _keeps_position(known):
                more = "" if step.otherwise else ", and 'otherwise:' with what to do if it is not met"
                yield Fault(step.key, "no acceptance limit given", hint=f"add 'limit: …'{more}")


def _looked_at(opened: Opened, things: Mapping[str, AnyThing]) -> Iterator[Fault]:
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            action = step.action
            if not isinstance(action, Inspect) or step.text or (step.note and _ASKS.search(step.note)):
                continue
            if all(looked_for(Inspect((ref,), action.for_), things) for ref in step.things):
                continue
            # Words may say it: `cracks in the weld`; not those that name a thing alone: `the magnet of the plug`.
            if not any(isinstance(ref.name, Said) and not _NAMES.match(ref.name) for ref in step.things):
                more = "" if step.otherwise else ", and 'otherwise:' with what to do if they are found"
                yield Fault(step.key, "nothing says what to look for", hint=f"add 'for: …'{more}")


def _keeps_position(known: Sequence[object]) -> bool:
    """Tell whether all are adjustable: what is measured then is kept, to be set again, and has no limit."""
    return bool(known) and all(getattr(thing, "adjustable", False) for thing in known)
