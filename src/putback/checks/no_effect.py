"""A step tightens what is tight, or loosens what is loose.

Mostly the step that it belongs to is missing or limited to another variant. A tight bolt that is taken to its torque
again tells nothing: it takes more to start it than to tighten it, so the wrench clicks before it moves.

Add the step before it: a bolt whose torque is checked is loosened a little first, one at a time. If it is right as it
stands, waive it and say why.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.ledger import Entry
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import Fastener
from putback.model.states import GroupState
from putback.model.terms import Ref
from putback.model.verbs.pieces import Loosen, Tighten
from putback.source.finding import Level
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.ORDER

FAILS = """
steps:
  - tighten: guard-bolts
             ^^^^^^^^^^^ guard bolts are tight already: nothing has loosened them before
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield `tighten` and `loosen` steps that change nothing on any way there."""
    for book in opened.in_place():
        space = book.graph.space
        idle: dict[tuple[Span, Ref], tuple[Entry, GroupState, VariantSet]] = {}
        useful: dict[tuple[Span, Ref], VariantSet] = {}
        for entry in book.of(Tighten, Loosen):
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            action = entry.step.action
            if entry.target is None or not isinstance(thing, Fastener) or not isinstance(action, Loosen | Tighten):
                continue
            step = (entry.step.key, entry.target)
            loosens = isinstance(action, Loosen)
            for variants, state in book.before(thing.key, entry):
                if not isinstance(state, GroupState):
                    continue
                inside, moved = state.tight + state.loose, state.tight if loosens else state.loose
                again = not loosens and state.on_by >= 0 and action.count is None and not action.at
                if moved or not inside or again or (action.count or 0) > inside:
                    # Pieces that are out are told by `not-there`; going over tightened ones again is good practice.
                    useful[step] = space.either(useful.get(step, NONE), variants)
                else:
                    before = idle[step][2] if step in idle else NONE
                    idle[step] = (entry, state, space.either(before, variants))
        for (span, ref), (entry, state, variants) in idle.items():
            variants = space.without(variants, space.variants_of(useful.get((span, ref), NONE)))
            thing = book.graph.machine.things[ref.name]
            if variants != NONE:
                be, them = verb_s(thing, "is", "are"), verb_s(thing, "it", "them")
                message = f"{named(thing)} {be} tight already: nothing has loosened {them} before"
                if isinstance(entry.step.action, Loosen):
                    message = f"{named(thing)} {be} loose already"
                also = (*cause(book, state.on_by, "put in or loosened here"), *entry.ways)
                wanted = "on" if isinstance(entry.step.action, Loosen) else "off"
                root = Root(book.sequence.path, ref.name, wanted, state.on_by, entry.index, misfit=bool(entry.via))
                yield Fault(ref.span, message, also, None, variants, book.reached(entry), root)
