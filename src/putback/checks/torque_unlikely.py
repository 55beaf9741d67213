"""A torque does not fit its thread.

The wrong unit, a decimal point moved, the wrong line of the table: the bolt breaks, tears its thread out of the
aluminium, or comes loose. The preload that the torque gives is compared with what the bolt and its threads can bear.

Look the number up again, with its unit. If it is right, say at the fastener what confirms it,
`torque-confirmed: by what`: a soft gasket, a bolt that is stretched on purpose.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints import sized
from putback.joints.friction import NOT_STATED
from putback.joints.joint import Joint
from putback.joints.preload import Judgement, Wrong, is_loose_on_purpose, judge
from putback.joints.readings import CONFIRM, advised, described, meant_within, on
from putback.joints.stages import StageKind, backs_off, by_angle, disagree
from putback.joints.turning import stretch
from putback.ledger.opened import Opened
from putback.model.fastened import band_of, joint_of, kind_of, other_thread
from putback.model.library import Library
from putback.model.machine import Fastener, Machine
from putback.model.said import place_of
from putback.model.verbs.pieces import Tighten
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.units import Quantity, digits, disagreement, si

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
            ^^^^^^ 45 N·m on M6 x 1.0, class 8.8, greased, is 3.4 to 5.8 times its proof load (nut factor 0.11 to 0.19)
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


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of the machine file and of steps that no nut factor of the thread's condition explains."""
    machine = opened.guide.machine
    if machine is None:
        return
    for thing in machine.things.values():
        if not isinstance(thing, Fastener) or disagree(thing.stages, thing.torque):
            continue  # which of the two is wrong, nobody knows
        if thing.last_torque and thing.torque_span:
            told = list(_judged(thing, thing.last_torque, thing.torque_span, machine, opened.guide.library))
            yield from told
            if told or any(disagreement(stage.quantity) for stage in thing.stages if stage.quantity):
                continue  # the angle adds nothing to what is wrong already
        yield from _stretched(thing, machine, opened.guide.library)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            action = step.action
            if isinstance(action, Tighten) and action.torque and action.torque_span:
                for group in (machine.things.get(ref.name) for ref in step.things):
                    if isinstance(group, Fastener) and not action.is_stage(group):  # the ledger asks for the rest
                        yield from _judged(group, action.torque, action.torque_span, machine, opened.guide.library)


def _judged(thing: Fastener, torque: Quantity, span: Span, machine: Machine, library: Library) -> Iterator[Fault]:
    joint = joint_of(thing, machine, library)
    low, high = si(torque)
    if low is None or high is None or disagreement(torque):
        return  # of a pair that does not agree, nobody knows which is right
    also = (Also(thing.span, "the fastener"),) if thing.torque_span != span else ()
    judgement = judge((low, high), joint) if joint else None
    if thing.torque_confirmed and not (judgement and judgement.breaks):
        return  # nobody can confirm what breaks the bolt in any case
    if joint is None or judgement is None:
        band = band_of(thing)
        side = sized.off((low, high), band, sized.FAR) if band else None
        if band and side and not (side is sized.Off.LOW and backs_off(thing.stages)):
            usual = f"{digits(band.low, 2)} to {digits(band.high, 2)} N·m"
            hint = meant_within(torque, band.low, band.high) or CONFIRM
            yield Fault(span, f"{torque.text} is far {side.value} {usual}, the usual range for {band.what}", also, hint)
        return
    if judgement.wrong is None or (judgement.wrong is Wrong.LOW and is_loose_on_purpose(joint)):
        return
    if judgement.wrong is Wrong.LOW and (by_angle(thing.stages) or backs_off(thing.stages)):
        return  # the angle does the rest; or it seats a bearing, and is taken back
    hint = advised(torque, joint, other_thread(thing), sure=judgement.breaks)
    yield Fault(span, _message(thing, torque, joint, judgement), also, hint)


def _stretched(thing: Fastener, machine: Machine, library: Library) -> Iterator[Fault]:
    """Yield the angle by which a bolt is stretched too far, whatever the friction and the stiffness are."""
    joint = joint_of(thing, machine, library) if by_angle(thing.stages) and not thing.torque_confirmed else None
    found = stretch(thing.stages, thing.torque, joint) if joint else None
    angles = [stage.quantity for stage in thing.stages if stage.kind is StageKind.ANGLE and stage.quantity]
    if joint and found and found.too_far:
        span = place_of(angles[-1].text, thing.span)
        torque = f"{thing.last_torque.text} and " if thing.last_torque else ""
        what = described(thing.thread, joint.strength.text if joint.strength else thing.grade)
        what += "," if "," in what else ""
        message = f"{torque}{digits(found.angle)}° stretch {what} by {found.told}"
        yield Fault(
            span, message, (), "add up all stages, and look it up; if it is right, add 'torque-confirmed: by what'"
        )


def _message(thing: Fastener, torque: Quantity, joint: Joint, judgement: Judgement) -> str:
    film = None if joint.condition == NOT_STATED else str(joint.condition)
    what = described(thing.thread, joint.strength.text if joint.strength else thing.grade, film)
    low, high = judgement.share
    factor = f"(nut factor {judgement.factors.low:.2f} to {judgement.factors.high:.2f})"
    strong = "its proof load" if joint.strength else "the proof load of the strongest class"
    if joint.seals and joint.strength is None:
        strong = f"what a {kind_of(thing)} of its size can bear"
    match judgement.wrong:
        case Wrong.HIGH:
            return f"{torque.text} {on(what)} is {_times(low)} to {_times(high)} times {strong} {factor}"
        case Wrong.STRIPS:
            member = joint.material.name if joint.material else "its threads"
            return (
                f"{torque.text} on {what}, {digits(joint.engagement or 0)} mm deep in {member}, is "
                f"{_times(low)} to {_times(high)} times what the threads bear {factor}"
            )
        case _:
            weak = "its proof load" if joint.strength else "the proof load of the weakest class"
            return f"{torque.text} {on(what)} is only {_percent(low)} to {_percent(high)} % of {weak} {factor}"


def _times(share: float) -> str:
    return f"{share:.1f}" if share < 20 else digits(round(share), 4)


def _percent(share: float) -> str:
    return digits(share * 100, 1) if share < 0.1 else f"{share * 100:.0f}"
