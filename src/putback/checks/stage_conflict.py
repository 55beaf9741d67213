"""A step tightens by another angle or share than the machine file gives, or by the same angle twice.

An angle stretches the bolt: too far, and it has no strength left; too little, and it holds nothing. The click of a
wrench does not show that it has already been turned. A share of a torque that is not given means nothing.

Write the angle of the machine file's `stages`, one for each step; loosen what has already been turned. If a step needs
another angle, say `because: why` at the step.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.joints.stages import StageKind
from putback.ledger import Book, Entry
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.groups import standing
from putback.model.machine import Fastener
from putback.model.reach import OUT, degrees, is_below
from putback.model.states import NEVER, GroupState, chosen
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.source.grammar import listed

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  head: {}
fasteners:
  head-bolts:
    name: head bolt
    count: 2
    thread: M10 x 1.5
    class: "10.9"
    stages: [40 N·m, 90°]
    reuse: they are long
    secures: head
# jobs/example.yaml
steps:
  - remove: head-bolts
  - install: head-bolts
  - tighten: head-bolts
    torque: 40 N·m
  - tighten: head-bolts
    torque: 120°
            ^^^^ 120° further here, but the machine file says 90° for head bolts
  - check: the joint
    limit: dry
    otherwise: [{stop: Do the job again.}]
"""

PASSES = """
# machine.yaml
machine: Bench pump
parts:
  head: {}
fasteners:
  head-bolts:
    name: head bolt
    count: 2
    thread: M10 x 1.5
    class: "10.9"
    stages: [40 N·m, 90°]
    reuse: they are long
    secures: head
# jobs/example.yaml
steps:
  - remove: head-bolts
  - install: head-bolts
  - tighten: head-bolts
    torque: 40 N·m
  - tighten: head-bolts
    torque: 90°
  - check: the joint
    limit: dry
    otherwise: [{stop: Do the job again.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield angles and shares of steps that are none of their fastener's."""
    machine = opened.guide.machine
    for sequence in opened.nesting.sequences() if machine else ():
        for step in sequence.steps():
            if isinstance(step.action, Tighten) and step.action.stage and not step.because:
                for ref in step.things:
                    thing = machine.things.get(ref.name) if machine else None
                    if isinstance(thing, Fastener):
                        yield from _of_step(step.action, thing)
    for book in opened.in_place():
        for entry in book.of(Tighten):
            thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
            if isinstance(thing, Fastener) and thing.by_angle:
                yield from _once_more(book, entry, thing)


def _of_step(action: Tighten, thing: Fastener) -> Iterator[Fault]:
    stage, span = action.stage, action.torque_span
    quantity = stage.quantity if stage else None
    if stage is None or span is None or quantity is None:
        return
    also = (Also(thing.torque_span or thing.span, f"the torque of {named(thing)}"),)
    if stage.kind is StageKind.SHARE:
        shown, due = action.shown(thing), thing.due_torque
        if due is None:
            yield Fault(span, f"{quantity.text} here, but the machine file gives no torque for {named(thing)}", also)
        elif shown is not None and is_below(due, shown):
            yield Fault(span, f"{quantity.text} of {due.text} is more than {named(thing)} may have", also)
        return
    known = [each.quantity for each in thing.stages if each.kind is StageKind.ANGLE and each.quantity]
    if any(abs(degrees(each) - degrees(quantity)) < 1 for each in known):
        return
    texts = dict.fromkeys(each.text for each in known)
    said = f"the machine file says {listed([*texts])} for {named(thing)}"
    if not known:
        said = f"the machine file gives no angle for {named(thing)}"
    hint = f"write '{known[0].text}'" if len(texts) == 1 else None
    yield Fault(span, f"{quantity.text} further here, but {said}", also, hint)


def _once_more(book: Book, entry: Entry, thing: Fastener) -> Iterator[Fault]:
    """Yield a step that turns pieces on by an angle that they were turned on by before."""
    action = entry.step.action
    if not isinstance(action, Tighten) or entry.target is None or action.torque is not None:
        return
    again = action.stage is not None and action.stage.kind is StageKind.ANGLE
    if action.stage is not None and not again:
        return
    for variants, state in book.before(thing.key, entry):
        if not isinstance(state, GroupState) or (state.on_by == NEVER and not state.staged):
            continue  # what nothing has loosened is told by `no-effect`
        pieces = [some for some in standing(state) if some.level > OUT]
        named_ones = chosen(thing, action.at) if state.places else ()
        pieces = [some for some in pieces if not named_ones or some.piece in named_ones]
        turned = sum(some.count for some in pieces if some.level.done or (some.level.angle and not again))
        ready = sum(some.count for some in pieces) - turned
        if turned and (action.count is None or named_ones or action.count > ready):
            have, them = verb_s(thing, "has", "have"), verb_s(thing, "it", "them")
            message = f"{named(thing)} {have} already been turned through the angle: this stretches {them} again"
            also = (*cause(book, state.on_by, "put in or loosened here"), *entry.ways)
            hint = f"add 'loosen: {thing.key}' before it"
            yield Fault(entry.target.span, message, also, hint, variants, book.reached(entry))
