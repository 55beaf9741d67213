"""A text gives a step, a job or a figure by its number.

Numbers change with every step that is added, and with the kind of machine that the manual is printed for. Then the
text sends the reader to another step.

Give the step a `name`, and refer to it by that: `{step drain-oil}` is printed as its number.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.unknown_reference import texts_of
from putback.ledger.opened import Opened
from putback.prose.pages import passage_of
from putback.prose.references import bare_numbers
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.ADVICE
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt
    for: cracks
    otherwise:
      - stop: Fit a new belt. Then go on, see step 4.
                                              ^^^^^^ 'step 4' is a number, and will be another one some day
"""

PASSES = """
steps:
  - inspect: belt
    for: cracks
    name: look-at-belt
    otherwise:
      - stop: Fit a new belt. Then go on, see {step look-at-belt}.
"""

_HINTS = {
    "step": "give the step a 'name', and write '{step NAME}'",
    "job": "write '{job NAME}', with the name of its file",
    "figu": "write '{figure FILE}', with the name of the picture's file",
}


def find(opened: Opened) -> Iterator[Fault]:
    """Yield numbers of steps, jobs and figures in the texts of jobs, blocks, the machine and safety messages."""
    for field, said, _ in texts_of(opened):
        for start, end in bare_numbers(said) if field not in ("limit", "found", "name", "title") else ():
            words = said[start:end]
            hint = _HINTS["figu" if words.lower().startswith("fig") else words[:4].lower().strip()]
            message = f"{quote(words)} is a number, and will be another one some day"
            yield Fault(passage_of(said).span(start, end), message, hint=hint)
