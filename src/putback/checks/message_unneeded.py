"""A caution warns of something that no step of its section does.

People stop reading cautions that mean nothing, and then they do not read the one that does. A caution is in force to
the end of its section; a hazard that an isolation has taken away is not there.

Take it away, or put it into the section with the risk. When there is a risk, the machine file does not know of it: give
the thing its tag.
"""

from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group
from putback.ledger import Book, Entry
from putback.ledger.hazards import caution_at, exposures, hazards_at
from putback.ledger.heat import beside_it
from putback.ledger.involved import carried_tags
from putback.ledger.lifted import lifted_at
from putback.ledger.opened import Opened, wider
from putback.model.library import SafetyMessage
from putback.model.verbs.controls import Run
from putback.model.verbs.telling import Caution
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.SAFETY
NEEDS = frozenset({"hazard", "equipment", "consumable"})

FAILS = """
sections:
  - title: Look
    steps:
      - caution: running-engine
                 ^^^^^^^^^^^^^^ nothing in this section after it brings about what it warns of: running engine
      - inspect: belt-guard
        note: Look for cracks.
  - title: Run
    steps:
      - caution: running-engine
      - run: engine
        for: 5 min
"""

PASSES = """
sections:
  - title: Look
    steps:
      - inspect: belt-guard
        note: Look for cracks.
  - title: Run
    steps:
      - caution: running-engine
      - run: engine
        for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield cautions that answer nothing in any variant, on any way, in any job that shows them."""
    faults = list(_found(opened))
    if faults and opened.only:
        # What the chosen variants do not need, others may.
        everywhere = {fault.span for fault in _found(wider(opened))}
        faults = [fault for fault in faults if fault.span in everywhere]
    yield from faults


def _found(opened: Opened) -> Iterator[Fault]:
    shown: dict[Span, tuple[SafetyMessage, Entry]] = {}
    used: set[Span] = set()
    for book in opened.in_place():
        if not book.of(Caution):
            continue
        # One that comes too late is told by `caution-late`.
        used |= {
            exposed.late.entry.target.span for exposed in exposures(book) if exposed.late and exposed.late.entry.target
        }
        for section in _sections(book):
            risks, runs = dict[str, VariantSet](), list[Entry]()
            for entry in reversed(section):
                message = caution_at(book, entry)
                if message is None:
                    runs += [entry] if isinstance(entry.step.action, Run) else []
                    for risk in (*hazards_at(book, entry), *lifted_at(book, entry)):
                        before = risks.get(risk.hazard.key, NONE)
                        risks[risk.hazard.key] = book.graph.space.either(before, risk.variants)
                elif entry.target is not None:
                    shown.setdefault(entry.target.span, (message, entry))
                    here = [risks.get(ref.name, NONE) for ref in message.covers]
                    here += [_beside(book, entry, ref.name, runs) for ref in message.covers]
                    known = all(_described(book, ref.name) for ref in message.covers)
                    # It may warn of more than the files know: then nothing can be said.
                    if not known or any(book.graph.space.both(variants, entry.variants) != NONE for variants in here):
                        used.add(entry.target.span)
    for span, (message, entry) in shown.items():
        if span not in used:
            hazards = opened.guide.library.hazards
            names = listed([hazards[ref.name].name for ref in message.covers]) or "nothing"
            yield Fault(
                span,
                f"nothing in this section after it brings about what it warns of: {names}",
                entry.ways,
                "take it away, or give the thing that is dangerous its tag in the machine file",
            )


def _beside(book: Book, entry: Entry, key: str, runs: list[Entry]) -> VariantSet:
    """Return the variants in which the engine runs at a message, or is run after it, and gives off a hazard."""
    hazard, found = book.library.hazards.get(key), NONE
    for each in (entry, *runs) if hazard is not None else ():
        found = book.graph.space.either(found, beside_it(book, each, hazard)) if hazard is not None else found
    return found


def _described(book: Book, key: str) -> bool:
    """Tell whether the files say what brings a hazard about: a verb, or a tag that something of the machine carries."""
    hazard = book.library.hazards.get(key)
    if hazard is None:
        return False
    return not hazard.tags or not carried_tags(book.graph.machine, book.library).isdisjoint(hazard.tags)


def _sections(book: Book) -> Iterable[list[Entry]]:
    """Return the entries of each section that has a caution, in order."""
    sections: dict[int, list[Entry]] = {entry.section: [] for entry in book.of(Caution)}
    for entry in book.entries:
        if entry.section in sections:
            sections[entry.section].append(entry)
    return sections.values()
