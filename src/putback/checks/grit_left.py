"""Something rubbed with emery or lapping paste is assembled without being washed.

The grit goes on cutting: it runs with the oil into bearings and between piston and cylinder, and wears them out in
hours.

After it, add a `clean` step that washes the grit off with something that is not abrasive itself: washing-up liquid and
water, paraffin, clean oil. The library tags what leaves grit as `abrasive`.
"""

import re
from collections.abc import Iterator

from putback.checks import Fault, Group, met_at
from putback.ledger import Book, Entry
from putback.ledger.newness import condemned
from putback.ledger.opened import Opened
from putback.model.called import named, speaks_of, verb_s
from putback.model.machine import AnyThing, Line
from putback.model.verbs.acting import Act
from putback.model.verbs.cleaning import Apply, Clean
from putback.source.finding import Also, Level
from putback.source.late import Late
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLEANING
NEEDS = frozenset({"consumable"})

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
stacks: [[lid, pump]]
# consumables.yaml
emery: {name: emery cloth, tags: [abrasive]}
# jobs/example.yaml
steps:
  - remove: lid
  - clean: lid
    with: emery
  - install: lid
             ^^^ lid goes on with grit from emery cloth still on lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  pump: {}
  lid: {}
stacks: [[lid, pump]]
# consumables.yaml
emery: {name: emery cloth, tags: [abrasive]}
# jobs/example.yaml
steps:
  - remove: lid
  - clean: lid
    with: emery
  - clean: lid
  - install: lid
  - check: lid
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

_WASHED = Late(r"\b(?:grit|paste|dust|emery|abrasive|wash\w*|rinse\w*|flush\w*)\b", re.IGNORECASE)
"""Words of a step that takes grit away, whatever it is called by."""
_LIVE = frozenset({"battery", "live", "terminal", "ignition", "mains"})
"""Tags of contacts, which are rubbed bright and wiped."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first step that puts something together on what grit is still on."""
    library = opened.guide.library.consumables
    grit = {key for key, each in library.items() if any(tag.name == "abrasive" for tag in each.tags)}
    for book in opened.in_place() if grit else ():
        for entry in book.of(Clean, Apply):
            what = _abrasive(entry, grit)
            if what is not None and (fault := _unwashed(book, entry, what, grit)):
                yield fault


def _abrasive(entry: Entry, grit: set[str]) -> str | None:
    """Return what leaves grit where an entry uses it."""
    action = entry.step.action
    if isinstance(action, Clean):
        return action.with_.name if action.with_ and action.with_.name in grit else None
    return next((ref.name for ref in action.things if ref.name in grit), None)


def _unwashed(book: Book, entry: Entry, what: str, grit: set[str]) -> Fault | None:
    space, rubbed = book.graph.space, _rubbed(book, entry)
    near, left = {key for thing in rubbed for key in _touching(book, thing)}, entry.variants
    for other in book.entries[entry.index + 1 :]:
        if isinstance(other.step.action, Clean | Act):
            if _abrasive(other, grit) is None and _is_washed(book, other, rubbed):
                left = space.without(left, other.variants)
        elif other.step.verb.assembles and other.target and other.target.name in near:
            # What is condemned while it is off goes on by another step.
            here = space.without(space.both(left, other.variants), condemned(book, other))
            if here != NONE:
                thing, paste = book.graph.machine.things[other.target.name], book.library.consumables[what].name
                on = " and ".join(named(each) for each in rubbed)
                message = f"{named(thing)} {verb_s(thing, 'goes', 'go')} on with grit from {paste} still on {on}"
                also = (Also(entry.step.key, "used here"), *other.ways)
                hint = f"add 'clean: {rubbed[0].key}' after the step that used it"
                return Fault(met_at(other, entry), message, also, hint, here, book.reached(other))
        if left == NONE:
            break
    return None


def _rubbed(book: Book, entry: Entry) -> list[AnyThing]:
    """Return the things that an entry leaves grit on; lines and contacts are wiped, and carry none into bearings."""
    things = book.graph.machine.things
    meant = (thing for ref in entry.touched for thing in things.values() if speaks_of(ref.name, thing, things))
    return [each for each in meant if not isinstance(each, Line) and _LIVE.isdisjoint(tag.name for tag in each.tags)]


def _touching(book: Book, thing: AnyThing) -> Iterator[str]:
    """Yield a thing, what lies on it and what it lies on."""
    yield thing.key
    yield from (edge.outer for edge in book.graph.outside(thing.key))
    yield from (edge.inner for edge in book.graph.inside(thing.key))


def _is_washed(book: Book, entry: Entry, rubbed: list[AnyThing]) -> bool:
    """Tell whether a step takes the grit off: it cleans what was rubbed, or its words speak of that."""
    action = entry.step.action
    said = f"{entry.target.name if entry.target else ''} {entry.step.text or ''}"
    said += f" {action.words}" if isinstance(action, Act) else ""
    if isinstance(action, Act) or _WASHED.search(said):
        return bool(_WASHED.search(said))
    things = book.graph.machine.things
    return any(entry.target and speaks_of(entry.target.name, thing, things) for thing in rubbed)
