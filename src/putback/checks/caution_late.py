"""A caution stands after the step that it warns of.

Who reads step by step has done the dangerous thing before the warning comes.

Move the caution up, before the step with the risk.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.checks.caution_missing import danger
from putback.finding import Also, Level
from putback.ledger.hazards import exposures

LEVEL = Level.ERROR
INJURES = True

FAILS = """
steps:
  - run: engine
    for: 5 min
  - caution: running-engine
             ^^^^^^^^^^^^^^ this caution comes too late: the running engine is there before it
"""

PASSES = """
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield cautions that stand behind the risk they answer, in the same section."""
    for book in case.books:
        for exposure in exposures(book):
            late, risk = exposure.late, exposure.risk
            if late is not None and late.entry.target is not None:
                place = risk.entry.target.span if risk.entry.target else risk.entry.step.key
                yield Fault(
                    late.entry.target.span,
                    f"this caution comes too late: the {danger(risk)} is there before it",
                    (Also(place, "the step with the risk"), *late.entry.ways),
                    "move it before that step",
                    exposure.worlds,
                    risk.entry.reached,
                )
