"""How tight a piece is, and how tight a step makes it.

A stage is not the end: a bolt that is due 12 N·m and has 4 N·m is still loose, only less so.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from putback.joints.stages import Stage, StageKind, ends_back, torque_of
from putback.model.machine import Fastener
from putback.units import Quantity, si
from putback.units.agreeing import agree


class Reach(NamedTuple):
    """How tight one piece is; the looser comes before the tighter."""

    done: bool
    """Whether it has what is due."""
    torque: float
    """N·m that a wrench showed: 0 for snug; of a piece that is done, only what is more than due."""
    angle: float = 0.0
    """How far it was turned on from there, °."""


OUT = Reach(False, -2.0)
"""It is not in."""
LOOSE = Reach(False, -1.0)
"""It is hand-tight, or was loosened."""
SNUG = Reach(False, 0.0)
"""Its parts touch."""
FULL = Reach(True, 0.0)
"""It has what is due, and no more."""


class Aim(NamedTuple):
    """How tight a step makes a piece."""

    level: Reach = FULL
    """To what it brings one that is looser; of an angle, to what it brings one that is ready for it."""
    further: float | None = None
    """The angle by which it turns a piece on, °; None for a torque."""
    least: Reach = FULL
    """The torque and the angles, together, from which on a piece is done; `FULL` where the file does not say."""

    def of(self, now: Reach) -> Reach:
        """Return how tight a piece is after it."""
        if self.further is None or now.done:
            return max(now, self.level)
        after = Reach(False, max(now.torque, SNUG.torque), now.angle + self.further)
        return FULL if after >= self.least else after


FULLY = Aim()
"""All that is due."""


def aim_of(torque: Quantity | None, stage: Stage | None, thing: Fastener) -> Aim:
    """Return how tight a step makes a fastener: all that is due, unless it gives a torque or a stage of its own."""
    due, angles = thing.due_torque, _angles(thing)
    if stage is not None and stage.kind is StageKind.ANGLE and angles:
        return Aim(further=degrees(stage.quantity), least=Reach(False, _least(due), angles - _SLACK))
    if stage is not None and stage.kind is StageKind.SNUG and (due is not None or angles):
        return Aim(SNUG)
    torque = torque_of(stage, due) if stage is not None else torque
    if torque is not None and ends_back(thing.stages):
        return Aim(Reach(False, _most(torque)))
    if torque is None or (due is None and not angles):
        return FULLY
    if due is not None and not is_below(torque, due):
        # The angle that is still due comes on top.
        if angles:
            return Aim(Reach(False, _least(due)))
        return Aim(Reach(True, _most(torque)) if is_below(due, torque) else FULL)
    return Aim(Reach(False, _most(torque)))


def shown_torque(torque: Quantity | None, stage: Stage | None, thing: Fastener) -> Quantity | None:
    """Return what a wrench shows at a step that tightens; None where it shows nothing."""
    if stage is not None:
        return torque_of(stage, thing.due_torque)
    return torque or thing.last_torque


def is_below(one: Quantity, other: Quantity) -> bool:
    """Tell whether a torque is less than another one, by more than the rounding of a second unit."""
    if _most(one) >= _least(other):
        return False
    for said in filter(None, (one, one.stated)):
        for known in filter(None, (other, other.stated)):
            alike = said.nominal == known.nominal if said.unit == known.unit else agree(said, known)
            if alike and said.nominal is not None:
                return False
    return True


def is_stage(torque: Quantity, thing: Fastener) -> bool:
    """Tell whether a torque is less than the last one of a fastener, and may so be a stage on the way there."""
    return thing.last_torque is not None and is_below(torque, thing.last_torque)


_SLACK = 0.5
"""° by which a sum of angles may fall short."""


def _angles(thing: Fastener) -> float:
    """Return how far a fastener is turned on, °, in all; 0 when a torque is the end."""
    return sum(degrees(stage.quantity) for stage in thing.stages if stage.kind is StageKind.ANGLE)


def degrees(angle: Quantity | None) -> float:
    """Return an angle, °; the least of a range."""
    value = angle.to("°").nominal if angle else None
    low = angle.to("°").low if angle else None
    return float(value if value is not None else low or Decimal(0))


def _least(torque: Quantity | None) -> float:
    """Return the least that a torque allows, N·m."""
    low, high = si(torque) if torque else (0.0, 0.0)
    return low if low is not None else high or 0.0


def _most(torque: Quantity) -> float:
    low, high = si(torque)
    return high if high is not None else low or 0.0
