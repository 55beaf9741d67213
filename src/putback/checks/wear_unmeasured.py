"""A part with a wear limit comes off and goes back, and nobody measures it.

The machine file says what is measured on it and how far it may be worn. Now it is in your hand; if it goes back worn
out, you find out when it fails.

Add a `measure` step for it, with an `otherwise`; or fit a new one.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.guide.spread import base_of
from putback.ledger import Book, Entry
from putback.ledger.newness import comes_new
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Part
from putback.model.states import GroupState, PartState
from putback.model.verb import Action
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.pieces import Install, Remove
from putback.source.finding import Level
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.LIMITS

FAILS = """
steps:
  - remove: belt
  - install: belt
             ^^^^ the belt goes back unmeasured: width must be >= 9 mm
  - check: pump
    limit: gives water within 20 s
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - remove: belt
  - measure: belt
    otherwise:
      - replace: belt
  - install: belt
  - check: pump
    limit: gives water within 20 s
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield where worn parts may go back: those that came off in the same job, and were not measured on that way."""
    things = opened.graph.machine.things if opened.graph else {}
    wearing = {key: thing for key, thing in things.items() if isinstance(thing, Part) and thing.wear}
    for book in opened.books if wearing else ():
        measured: dict[str, VariantSet] = {}
        for entry in book.of(Install):
            thing = wearing.get(entry.target.name) if entry.target else None
            if entry.target is None or thing is None or thing.single_use:
                continue
            if thing.key not in measured:
                measured[thing.key] = _measured(book, thing)
            space = book.graph.space
            for variants, state in book.before(thing.key, entry):
                off = not state.on if isinstance(state, PartState) else isinstance(state, GroupState) and state.out
                bare = space.without(variants, space.either(measured[thing.key], comes_new(book, entry)))
                here = book.by(state.off_by) is not None
                if off and bare != NONE and (here or (not entry.via and _unmeasured_before(book, thing))):
                    also = (*cause(book, state.off_by, "it came off here"), *entry.ways)
                    yield Fault(entry.target.span, _words(thing), also, _hint(thing), bare, book.reached(entry))


def _unmeasured_before(book: Book, thing: Part) -> bool:
    """Tell whether a job before this one took a part off, and none of the chain measures it."""
    earlier, off = book.earlier, False
    while earlier is not None:
        if _measured(earlier, thing) != NONE:
            return False
        taken = (entry.target.name for entry in earlier.of(Remove) if entry.target)
        off = off or thing.key in taken
        earlier = earlier.earlier
    return off


def _words(thing: Part) -> str:
    said = f"the {named(thing)} {verb_s(thing, 'goes', 'go')} back unmeasured"
    if thing.wear is None or thing.wear.limit is None:
        return said
    return f"{said}: {thing.wear.measure or 'wear'} must be {thing.wear.limit.text}"


def _hint(thing: Part) -> str | None:
    limited = thing.wear is not None and thing.wear.limit is not None
    return f"add 'measure: {thing.key}' with an 'otherwise' before it" if limited else None


def _measured(book: Book, thing: Part) -> VariantSet:
    """Return the variants in which a part is measured somewhere in the job; after a question, on that way."""
    space, found = book.graph.space, NONE
    for entry in book.of(Measure, Verify, Inspect):
        if not _against_a_limit(entry.step.action):
            continue
        if any(_is_of(ref.name, thing) for ref in entry.step.things):
            here = entry.variants if _in_branch(book, entry) else space.variants_of(entry.variants)
            found = space.either(found, here)
    return found


def _against_a_limit(action: Action) -> bool:
    """Tell whether something is held against a number, and not only looked at."""
    match action:
        case Inspect(for_=seek):
            return any(map(str.isdigit, " ".join(seek)))
        case Verify(limit=limit):
            return limit is not None and any(map(str.isdigit, limit.text))
        case _:
            return True


def _is_of(name: str, thing: Part) -> bool:
    """Tell whether what is measured is a part, and not the same part at another place."""
    return name == thing.key if base_of(name) == base_of(thing.key) else _names(name, thing)


def _names(words: str, thing: Part) -> bool:
    """Tell whether words of an author are those of what is measured on a part, or have its name in them."""
    said = words.casefold()
    wear = thing.wear.measure if thing.wear else None
    return bool(wear and wear.casefold() in said) or named(thing).casefold() in said


def _in_branch(book: Book, entry: Entry) -> bool:
    """Tell whether a step stands after a question: then it measures on that way only."""
    return all(order.number != entry.order for order in book.program.orders)
