"""A step can hurt somebody and nothing warns of it.

The reader meets the danger unwarned. Hazards come from the verb (`run`, `lift`, …) and from tags on parts, lines, fluids and
consumables; `hazards.yaml` has them.

Put a caution that covers the hazard before the step, in the same section.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.ledger.hazards import Risk, exposures
from putback.library import Library
from putback.words import listed

LEVEL = Level.ERROR
INJURES = True

FAILS = """
steps:
  - run: engine
         ^^^^^^ nothing warns of the running engine before this step
    for: 5 min
"""

PASSES = """
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield risks that no caution of their section answers."""
    for book in case.books:
        for exposure in exposures(book):
            if exposure.late is None:
                entry = exposure.risk.entry
                yield Fault(
                    entry.target.span if entry.target else entry.step.key,
                    f"nothing warns of the {danger(exposure.risk)} before this step",
                    entry.ways,
                    _hint(exposure.risk, book.library),
                    exposure.worlds,
                    entry.reached,
                )


def danger(risk: Risk) -> str:
    """Return what a risk is, and what it comes from when that is not the verb."""
    return risk.hazard.name + (f" ({risk.source})" if risk.source else "")


def _hint(risk: Risk, library: Library) -> str | None:
    answers = [
        f"'caution: {key}'"
        for key, message in library.cautions.items()
        if any(covered.name == risk.hazard.key for covered in message.covers)
    ]
    return f"put {listed(answers[:3], 'or')} before it, in the same section" if answers else None
