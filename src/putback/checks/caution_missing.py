"""A step can hurt somebody and nothing warns of it.

The reader meets the danger unwarned. Hazards come from the verb (`run`, `lift`, …) and from tags on parts, lines,
fluids and consumables; `hazards.yaml` has them.

Put a caution that covers the hazard before the step, in the same section.
"""

from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group, Root
from putback.ledger import Book
from putback.ledger.hazards import Exposure, Risk, exposures
from putback.ledger.opened import Opened
from putback.model.library import Library
from putback.model.states import ControlState
from putback.model.verbs.telling import Caution
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.variants import VariantSet

LEVEL = Level.ERROR
GROUP = Group.SAFETY
INJURES = True
NEEDS = frozenset({"caution"})

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


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps with risks that no caution of their section answers; all risks of a step in one finding."""
    for book in opened.in_place():
        # What cannot be reversed is told there: nobody works through it backwards.
        stuck = {reverse.key for _, reverse in book.stuck}
        for risks, variants in gathered(
            exposure for exposure in exposures(book) if exposure.late is None and not unsure(book, exposure.risk)
        ):
            entry = risks[0].entry
            if entry.via and entry.via[0].key in stuck:
                continue
            yield Fault(
                entry.target.span if entry.target else entry.step.key,
                f"nothing warns of the {listed([danger(risk) for risk in risks])} before this step",
                entry.ways,
                _hint(risks, book.library),
                variants,
                book.reached(entry),
                _root(book, risks),
            )


def _root(book: Book, risks: list[Risk]) -> Root | None:
    """Where a control that keeps all of the danger away was forgotten, that is told, and not what it brings about."""
    entry = risks[0].entry
    for need in risks[0].hazard.safe_when:
        if all(need.control.name in {other.control.name for other in risk.hazard.safe_when} for risk in risks):
            for _, state in book.before(need.control.name, entry):
                if isinstance(state, ControlState) and state.position != need.position.name:
                    wanted = need.position.name
                    return Root(book.sequence.path, need.control.name, wanted, state.on_by, entry.index, follows=True)
    return None


def gathered(exposures: Iterable[Exposure]) -> Iterator[tuple[list[Risk], VariantSet]]:
    """Yield the risks of each step together, as far as they are there in the same variants."""
    together: dict[tuple[int, VariantSet], list[Risk]] = {}
    for exposure in exposures:
        together.setdefault((exposure.risk.entry.index, exposure.variants), []).append(exposure.risk)
    for (_, variants), risks in together.items():
        yield risks, variants


def danger(risk: Risk) -> str:
    """Return what a risk is, and what it comes from when that is not the verb."""
    return risk.hazard.name + (f" ({risk.source})" if risk.source else "")


def unsure(book: Book, risk: Risk) -> bool:
    """Tell whether a caution that nobody knows stands before it: what that one answers is not known."""
    return any(
        entry.section == risk.entry.section
        and entry.index < risk.entry.index
        and entry.target is not None
        and entry.target.name not in book.library.cautions
        for entry in book.of(Caution)
    )


def _hint(risks: list[Risk], library: Library) -> str | None:
    """Name cautions that answer all of the risks, or else any of them."""
    wanted = {risk.hazard.key for risk in risks}
    answers = {key: wanted & {ref.name for ref in caution.covers} for key, caution in library.cautions.items()}
    most = max(map(len, answers.values()), default=0)
    names = [f"'caution: {key}'" for key, covered in answers.items() if covered and len(covered) == most]
    return f"put {listed(names[:3], 'or')} before it, in the same section" if names else None
