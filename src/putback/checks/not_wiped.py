"""Something is checked for being dry just after it came out of water, or was filled through the same hole.

Everything that comes out of a test tank is wet, and oil that is pumped in from below runs down the outside: what you
see there tells you nothing, and you cannot see a leak that starts there.

Add a `clean` step before the `check`: wipe it dry, then wait and look. If the text of a step says to wipe it, that is
enough. Equipment in which things get wet is tagged `wet`, and `at` says what it is placed around.
"""

import re
from collections.abc import Iterator, Set

from putback.checks import Fault, Group, met_at
from putback.ledger import Book, Entry
from putback.ledger.goes_with import goes_with
from putback.ledger.opened import Opened
from putback.model.called import named, speaks_of
from putback.model.good import limit_of
from putback.model.machine import Fastener, Fluid
from putback.model.verbs.asking import Verify
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.fluids import Fill
from putback.source.finding import Also, Level
from putback.source.grammar import plural
from putback.source.late import Late
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.PROOF

FAILS = """
# equipment.yaml
tank: {name: test tank, tags: [wet]}
# jobs/example.yaml
steps:
  - place: tank
    at: around the pump
  - caution: running-engine
  - run: pump
    for: 5 min
  - take-away: tank
  - check: pump-cover
           ^^^^^^^^^^ it must be dry, but nobody wiped it after the test tank wetted it
    limit: dry after 10 min
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# equipment.yaml
tank: {name: test tank, tags: [wet]}
# jobs/example.yaml
steps:
  - place: tank
    at: around the pump
  - caution: running-engine
  - run: pump
    for: 5 min
  - take-away: tank
  - clean: the outside of the pump
  - check: pump-cover
    limit: dry after 10 min
    otherwise:
      - stop: Do the job again.
"""

_DRY = Late(r"\b(?:dry|no (?:film|trace|sheen))\b", re.IGNORECASE)
_WIPED = Late(r"\b(?:wip(?:e|es|ed|ing)|dried|dry (?:it|them|the|both|all|off)|blown? dry)\b", re.IGNORECASE)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield checks that something is dry which was wetted, and not wiped since."""
    things = opened.graph.machine.things if opened.graph else {}
    fluids = {key: thing for key, thing in things.items() if isinstance(thing, Fluid) and _through_its_drain(thing)}
    equipment = opened.guide.library.equipment
    wet = {key: each.name for key, each in equipment.items() if any(tag.name == "wet" for tag in each.tags)}
    for book in opened.in_place() if fluids or wet else ():
        for entry in book.of(Verify):
            limit = limit_of(entry.step.action, things)
            if entry.target and limit and _DRY.search(limit.text) and not _speaks_of_wiping(entry):
                yield from _wetted(book, entry, fluids, wet)


def _through_its_drain(fluid: Fluid) -> bool:
    return not {ref.name for ref in fluid.drains}.isdisjoint(ref.name for ref in fluid.fills)


def _speaks_of_wiping(entry: Entry) -> bool:
    words = (entry.target.name if entry.target else "", entry.step.text, entry.step.note)
    return any(each and _WIPED.search(each) for each in words)


def _wetted(book: Book, entry: Entry, fluids: dict[str, Fluid], wet: dict[str, str]) -> Iterator[Fault]:
    """Yield what wetted a thing last, where nobody wiped since."""
    space, left = book.graph.space, entry.variants
    for other in reversed(book.entries[: entry.index]):
        here = space.both(left, other.variants)
        if here == NONE:
            continue
        name = other.target.name if other.target else ""
        if isinstance(other.step.action, Clean) or _speaks_of_wiping(other):
            left = space.without(left, here)
        elif isinstance(other.step.action, TakeAway) and name in wet and _is_about(book, entry, _in_it(book, name)):
            yield _fault(book, entry, other, f"the {wet[name]} wetted it", here)
            return
        elif (
            isinstance(other.step.action, Fill)
            and name in fluids
            and _is_about(book, entry, goes_with(book.graph, name))
        ):
            yield _fault(book, entry, other, f"{named(fluids[name])} was filled in there", here)
            return


def _in_it(book: Book, equipment: str) -> set[str]:
    """Return what gets wet in a piece of equipment: what it is placed around, what is screwed into that, and on it."""
    things = book.graph.machine.things
    placed = [each.step.action for each in book.of(Place) if each.target and each.target.name == equipment]
    said = " ".join(action.at or "" for action in placed if isinstance(action, Place))
    found = {key for key, thing in things.items() if speaks_of(said, thing, things)}
    screws = [each for each in things.values() if isinstance(each, Fastener) and each.to and each.to.name in found]
    return found | {each.key for each in screws} | {ref.name for each in screws for ref in each.secures}


def _is_about(book: Book, entry: Entry, near: Set[str]) -> bool:
    """Tell whether a check is about some things: by name, by what it proves, or, naming none, as `both plugs`."""
    action, things = entry.step.action, book.graph.machine.things
    looked = " ".join(ref.name for ref in action.things)
    meant = {key for key, thing in things.items() if speaks_of(looked, thing, things)}
    meant |= {ref.name for ref in action.proves} if isinstance(action, Verify) else set()
    words = set(looked.lower().replace(",", " ").split())
    called = [things[key].name.lower().split()[-1] for key in near if key in things]
    return not meant.isdisjoint(near) or (not meant and any(word in words or plural(word) in words for word in called))


def _fault(book: Book, entry: Entry, other: Entry, how: str, variants: VariantSet) -> Fault:
    also = (Also(other.step.key, "here"), *entry.ways)
    message, hint = f"it must be dry, but nobody wiped it after {how}", "add a 'clean' before it, of what is checked"
    return Fault(met_at(entry, other), message, also, hint, variants, book.reached(entry))
