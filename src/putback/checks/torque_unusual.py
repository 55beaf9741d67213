"""A torque is not what bolts like this usually get.

It is not certain to break anything, but hardly any published table gives a bolt of this size and class so much, or so
little. It may come from the wrong line of the table, or belong to another class. The torque, by diameter, stress area
and proof stress, is compared with the middle 98 % of published tables; pipe threads, clamps and bolts known only by
their spanner size are compared with what is common.

Look the number up again, with its line and its column. If the part is soft, say what it is made of, with `to` and
`material`. If the torque is right, say at the fastener what confirms it: `torque-confirmed: by what`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.joints import sized
from putback.joints.friction import NOT_STATED
from putback.joints.joint import Joint
from putback.joints.preload import is_loose_on_purpose, judge
from putback.joints.readings import CONFIRM, advised, described, meant_within, on
from putback.joints.stages import backs_off, by_angle, disagree
from putback.joints.usual import Unusual, is_short, unusual
from putback.ledger.opened import Opened
from putback.model.fastened import band_of, joint_of, other_thread
from putback.model.machine import Fastener
from putback.model.said import place_of
from putback.source.finding import Level
from putback.source.span import Span
from putback.units import Quantity, digits, disagreement, least, most, si

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M8 x 1.25
    class: "8.8"
    condition: dry
    torque: 44 N·m
            ^^^^^^ 44 N·m is more than almost every table gives M8 x 1.25, class 8.8, dry
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws:
    count: 4
    thread: M8 x 1.25
    class: "8.8"
    condition: dry
    torque: 24 N·m
"""


_MOST_RUNNING = 0.5
"""Share of the torque that a self-locking nut may take to turn; ISO 2320 has up to 0.36 when it is new (memory)."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of the machine file that are not wrong for certain, and outside of what is common."""
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if not isinstance(thing, Fastener) or thing.torque_confirmed or disagree(thing.stages, thing.torque):
            continue
        torque, span = thing.last_torque, thing.torque_span
        if torque is None or span is None or not machine or by_angle(thing.stages):
            continue
        yield from _running(thing, torque)
        if disagreement(torque):
            continue  # units-disagree tells it, and which of them is right nobody knows
        joint = joint_of(thing, machine, opened.guide.library)
        if joint is None or joint.thread.stress_area is None:
            yield from _out_of_band(thing, torque, span)
        else:
            yield from _judged(thing, torque, span, joint)


def _running(thing: Fastener, torque: Quantity) -> Iterator[Fault]:
    """Yield what it takes to turn a self-locking nut, where it is much of the torque itself."""
    tight = least(torque) or most(torque)
    if thing.running_torque and tight and most(thing.running_torque) > _MOST_RUNNING * tight:
        text = thing.running_torque.text
        message = f"a nut that takes {text} to turn is unusual at {torque.text}: tables give a third at most"
        yield Fault(place_of(text, thing.span), message, (), CONFIRM)


def _out_of_band(thing: Fastener, torque: Quantity, span: Span) -> Iterator[Fault]:
    band, (low, high) = band_of(thing), si(torque)
    if band is None or low is None or high is None or sized.off((low, high), band, sized.FAR):
        return
    side = sized.off((low, high), band)
    if side and not (side is sized.Off.LOW and backs_off(thing.stages)):
        usual = f"{digits(band.low, 2)} to {digits(band.high, 2)} N·m"
        meant = meant_within(torque, band.low, band.high)
        hint = f"{meant}; {CONFIRM}" if meant else CONFIRM
        yield Fault(span, f"{torque.text} is {side.value} {usual}, the usual range for {band.what}", (), hint)


def _judged(thing: Fastener, torque: Quantity, span: Span, joint: Joint) -> Iterator[Fault]:
    low, high = si(torque)
    if low is None or high is None:
        return
    judgement = judge((low, high), joint)
    if judgement is None or (judgement.wrong and not is_loose_on_purpose(joint)):
        return  # torque-unlikely tells it
    film = None if joint.condition == NOT_STATED else str(joint.condition)
    grade = joint.strength.text if joint.strength else thing.grade
    thread = thing.thread if grade or joint.seals else f"{thing.thread} of no class"
    what = described(thread, grade, film)
    match unusual((low, high), joint):
        case Unusual.HIGH:
            message = f"{torque.text} is more than almost every table gives {what}"
        case Unusual.LOW if not backs_off(thing.stages):
            message = f"{torque.text} is less than almost every table gives {what}"
        case Unusual.STRIPS if not is_short(joint):
            deep = f", {digits(joint.engagement)} mm deep" if joint.engagement else ""
            member = joint.material.name if joint.material else "a weak thread"
            message = f"{torque.text} {on(what)} may strip {member}{deep}"
        case _:
            return
    yield Fault(span, message, (), advised(torque, joint, other_thread(thing)))
