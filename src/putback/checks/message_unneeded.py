"""A caution warns of something that no step of its section does.

People stop reading cautions that mean nothing, and then miss the one that matters. A caution applies to the end of its
section; a hazard that an isolation has taken away is not there.

Move it to the section with the risk. If there is a risk here, the machine file does not know of it: give the thing its
tag. For a danger that is not part of the machine (a trailer that may tip, traffic, a dog in the yard), write a message
with `covers: []`; nothing then has to cause it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root
from putback.ledger import Book, Entry
from putback.ledger.hazards import exposures, hazards_at, risks
from putback.ledger.involved import carried_tags
from putback.ledger.opened import Opened, wider
from putback.ledger.warned import ShownMessage, answering, comes_up, named_by_runs
from putback.mending.beside import if_beside
from putback.model.library import Hazard, SafetyMessage
from putback.model.states import NEVER
from putback.model.verbs.controls import Run
from putback.model.verbs.telling import Caution
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span

LEVEL = Level.WARNING
GROUP = Group.SAFETY
NEEDS = frozenset({"hazard", "equipment", "consumable"})

FAILS = """
sections:
  - title: Look
    steps:
      - caution: running-engine
                 ^^^^^^^^^^^^^^ nothing after it in this section causes what it warns of: running engine
      - inspect: belt-guard
        note: Look for cracks.
  - title: Run
    steps: [{caution: running-engine}, {run: engine, for: 5 min}]
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


DELETE = "delete it: wherever the danger is known to exist, another message warns of it"
NOTHING = "nothing after it in this section causes"


def find(opened: Opened) -> Iterator[Fault]:
    """Yield cautions that answer nothing in any variant, on any way, in any job that shows them."""
    faults = list(_found(opened))
    if faults and opened.only:
        # What the chosen variants do not need, others may.
        everywhere = {fault.span for fault in _found(wider(opened))}
        faults = [fault for fault in faults if fault.span in everywhere]
    yield from faults


def _found(opened: Opened) -> Iterator[Fault]:
    shown: dict[Span, dict[str, ShownMessage]] = {}
    used: set[Span] = set()
    for book in opened.books:
        if book.of(Caution):
            used |= answering(book, shown)
    for span, places in shown.items():
        if span in used:
            continue
        found = [_words(message, entry, book) for message, entry, book in places.values()]
        words, (message, entry, book) = found[0], next(iter(places.values()))
        if words is not None and None not in found:
            # A step that is lost may have been what it warns of: that is told first.
            lost = words[0].startswith(NOTHING)
            root = Root(book.sequence.path, message.key, "needed", NEVER, entry.index, last=True) if lost else None
            yield Fault(span, words[0], entry.ways, words[1], root=root)


def _words(message: SafetyMessage, entry: Entry, book: Book) -> tuple[str, str] | None:
    """Return what is wrong and what to do; None when the message may be true all the same."""
    known = [book.library.hazards.get(ref.name) for ref in message.covers]
    hazards = [one for one in known if one and (one.verbs or one.tags or one.mass or one.while_)]
    if not hazards or len(hazards) < len(known):
        return None  # It is about what is not the machine, or about a hazard that nobody knows.
    carried = carried_tags(book.graph.machine, book.library)
    unknown = [hazard for hazard in hazards if hazard.tags and carried.isdisjoint(hazard.tags)]
    if unknown and len(unknown) < len(hazards):
        return None  # It may warn of more than the files know.
    if unknown:
        name, tag = unknown[0].name, unknown[0].tags[0]
        named = named_by_runs(book, unknown[0], entry)
        to = f"{listed(named)}, which 'run' names here," if named else "the thing"
        hint = f"give {to} 'tags: [{tag}]'; for a danger from outside the machine, a message has 'covers: []'"
        return f"no thing of the machine has the tag '{tag}', so nothing here causes {name}", hint
    names = listed([hazard.name for hazard in hazards])
    later = [other for other in book.entries[entry.index + 1 :] if other.section == entry.section]
    runs = [entry, *(other for other in later if isinstance(other.step.action, Run))]
    if any(comes_up(book, hazard, later, runs) for hazard in hazards):
        return None
    near = [risk for other in later for risk in hazards_at(book, other, hazards, kept_away=True)]
    if near:
        kept = next((risk for risk in near if risk.hazard.safe_when), None)
        if kept is None:
            return None
        return f"what it warns of is kept away here: {names}, while {_safe(kept.hazard, book)}", "delete it"
    return f"{NOTHING} what it warns of: {names}", _hint(hazards, book, entry)


def _hint(hazards: list[Hazard], book: Book, entry: Entry) -> str:
    """Say what would be right of a message that answers nothing in its section."""
    keys = {hazard.key for hazard in hazards}
    elsewhere = any(risk.hazard.key in keys for risk in risks(book))
    tags = sorted({tag for hazard in hazards for tag in hazard.tags})
    if elsewhere and keys.isdisjoint(shown.risk.hazard.key for shown in exposures(book)):
        return if_beside(book, entry, set(tags)) or DELETE
    if elsewhere or not tags:
        return "move it into the section with the step that it warns of"
    if runs := named_by_runs(book, hazards[0], entry):
        return f"give {listed(runs)}, which 'run' names here, 'tags: [{tags[0]}]' in the machine file"
    return f"give the thing that is dangerous here its tag in the machine file: {listed(tags, 'or')}"


def _safe(hazard: Hazard, book: Book) -> str:
    """Say what keeps a hazard away."""
    known = {**book.library.equipment, **book.graph.machine.things}
    found = [
        (known[need.control.name].name, need.position.name) for need in hazard.safe_when if need.control.name in known
    ]
    return listed([f"{name} is {position}" for name, position in found])
