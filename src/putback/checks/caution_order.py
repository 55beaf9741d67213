"""The cautions before a step are not in order of severity.

The eye stops at the first message in a row. If that one is about a torn gasket, the one about a torn hand is read as
more of the same. Put the most serious first: danger, warning, caution; damage to property (notice) last.

Move the more serious one up. This applies to cautions that follow each other with no other step between them.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, met_at
from putback.ledger import Book, Entry
from putback.ledger.hazards import caution_at
from putback.ledger.opened import Opened
from putback.model.states import NEVER
from putback.model.terms import Signal
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.SAFETY
NEEDS = frozenset({"caution"})

FAILS = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
scratches:
  signal: notice
  hazard: Grit between the belt and its pulley grinds both.
  consequence: The belt fails within days.
  avoid: [Wipe the belt before the engine is started.]
  covers: [wear-and-tear]
# hazards.yaml
running-engine: {name: running engine, signal-at-least: warning, verbs: [run]}
wear-and-tear: {name: worn belts, signal-at-least: notice, verbs: [run]}
# jobs/example.yaml
steps:
  - caution: [scratches, running-engine]
                         ^^^^^^^^^^^^^^ running-engine, a 'warning', comes after scratches, a 'notice'
  - run: engine
    for: 5 min
"""

PASSES = """
# cautions.yaml
running-engine:
  signal: warning
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Keep hands away from the belts.]
  covers: [running-engine]
scratches:
  signal: notice
  hazard: Grit between the belt and its pulley grinds both.
  consequence: The belt fails within days.
  avoid: [Wipe the belt before the engine is started.]
  covers: [wear-and-tear]
# hazards.yaml
running-engine: {name: running engine, signal-at-least: warning, verbs: [run]}
wear-and-tear: {name: worn belts, signal-at-least: notice, verbs: [run]}
# jobs/example.yaml
steps:
  - caution: [running-engine, scratches]
  - run: engine
    for: 5 min
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield cautions that are graver than one that stands before them in the same row."""
    for book in opened.in_place():
        yield from _of(book)


def _of(book: Book) -> Iterator[Fault]:
    both, without = book.graph.space.both, book.graph.space.without
    gravest = list(Signal)
    row: list[tuple[Entry, Signal]] = []
    blamed: set[Span] = set()
    left: dict[int, VariantSet] = {}
    """The variants of each caution of the row in which no other step has come since."""
    for entry in book.entries:
        message = caution_at(book, entry)
        if row and entry.section != row[-1][0].section:
            row = []
        if message is None:
            for other, _ in row:
                left[other.index] = without(left[other.index], entry.variants)
            row = [(other, signal) for other, signal in row if left[other.index] != NONE]
            continue
        for other, signal in row:
            variants = both(left[other.index], entry.variants)
            if variants != NONE and gravest.index(message.signal) < gravest.index(signal):
                assert entry.target is not None
                assert other.target is not None
                # A step that is lost may have stood between the two: that is told first.
                root = Root(book.sequence.path, message.key, "first", NEVER, entry.index, last=True)
                span = met_at(entry, other)
                if span in blamed:
                    break
                blamed.add(span)
                yield Fault(
                    span,
                    f"{message.key}, a '{message.signal}', comes after {other.target.name}, a '{signal}'",
                    (Also(other.target.span, "this one is less serious"), *entry.ways),
                    "put the most serious first",
                    variants,
                    book.reached(entry),
                    root,
                )
                break
        row.append((entry, message.signal))
        left[entry.index] = entry.variants
