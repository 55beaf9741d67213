"""The machine file does not say what a part is attached to.

It is in no stack, no fastener secures it, no line joins it, and nothing covers it. So it could come off and go on at
any moment, and the order of the work cannot be proved. If the file gives no order for any part yet, this is not
reported.

Add it to a stack, or to what `secures`, `joins` or covers it.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.machine import AnyThing, Fastener, Fluid, Line, Machine, Part
from putback.model.screwed import ScrewedPart
from putback.model.setting import Setting
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.source.finding import Level

LEVEL = Level.ADVICE
GROUP = Group.ORDER

FAILS = """
# machine.yaml
machine: Trial
parts:
  lid: {}
  float: {}
  ^^^^^ nothing in the machine file holds, joins or covers the float, so its place in the order is not checked
fasteners:
  lid-screws: {kind: screw, torque: 2 N·m, secures: lid}
# jobs/example.yaml
steps:
  - remove: float
  - install: float
  - check: float
    limit: rises within 10 s
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# machine.yaml
machine: Trial
parts:
  lid: {}
  float: {}
fasteners:
  lid-screws: {kind: screw, torque: 2 N·m, secures: lid}
stacks:
  - [lid, float]
# jobs/example.yaml
steps:
  - remove: lid-screws
  - remove: lid
  - remove: float
  - install: float
  - install: lid
  - install: lid-screws
  - tighten: lid-screws
  - check: the bowl
    limit: full within 10 s
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield parts that steps take off or put on, and that the machine file puts into no order."""
    machine = opened.guide.machine
    if machine is None:
        return
    named_by = _related(machine)
    parts = [part for part in machine.things.values() if _by_itself(part)]
    loose = [part for part in parts if part.key not in named_by]
    if len(loose) == len(parts):
        return
    handled = _handled(opened) if loose else set()
    for part in loose:
        if part.key in handled:
            its = verb_s(part, "its", "their")
            message = (
                f"nothing in the machine file holds, joins or covers the {named(part)}, so {its} place in the order"
            )
            yield Fault(part.span, f"{message} is not checked")


def _by_itself(thing: AnyThing) -> bool:
    """Tell whether it is a part that no thread of its own holds."""
    return isinstance(thing, Part) and not isinstance(thing, ScrewedPart)


def _related(machine: Machine) -> set[str]:
    """Return what the machine file names in some relation."""
    found = {ref.name for stack in machine.stacks for ref in stack.order if len(stack.order) > 1}
    found |= {ref.name for inner, outers in machine.access_after for ref in (inner, *outers)}
    for thing in machine.things.values():
        match thing:
            case Fastener(secures=secures, locks=locks, to=to, at=at):
                refs = (*secures, *locks, *([to] if to else []), *([at] if at else []))
            case Line(joins=joins):
                refs = joins
            case Fluid(drains=drains, fills=fills, vents=vents):
                refs = (*drains, *fills, *vents)
            case Setting(disturbed_by=disturbed_by, adjusted_by=adjusted_by):
                refs = tuple(ref for ref, _ in (*disturbed_by, *adjusted_by))
            case _:
                refs = ()
        if isinstance(thing, Part) and thing.assembly:
            found |= {thing.key, *(ref.name for ref in thing.assembly)}
        found |= {ref.name for ref in (*refs, *thing.instead_of, *(need.control for need in thing.needs))}
    return found


def _handled(opened: Opened) -> set[str]:
    return {
        ref.name
        for sequence in opened.nesting.sequences()
        for step in sequence.steps()
        if isinstance(step.action, Remove | Install | Replace)
        for ref in step.things
    }
