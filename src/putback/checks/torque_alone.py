"""A torque is three times that of its neighbours with the same thread, or a third of it.

On one machine, bolts of one thread and class mostly get about the same torque. One that is on its own was often copied
from another line.

Look it up again. If it is right, say at the fastener what confirms it: `torque-confirmed: by what`.
"""

from collections.abc import Iterator
from typing import NamedTuple

from putback.checks import Fault, Group
from putback.joints.joint import Joint
from putback.joints.preload import judge
from putback.joints.stages import by_angle, disagree
from putback.joints.usual import unusual
from putback.ledger.opened import Opened
from putback.model.called import named, verb_s
from putback.model.fastened import joint_of, kind_of
from putback.model.machine import Fastener
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.units import Quantity, digits, si

LEVEL = Level.ADVICE
GROUP = Group.TORQUE

FAILS = """
# machine.yaml
machine: Bench pump
parts: {pump: {material: aluminium}}
fasteners:
  lid-screws: {count: 4, thread: M8 x 1.25, class: "8.8", to: pump, torque: 29 N·m}
  foot-bolts: {count: 4, thread: M8 x 1.25, class: "8.8", to: pump, torque: 30 N·m}
  stay-bolts:
    count: 2
    thread: M8 x 1.25
    class: "8.8"
    to: pump
    torque: 9 N·m
            ^^^^^ 9 N·m is less than a third of what lid screws have, 29 N·m, with the same thread
"""

PASSES = """
# machine.yaml
machine: Bench pump
fasteners:
  lid-screws: {count: 4, thread: M8 x 1.25, class: "8.8", torque: 22 N·m}
  foot-bolts: {count: 4, thread: M8 x 1.25, class: "8.8", torque: 24 N·m}
"""

FACTOR = 3.0
"""How far a torque must lie from its nearest neighbour."""


class _Tight(NamedTuple):
    """A fastener with its torque."""

    thing: Fastener
    torque: Quantity
    span: Span
    size: float
    """The middle of it, N·m."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield torques of the machine file that stand alone among those of the same thread, class, kind and material."""
    groups: dict[object, list[_Tight]] = {}
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if (
            not isinstance(thing, Fastener)
            or by_angle(thing.stages)
            or disagree(thing.stages, thing.torque)
            or not machine
        ):
            continue
        torque, span = thing.last_torque, thing.torque_span
        joint = joint_of(thing, machine, opened.guide.library)
        low, high = si(torque) if torque else (None, None)
        if not joint or joint.light or joint.locks:
            continue  # they get less, and nobody wonders
        if torque and span and low and high and not _told(joint, (low, high)):
            # a filter, a sensor and a hollow bolt have little in common but that they seal
            alike = (_alike(joint), kind_of(thing) if joint.seals else None)
            groups.setdefault(alike, []).append(_Tight(thing, torque, span, (low + high) / 2))
    for group in groups.values():
        yield from _alone(group)


def _told(joint: Joint, torque: tuple[float, float]) -> bool:
    """Tell whether another check speaks of a torque."""
    judgement = judge(torque, joint)
    return judgement is None or judgement.wrong is not None or unusual(torque, joint) is not None


def _alike(joint: Joint) -> object:
    strength = joint.strength.name if joint.strength else None
    material = joint.material.name if joint.material else None
    return joint.thread, strength, joint.seals, joint.thin, material, joint.bore, joint.shank


def _alone(group: list[_Tight]) -> Iterator[Fault]:
    """Yield the one that stands alone; of two, the one that is farther from what such bolts get: the lower one."""
    alike: dict[float, list[_Tight]] = {}
    for one in group:
        alike.setdefault(one.size, []).append(one)
    sizes, order = sorted(alike), {one.thing.key: number for number, one in enumerate(group)}
    places = {size: place for place, size in enumerate(sizes)}
    for one in group:
        place = places[one.size]
        beside = [alike[size][0] for size in (*sizes[max(place - 1, 0) : place], *sizes[place + 1 : place + 2])]
        if not beside or len(alike[one.size]) > 1 or one.thing.torque_confirmed:
            continue
        near = min(beside, key=lambda other: (_times(other, one), order[other.thing.key]))
        lower = one.size * FACTOR < near.size
        if lower or (one.size > near.size * FACTOR and len(group) > 2):
            how = "less than a third" if lower else f"{digits(one.size / near.size, 2)} times"
            have = verb_s(near.thing, "has", "have")
            theirs = f"{named(near.thing)} {have}, {near.torque.text}"
            message = f"{one.torque.text} is {how} of what {theirs}, with the same thread"
            also = (Also(near.span, named(near.thing)),)
            yield Fault(one.span, message, also, "if it is right, add 'torque-confirmed: by what'")


def _times(one: _Tight, other: _Tight) -> float:
    return max(one.size / other.size, other.size / one.size)
