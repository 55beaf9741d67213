"""Pieces are missing from what was inspected, and nothing says what to do if they are not found.

A vane of an impeller, a tooth, half a clip: what is not on the bench is in the machine, in a passage or among the
gears, and does its harm later. A new part does not bring the old pieces out.

Let the way out look for them, and end in a `stop` if some are not found.
"""

import re
from collections.abc import Iterable, Iterator, Mapping

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.good import limit_of, looked_for
from putback.model.job import Block, Step, walk
from putback.model.verbs.asking import Inspect
from putback.model.verbs.blocks import BackTo, Do
from putback.model.verbs.telling import Stop
from putback.source.finding import Level
from putback.source.late import Late

LEVEL = Level.WARNING
GROUP = Group.PROOF

FAILS = """
steps:
  - inspect: belt
    ^^^^^^^ nothing says what to do if the missing pieces are not found
    for: missing pieces of the teeth
    otherwise:
      - act: Look for the pieces in the belt guard.
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - inspect: belt
    for: missing pieces of the teeth
    otherwise:
      - check: the pieces that were found, laid together
        limit: nothing is missing
        otherwise:
          - stop: Have a professional look for the rest.
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_MISSING = Late(
    r"\bmissing (?:pieces?|parts?|bits?|vanes?|teeth|tooth|splinters?|chunks?)\b"
    r"|\b(?:pieces?|parts?|bits?|vanes?|teeth|tooth)(?: of [\w ]+?)?,?"
    r" (?:(?:is|are) )?(?:missing|(?:broken|torn) off)\b",
    re.IGNORECASE,
)
"""Words of an inspection for what has come off and is somewhere."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield inspections for missing pieces whose way out never stops."""
    if not opened.guide.is_english:
        return
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            action = step.action
            limit = limit_of(action, things)
            said = looked_for(action, things) if isinstance(action, Inspect) else (limit.text,) if limit else ()
            asked = step.otherwise and any(_MISSING.search(words) for words in said)
            if asked and not _stops(step.otherwise, opened.nesting.blocks, frozenset()):
                message = "nothing says what to do if the missing pieces are not found"
                hint = "let the way out look for them, with a 'check' that stops where one is not found"
                yield Fault(step.key, message, hint=hint)


def _stops(steps: Iterable[Step], blocks: Mapping[str, Block], doing: frozenset[str]) -> bool:
    """Tell whether some step ends the job, or goes back to a question."""
    for step in walk(tuple(steps)):
        if isinstance(step.action, Stop | BackTo):
            return True
        for ref in step.things if isinstance(step.action, Do) else ():
            if ref.name in blocks and ref.name not in doing:
                inner = (each for section in blocks[ref.name].sections for each in section.steps)
                if _stops(inner, blocks, doing | {ref.name}):
                    return True
    return False
