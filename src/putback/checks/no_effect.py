"""A step tightens what is tight, or loosens what is loose.

Usually the step that it belongs to is missing, or is limited to another variant. Taking a tight bolt to its torque
again tells you nothing: it takes more to start it than to tighten it, so the wrench clicks before it moves.

Add the step before it: to check the torque of a bolt, first loosen it a little, one bolt at a time. If it is right as
it is, waive it and say why.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, cause
from putback.guide.spread import base_of
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.model import posting
from putback.model.called import named, verb_s
from putback.model.groups import standing
from putback.model.job import Later, walk
from putback.model.machine import Fastener
from putback.model.states import NEVER, GroupState, chosen, of
from putback.model.terms import Ref
from putback.model.verbs.asking import Inspect, Verify
from putback.model.verbs.pieces import Loosen, Tighten
from putback.source.finding import Level
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.WARNING
GROUP = Group.ORDER

FAILS = """
steps:
  - tighten: guard-bolts
             ^^^^^^^^^^^ guard bolts are already tight: nothing has loosened them
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
        for entry, thing, action in _turned(book):
            # What does something at one place is done at all of them.
            step = (entry.step.key, Ref(base_of(thing.key), entry.span))
            for variants, state in book.before(thing.key, entry):
                if not isinstance(state, GroupState):
                    continue
                if _does_something(action, thing, state):
                    useful[step] = space.either(useful.get(step, NONE), variants)
                else:
                    before = idle[step][2] if step in idle else NONE
                    idle[step] = (entry, state, space.either(before, variants))
        for (span, ref), (entry, state, variants) in idle.items():
            variants = space.without(variants, space.variants_of(useful.get((span, ref), NONE)))
            if variants != NONE:
                message, hint = _words(book, entry, state)
                also = (*cause(book, state.on_by, "put in or loosened here"), *entry.ways)
                wanted = "on" if isinstance(entry.step.action, Loosen) else "off"
                name = entry.target.name if entry.target else ref.name
                misfit = bool(entry.via)
                root = Root(book.sequence.path, name, wanted, state.on_by, entry.index, misfit=misfit)
                yield Fault(ref.span, message, also, hint, variants, book.reached(entry), root)


def _turned(book: Book) -> Iterator[tuple[Entry, Fastener, Tighten | Loosen]]:
    """Yield what is loosened and tightened; not what has settled, and not what was looked at and found loose."""
    looks = ((entry.target.name, entry.step.inner) for entry in book.of(Verify, Inspect) if entry.target)
    found = {(name, step.key) for name, inner in looks for step in walk(inner)}
    for entry in book.of(Tighten, Loosen):
        thing, action = book.graph.machine.things.get(entry.target.name if entry.target else ""), entry.step.action
        if isinstance(thing, Fastener) and isinstance(action, Loosen | Tighten):
            again = (thing.key, entry.step.key) in found or (isinstance(book.sequence, Later) and not thing.slacken)
            if not (isinstance(action, Tighten) and (again or action.once_more)):
                yield entry, thing, action


def _does_something(action: Tighten | Loosen, thing: Fastener, state: GroupState) -> bool:
    """Tell whether a step turns a piece, goes over tightened ones again, or means pieces that are out."""
    if thing.held_for is not None:
        return False
    change = (
        posting.tightened(action, thing, NEVER)
        if isinstance(action, Tighten)
        else posting.slackened(action, thing, NEVER)
    )
    if change is not None and standing(of(GroupState, change(state))) != standing(state):
        return True
    inside, named_ones = state.tight + state.loose, chosen(thing, action.at) if state.places else ()
    if not inside or (action.count or 0) > inside or any(state.places[number] == "out" for number in named_ones):
        return True  # told by `not-there`
    whole = action.count is None and not action.at
    return whole and state.on_by != NEVER and isinstance(action, Tighten) and _as_tight(action, thing, state)


def _words(book: Book, entry: Entry, state: GroupState) -> tuple[str, str | None]:
    """Return what is wrong, and a hint when there is one."""
    things = book.graph.machine.things
    action, thing = entry.step.action, things[entry.target.name if entry.target else ""]
    be, have, them = verb_s(thing, "is", "are"), verb_s(thing, "has", "have"), verb_s(thing, "it", "them")
    if isinstance(thing, Fastener) and thing.held_for:
        turned = things[thing.held_for.name]
        message = f"{named(thing)} {be} only held: turn {named(turned)} instead"
        done = any(other.target and other.target.name == turned.key for other in book.of(type(action)))
        return message, "delete it" if done else f"write '{entry.step.verb.name}: {turned.key}'"
    if isinstance(action, Loosen):
        return f"{named(thing)} {be} already loose", None
    torque = _stated(action)
    if torque and state.tight:
        return f"{named(thing)} {be} already tight: {torque} changes nothing", None
    if torque:
        return f"{named(thing)} already {have} {torque}", None
    again = isinstance(book.sequence, Later) and isinstance(thing, Fastener) and thing.slacken is not None
    return (
        f"{named(thing)} {be} already tight: nothing has loosened {them}",
        "add 'once-more: true'" if again else None,
    )


def _as_tight(action: Tighten, thing: Fastener, state: GroupState) -> bool:
    """Tell whether no piece is tighter than a step makes it: a wrench that clicks says that all are so."""
    aim = action.aim(thing)
    return all(some.level <= aim.level for some in standing(state))


def _stated(action: object) -> str | None:
    """Return the torque or stage that a step gives, in its words."""
    if not isinstance(action, Tighten):
        return None
    if action.torque is not None:
        return action.torque.text
    return action.stage.quantity.text if action.stage and action.stage.quantity else None
