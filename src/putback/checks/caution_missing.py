"""A step can hurt somebody, and nothing warns of it.

The reader meets the danger without a warning. Hazards come from the verb (`run`, `lift`, …) and from tags on parts,
lines, fluids and consumables; they are defined in `hazards.yaml`.

Put a caution that covers the hazard before the step, in the same section.
"""

from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group, Root
from putback.ledger import Book, Entry
from putback.ledger.hazards import Exposure, Risk, exposures
from putback.ledger.messages import all_answering
from putback.ledger.opened import Opened
from putback.ledger.warned import about_machine
from putback.mending.sites import at_line, first_of_row, own_step, step_beside
from putback.model.states import ControlState
from putback.model.terms import Signal
from putback.model.verbs.blocks import Reverse
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

GRAVEST = [*Signal]
"""Signal words, the gravest first."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps with risks that no caution of their section answers; all risks of a step in one finding.

    Of several steps of a section with the same risks, each in variants of its own, the first is told: a caution before
    it answers all.
    """
    misspelt = {unknown.use.ref.name for unknown in opened.unknown}
    for book in opened.in_place():
        # What cannot be reversed is told there: nobody works through it backwards.
        stuck = {reverse.key for _, reverse in book.stuck}
        alike: dict[tuple[object, ...], list[tuple[list[Risk], VariantSet]]] = {}
        for risks, variants in gathered(
            exposure
            for exposure in exposures(book)
            if exposure.late is None and not (unsure(book, exposure.risk) or _perhaps_away(exposure.risk, misspelt))
        ):
            entry = risks[0].entry
            if not (entry.via and entry.via[0].key in stuck):
                hazards = frozenset(risk.hazard.key for risk in risks)
                alike.setdefault((entry.section, hazards), []).append((risks, variants))
        for found in alike.values():
            yield _fault(book, found)


def _fault(book: Book, found: list[tuple[list[Risk], VariantSet]]) -> Fault:
    risks, variants = found[0]
    entry, reached = risks[0].entry, book.reached(risks[0].entry)
    for others, more in found[1:]:
        variants = book.graph.space.either(variants, more)
        reached = book.graph.space.either(reached, book.reached(others[0].entry))
    return Fault(
        entry.span,
        f"nothing warns of the {listed([danger(risk) for risk in risks])} before this step",
        entry.ways,
        _hint(book, [each[0].entry for each, _ in found], risks),
        variants,
        reached,
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


def _perhaps_away(risk: Risk, misspelt: set[str]) -> bool:
    """Tell whether what keeps a hazard away has a name, or a position, that is misspelt where it is given."""
    return any(need.control.name in misspelt or need.position.name in misspelt for need in risk.hazard.safe_when)


def _hint(book: Book, entries: list[Entry], risks: list[Risk]) -> str | None:
    """Name cautions that answer all of the risks, or else any of them, and say where one goes."""
    wanted, cautions = {risk.hazard.key for risk in risks}, book.library.cautions
    covered = {key: wanted & {ref.name for ref in caution.covers} for key, caution in cautions.items()}
    answers = {key: covered[key] for key in about_machine(book, [key for key in covered if covered[key]])}
    most = max(map(len, answers.values()), default=0)
    names = [key for key in answers if len(answers[key]) == most][:3]
    if not names:
        return None
    backwards = any(isinstance(step.action, Reverse) for step in entries[0].via)
    around = [found for other in entries[1:] if (found := step_beside(book, other, entries[0], outermost=backwards))]
    step = min(around, key=lambda each: each.key.line, default=own_step(entries[0]) if backwards else entries[0].step)
    weakest = max((cautions[name].signal for name in names), key=GRAVEST.index)
    first = first_of_row(book, step, lambda message: GRAVEST.index(message.signal) > GRAVEST.index(weakest))
    where = "it" if first is entries[0].step else at_line(first, entries[0].step.key)
    both = all_answering(wanted, answers) if most < len(wanted) else []
    both.sort(key=lambda name: GRAVEST.index(cautions[name].signal))
    said = [f"'caution: [{', '.join(both)}]'"] if both else [f"'caution: {name}'" for name in names]
    return f"put {listed(said, 'or')} before {where}, in the same section"
