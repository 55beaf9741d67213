"""A limit, or what to look for, is in words that leave the answer to the reader.

"In good condition", "properly seated", "safe to operate": two people judge these in two ways, and anyone who has never
done the job cannot judge at all.

Say what is seen, heard or felt when all is well (`seated on its shoulder all round`, `turns freely`, `dry`), or name
what to look for: cracks, a torn lip, play that can be felt.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.judged import judged_in, what_is_judged
from putback.ledger.opened import Opened
from putback.model.said import Said
from putback.model.vague import says_nothing
from putback.model.verbs.asking import Inspect
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - inspect: belt
    for: [cracks, general condition]
                  ^^^^^^^^^^^^^^^^^ 'general condition' does not say what to look for
    otherwise:
      - stop: Fit a new belt.
  - check: belt-guard
    limit: properly seated
           ^^^^^^^^^^^^^^^ 'properly seated' does not say what is acceptable
    otherwise:
      - stop: Fit a new guard.
"""

PASSES = """
steps:
  - inspect: belt
    for: [cracks, frayed edges]
    otherwise:
      - stop: Fit a new belt.
  - check: belt-guard
    limit: lies flat on the block, and does not move under the hand
    otherwise:
      - stop: Fit a new guard.
"""

_GOOD = "say what is seen, heard or felt when all is well"
_BAD = "name what to look for, such as cracks or play"


def find(opened: Opened) -> Iterator[Fault]:
    """Yield limits of checks, and what to look for, that say nothing in English."""
    if not opened.guide.is_english:
        return
    for judged in judged_in(opened):
        limit = judged.limit
        if limit.quantity is None and not judged.measures and says_nothing(limit.text, (judged.words, judged.of)):
            yield Fault(limit.span, f"{quote(limit.text)} does not say what is acceptable", hint=_GOOD)
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if not isinstance(step.action, Inspect):
                continue
            named = [name for ref in step.things for name in (ref.name, *what_is_judged(step, things.get(ref.name)))]
            looked_for = step.action.for_ or [ref.name for ref in step.things if ref.name not in things]
            for words in looked_for:
                if isinstance(words, Said) and says_nothing(words, named if step.action.for_ else ()):
                    yield Fault(words.span, f"{quote(words)} does not say what to look for", hint=_BAD)
