"""A caution comes after the step that it warns of.

Anyone who reads step by step has done the dangerous thing before they meet the warning.

Move the caution up, before the step with the risk.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.checks.caution_missing import gathered, unsure
from putback.ledger import Book, Entry
from putback.ledger.hazards import Exposure, exposures
from putback.ledger.opened import Opened
from putback.mending.sites import at_line, step_beside
from putback.source.finding import Also, Level
from putback.source.span import Span

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True
NEEDS = frozenset({"caution"})

FAILS = """
steps:
  - run: engine
    for: 5 min
  - caution: running-engine
             ^^^^^^^^^^^^^^ this caution comes too late: the risk comes before it (running engine)
"""

PASSES = """
steps:
  - caution: running-engine
  - run: engine
    for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield cautions that stand after the risk they answer, in the same section."""
    for book in opened.in_place():
        late: dict[tuple[Span, ...], list[Exposure]] = {}
        for exposure in exposures(book):
            if exposure.late is not None and not unsure(book, exposure.risk):
                entry = exposure.late.entry
                late.setdefault((*(step.key for step in entry.via), entry.step.key), []).append(exposure)
        for exposed in late.values():
            caution = min((one.late.entry for one in exposed if one.late), key=lambda entry: entry.index)
            for risks, variants in gathered(exposed):
                risk = risks[0].entry
                names = ", ".join(risk.hazard.name for risk in risks)
                yield Fault(
                    caution.span,
                    f"this caution comes too late: the risk comes before it ({names})",
                    (Also(risk.span, "the step with the risk"), *caution.ways),
                    _hint(book, caution, risk),
                    variants,
                    book.reached(risk),
                )


def _hint(book: Book, caution: Entry, risk: Entry) -> str:
    """Say before which step it goes: one of the list that it stands in."""
    step = step_beside(book, caution, risk)
    return f"move it before {at_line(step)}" if step else "move it before that step"
