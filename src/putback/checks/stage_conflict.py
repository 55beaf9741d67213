"""A step turns a fastener on by another angle than the machine file gives.

An angle stretches the bolt: too far, and it has no strength left; too little, and it holds nothing.

Write the angle of the machine file's `stages`, one a step. When a step needs another one, say `because: why` at the step.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints.stages import StageKind
from putback.ledger.opened import Opened
from putback.model.called import named
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.source.grammar import listed
from putback.units import Quantity

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts:
  head: {}
fasteners:
  head-bolts: {name: head bolt, count: 2, class: "10.9", thread: M10 x 1.5, stages: [40 N·m, 90°], reuse: they are long, secures: head}
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
  head-bolts: {name: head bolt, count: 2, class: "10.9", thread: M10 x 1.5, stages: [40 N·m, 90°], reuse: they are long, secures: head}
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
    """Yield angles of steps that are none of their fastener's."""
    machine = opened.guide.machine
    for sequence in opened.nesting.sequences() if machine else ():
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Tighten) and not step.because else ():
                thing = machine.things.get(ref.name) if machine else None
                if isinstance(thing, Fastener):
                    yield from _of_step(step, thing)


def _of_step(step: Step, thing: Fastener) -> Iterator[Fault]:
    stage = step.action.stage if isinstance(step.action, Tighten) else None
    if stage is None or stage.kind is not StageKind.ANGLE or stage.quantity is None:
        return
    span = step.action.torque_span if isinstance(step.action, Tighten) else None
    known = [each.quantity for each in thing.stages if each.kind is StageKind.ANGLE and each.quantity]
    if span is None or any(_degrees(each) == _degrees(stage.quantity) for each in known):
        return
    texts = dict.fromkeys(each.text for each in known)
    said = f"the machine file says {listed([*texts])} for {named(thing)}"
    if not known:
        said = f"the machine file gives {named(thing)} no angle"
    also = (Also(thing.torque_span or thing.span, f"the torque of {named(thing)}"),)
    hint = f"write '{known[0].text}'" if len(texts) == 1 else None
    yield Fault(span, f"{stage.quantity.text} further here, but {said}", also, hint)


def _degrees(angle: Quantity) -> object:
    turned = angle.to("°")
    return turned.low, turned.high
