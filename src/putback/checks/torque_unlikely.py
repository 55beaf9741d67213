"""A torque does not fit its thread.

A unit mistaken, a decimal point moved, a line of the table slipped: the bolt breaks, tears its thread out of the
aluminium, or comes loose. The preload that the torque gives is compared with what the bolt and its threads bear.

Look the number up again, with its unit. If it is right, say at the fastener what confirms it,
`torque-confirmed: by what`: a soft gasket, a bolt that is stretched on purpose.
"""

from collections.abc import Iterator
from decimal import Decimal

from putback.checks import Fault, Group
from putback.joints.friction import NOT_STATED
from putback.joints.preload import Joint, Judgement, Wrong, judge
from putback.joints.stages import StageKind
from putback.ledger.opened import Opened
from putback.model.fastened import joint_of
from putback.model.library import Library
from putback.model.machine import Fastener, Machine
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.units import Kind, Quantity, digits, parse, si

LEVEL = Level.ERROR
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M6 x 1.0
    class: "8.8"
    condition: greased
    torque: 45 N·m
            ^^^^^^ 45 N·m on M6 x 1.0 8.8 greased is 3.4 to 5.8 times its proof load (nut factor 0.11 to 0.19)
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M6 x 1.0
    class: "8.8"
    condition: greased
    torque: 7.5 N·m
"""

_SLIPS = ("N·m", "lbf·in", "lbf·ft", "kgf·m", "kgf·cm", "N·cm", "ozf·in")
"""Units that are mistaken for each other."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of the machine file and of steps that no nut factor of the thread's condition explains."""
    machine = opened.guide.machine
    if machine is None:
        return
    for thing in machine.things.values():
        if isinstance(thing, Fastener) and thing.last_torque and thing.torque_span:
            yield from _judged(thing, thing.last_torque, thing.torque_span, machine, opened.guide.library)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Tighten) and step.action.torque and step.action.torque_span:
                span, torque = step.action.torque_span, step.action.torque
                for ref in step.things:
                    group = machine.things.get(ref.name)
                    # What is less than due is a stage, and the ledger looks for the rest.
                    if isinstance(group, Fastener) and not step.action.is_stage(group):
                        yield from _judged(group, torque, span, machine, opened.guide.library)


def _judged(thing: Fastener, torque: Quantity, span: Span, machine: Machine, library: Library) -> Iterator[Fault]:
    joint = joint_of(thing, machine, library)
    low, high = si(torque)
    if joint is None or low is None or high is None or thing.torque_confirmed:
        return
    judgement = judge((low, high), joint)
    if judgement is None or judgement.wrong is None:
        return
    if judgement.wrong is Wrong.LOW and any(stage.kind is StageKind.ANGLE for stage in thing.stages):
        return  # the angle does the rest
    also = (Also(thing.span, "the fastener"),) if thing.torque_span != span else ()
    yield Fault(span, _message(thing, torque, joint, judgement), also, _hint(torque, joint, judgement))


def _message(thing: Fastener, torque: Quantity, joint: Joint, judgement: Judgement) -> str:
    film = "" if joint.condition == NOT_STATED else f" {joint.condition}"
    what = " ".join(filter(None, [thing.thread, thing.grade])) + film
    low, high = judgement.share
    factor = f"(nut factor {judgement.factors.low:.2f} to {judgement.factors.high:.2f})"
    strong = "its proof load" if joint.strength else "the proof load of the strongest class"
    match judgement.wrong:
        case Wrong.HIGH:
            return f"{torque.text} on {what} is {_times(low)} to {_times(high)} times {strong} {factor}"
        case Wrong.STRIPS:
            member = joint.material.name if joint.material else "its threads"
            return (
                f"{torque.text} on {what}, {digits(joint.engagement or 0)} mm deep in {member}, is "
                f"{_times(low)} to {_times(high)} times what the threads bear {factor}"
            )
        case _:
            weak = "its proof load" if joint.strength else "the proof load of the weakest class"
            return f"{torque.text} on {what} is only {_percent(low)} to {_percent(high)} % of {weak} {factor}"


def _times(share: float) -> str:
    return f"{share:.1f}" if share < 20 else digits(round(share), 4)


def _percent(share: float) -> str:
    return digits(share * 100, 1) if share < 0.1 else f"{share * 100:.0f}"


def _hint(torque: Quantity, joint: Joint, judgement: Judgement) -> str:
    least, most = (Decimal(repr(value)) for value in judgement.likely)
    scale = parse(f"1 {torque.unit}", Kind.TORQUE)
    unit = Decimal(repr(si(scale)[0]))
    likely = f"likely is {_digits(least / unit)} to {_digits(most / unit)} {torque.unit}"
    value = torque.nominal or torque.high
    middle = (judgement.likely[0] * judgement.likely[1]) ** 0.5
    fits = []
    for other in _SLIPS:
        meant = si(parse(f"{value:f} {other}", Kind.TORQUE))[0] if value and other != torque.unit else None
        again = judge((meant, meant), joint) if meant else None
        if meant and again is not None and again.wrong is None:
            fits.append((max(meant / middle, middle / meant), other))
    if fits:
        return f"{likely}; was {value:f} {min(fits)[1]} meant?"
    return f"{likely}; if it is right, add 'torque-confirmed: why'"


def _digits(value: Decimal) -> str:
    """Two digits: 4.1, 12, 130."""
    return digits(float(value), 2)
