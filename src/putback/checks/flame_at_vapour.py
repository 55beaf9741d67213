"""There is a flame or sparks where solvent was just used, or where fuel is open.

The vapour stays on the floor and in the rags long after you can no longer smell it.

Do the work with the flame first, or put away what burns and wait: put a `wait` step, or a `check` that nothing is still
wet, in between. A tool, consumable or piece of equipment tagged `flame` makes one, and so does a lighter or a blowlamp
by its name; `solvent` and `fuel` are the tags for what burns.
"""

import re
from collections.abc import Iterable, Iterator

from putback.checks import Fault, Group, met_at
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.model.good import limit_of
from putback.model.machine import Line
from putback.model.states import FluidState, LineState, State
from putback.model.terms import Ref
from putback.model.verbs.acting import Act
from putback.model.verbs.asking import Inspect, Verify
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.telling import Wait
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.DANGERS
INJURES = True
NEEDS = frozenset({"consumable", "tool"})

FAILS = """
# tools.yaml
lighter: {name: lighter}
# consumables.yaml
degreaser: {name: degreaser, tags: [solvent]}
# jobs/example.yaml
steps:
  - clean: pump
    with: degreaser
  - act: Melt the ends of the cord with the lighter.
    ^^^ a flame or sparks here, while there is still vapour from degreaser
    tool: lighter
"""

PASSES = """
# tools.yaml
lighter: {name: lighter}
# consumables.yaml
degreaser: {name: degreaser, tags: [solvent]}
# jobs/example.yaml
steps:
  - act: Melt the ends of the cord with the lighter.
    tool: lighter
  - clean: pump
    with: degreaser
"""

_FLAMES = Late(
    r"\b(?:lighter|matches|blow ?lamp|blow ?torch|(?:naked|open|gas) flame|candle|burner"
    r"|heat gun|hot[- ]air gun|soldering iron|welder|angle grinder)\b",
    re.IGNORECASE,
)
"""What burns, glows or throws sparks, by its name."""
_WITH_ONE = Late(
    r"^(?!.*\b(?:never|not|no|without|instead)\b).*\b(?:with|by|over|in) (?:an? |the )?(?:[\w-]+ )?"
    r"(?:flame|lighter|match|blow ?lamp|blow ?torch|candle|burner|heat gun|hot[- ]air gun"
    r"|soldering iron)(?=[.,;]|$| (?:until|till|for|and|to|so|from|on|at)\b)",
    re.IGNORECASE,
)
"""Words of an `act` that is done with one."""
_GONE = Late(r"\b(?:dry|dried|gone|evaporated|put away|carried away|no smell|closed can)\b", re.IGNORECASE)
"""Words of a check that nothing is wet any more."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield steps with a flame after work with what burns."""
    library = opened.guide.library
    flames = {
        each.key
        for entries in (library.tools, library.consumables, library.equipment)
        for each in entries.values()
        if _tagged(each.tags, "flame") or _FLAMES.search(each.name)
    }
    for book in opened.in_place():
        lit: dict[int, bool] = {}  # a step of many things is looked at once
        for entry in book.entries:
            if (step := id(entry.step)) not in lit:
                words = entry.step.action.words if isinstance(entry.step.action, Act) else ""
                lit[step] = not flames.isdisjoint(_used(entry)) or bool(words and _WITH_ONE.search(words))
            if lit[step]:
                yield from _vapour(book, entry)


def _tagged(tags: Iterable[Ref], *wanted: str) -> bool:
    return any(tag.name in wanted for tag in tags)


def _used(entry: Entry) -> set[str]:
    """Return the tools, consumables and equipment of a step."""
    action = entry.step.action
    found = {ref.name for ref in (*entry.step.tools, *entry.step.things)}
    return found | ({action.with_.name} if isinstance(action, Clean) and action.with_ else set())


def _vapour(book: Book, entry: Entry) -> Iterator[Fault]:
    """Yield what burns and was used before an entry, the last first, or stands open there."""
    space, consumables = book.graph.space, book.library.consumables
    left = entry.variants
    for name, thing in book.graph.machine.things.items():
        if _tagged(thing.tags, "fuel"):
            here = book.where(name, entry, _is_open)
            if here != NONE:
                what = f"the {thing.name} is {'apart' if isinstance(thing, Line) else 'out'}"
                yield _told(book, entry, f"a flame or sparks here, while {what}", None, here)
                left = space.without(left, here)
    for other in reversed(book.entries[: entry.index]):
        if left == NONE:
            return
        if _clears(book, other):
            left = space.without(left, other.variants)
        elif isinstance(other.step.action, Clean | Apply):
            burns = [
                key for key in _used(other) & set(consumables) if _tagged(consumables[key].tags, "solvent", "fuel")
            ]
            here = space.both(left, other.variants)
            if burns and here != NONE:
                what = f"there is still vapour from {consumables[min(burns)].name}"
                yield _told(book, entry, f"a flame or sparks here, while {what}", other, here)
                left = space.without(left, here)


def _is_open(state: State) -> bool:
    return not state.full if isinstance(state, FluidState) else isinstance(state, LineState) and bool(state.open)


def _clears(book: Book, entry: Entry) -> bool:
    """Tell whether the vapour is gone after a step."""
    action = entry.step.action
    limit = limit_of(action, book.graph.machine.things) if isinstance(action, Verify) else None
    said = " ".join(action.for_) if isinstance(action, Inspect) else limit.text if limit else ""
    return isinstance(action, Wait) or bool(_GONE.search(said))


def _told(book: Book, entry: Entry, message: str, earlier: Entry | None, variants: VariantSet) -> Fault:
    also = (*((Also(earlier.step.key, "used here"),) if earlier else ()), *entry.ways)
    span = met_at(entry, earlier) if entry.via else entry.step.key
    return Fault(span, message, also, "work with the flame first, or away from it", variants, book.reached(entry))
