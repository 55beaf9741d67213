"""A joint is opened and closed again on the old gasket, which another job renews.

Taking off what sits on a gasket, washer or sealing ring breaks the joint, even if nobody touched the seal. It seals
once: the machine file says `replace: always`, and elsewhere in the guide a new one goes in.

Add a `replace` step for it while the joint is open.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book, Entry
from putback.ledger.newness import comes_new
from putback.ledger.obstacles import of_insides
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing, Part
from putback.model.screwed import ScrewedPart
from putback.model.states import NEVER, GroupState, PartState, State, is_whole
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import Reverse
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.variants import NONE
from putback.variants.graph import Edge, Why

LEVEL = Level.WARNING
GROUP = Group.CLOSING

FAILS = """
# jobs/example.yaml
steps:
  - remove: cover-screws
  - remove: pump-cover
  - install: pump-cover
             ^^^^^^^^^^ the pump cover goes back on the old cover gasket, which must be new every time
  - install: cover-screws
  - tighten: cover-screws
  - check: the joint
    limit: dry
    otherwise:
      - stop: Do the job again.
# jobs/gasket.yaml
job: Renew the gasket
steps:
  - remove: cover-screws
  - remove: pump-cover
  - replace: cover-gasket
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - check: the joint
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: cover-screws
  - remove: pump-cover
  - replace: cover-gasket
  - install: pump-cover
  - install: cover-screws
  - tighten: cover-screws
  - check: the joint
    limit: dry
    otherwise:
      - stop: Do the job again.
"""

_SEALS = frozenset({"gasket", "gaskets", "washer", "washers", "o-ring", "ring", "joint", "packing", "seal"})
_PRESSED_IN = frozenset(
    {"shaft", "oil", "lip", "crankshaft", "crank", "camshaft", "stem", "piston", "retaining", "snap"}
)
"""What stays where it sits when the part before it comes off."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what goes back on a seal that was there before it came off."""
    things = opened.graph.machine.things if opened.graph else {}
    seals = {key for key, thing in things.items() if _seals(thing)}
    renewed = dict(_renewed(opened, seals)) if seals else {}
    for book in opened.books if renewed else ():
        for entry in book.of(Install):
            for edge in _under(book, entry.target.name if entry.target else ""):
                if edge.inner in renewed:
                    yield from _closed_on(book, entry, edge, renewed[edge.inner])


def _under(book: Book, key: str) -> Iterator[Edge]:
    """Yield what a thing lies on; an assembly lies on what its insides do."""
    inner = [edge for name, edge in of_insides(book.graph, key, goes_on=True) if edge.outer == name]
    yield from (edge._replace(outer=key) for edge in (*book.graph.inside(key), *inner) if edge.why is Why.STACK)


def _seals(thing: AnyThing) -> bool:
    if not isinstance(thing, Part) or isinstance(thing, ScrewedPart) or not thing.single_use:
        return False
    *words, last = thing.name.casefold().split()
    return last in _SEALS and _PRESSED_IN.isdisjoint(words)


def _renewed(opened: Opened, seals: set[str]) -> Iterator[tuple[str, Span]]:
    """Yield the seals that some job or block renews, each with the place."""
    for book in opened.books:
        for entry in book.of(Install, Replace):
            if entry.target and entry.target.name in seals and comes_new(book, entry) != NONE:
                yield entry.target.name, entry.target.span


def _closed_on(book: Book, entry: Entry, edge: Edge, elsewhere: Span) -> Iterator[Fault]:
    """Yield that something goes back on a seal which has not moved since it came off."""
    space, outer, seal = book.graph.space, *(book.graph.machine.things[name] for name in (edge.outer, edge.inner))
    looked_at = NONE  # whoever looks at it knows that it stays
    for other in book.of(Inspect, Measure, Verify):
        if any(ref.name == seal.key for ref in other.step.things):
            looked_at = space.either(looked_at, space.variants_of(other.variants))
    for held, above in book.before(edge.outer, entry):
        off_by = _opened_by(above)
        for state, below in book.before(edge.inner, entry):
            variants = space.without(space.both(space.both(held, state), edge.variants), looked_at)
            if variants == NONE or off_by == NEVER or not is_whole(below) or _moved(below) > off_by:
                continue
            message = (
                f"the {named(outer)} {verb_s(outer, 'goes', 'go')} back on the old {named(seal)}, which must be new "
            )
            also = (*cause(book, off_by, "it came off here"), Also(elsewhere, "renewed here"), *entry.ways)
            hint = f"add 'replace: {seal.key}' before it"
            yield Fault(_place(book, entry, off_by), f"{message}every time", also, hint, variants, book.reached(entry))


def _opened_by(state: State) -> int:
    if isinstance(state, PartState):
        return NEVER if state.on else state.off_by
    return state.off_by if isinstance(state, GroupState) and state.out == state.all else NEVER


def _moved(state: State) -> int:
    return max(state.off_by, state.on_by) if isinstance(state, PartState | GroupState) else NEVER


def _place(book: Book, entry: Entry, off_by: int) -> Span:
    """Return where it goes back: of what a block took off in this job, where the job reverses that block."""
    opened = book.by(off_by)
    if not entry.via or (opened and opened.via and opened.via[0].key == entry.via[0].key):
        return entry.span
    step = entry.via[0]
    return step.things[0].span if isinstance(step.action, Reverse) and step.things else step.key
