"""What an angle does to a bolt: how far it is stretched.

A turn moves the nut by one pitch. Bolt and parts share that way: while both are elastic, by their stiffness, of which
the bolt takes most; beyond its yield point the bolt takes nearly all. The strain of the bolt, without unit:

    e = T / (K·d·A·E) + q·P·a / (360°·L)

with the torque T before the angle, N·m, the pitch P, mm, the angle a, the length L, mm, and the bolt's share q of the
way, of which the lower end is taken, as the highest K is: a bolt is judged only when it is stretched too far in any
case. Beyond about a hundredth of its length a bolt of high strength necks where its thread is free. The limits are
common practice, held against published values (tests/published/angles.yaml). Source of the model: VDI 2230, the
diagram of a joint (memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from putback.joints.joint import Joint
from putback.joints.stages import Stage, StageKind, torque_of
from putback.units import Quantity, digits, si

ELASTICITY = 205_000
"""Of steel, N/mm²."""
SHARE = 0.6
"""The least share of the way that the bolt takes."""
LONGEST = 14.0
"""Length of a bolt whose length is not stated, in diameters: the long ones of a cylinder head."""
SHORTEST = 3.5
"""Length below which the head and the thread give as much as the shank, in diameters."""
MOST, MOST_OF_KNOWN = 0.0070, 0.0095
"""The most strain, of a bolt of no stated length and of a stated one; published values go up to 0.0063 and 0.0088."""


class Elongation(NamedTuple):
    """How far a bolt is stretched, at the least."""

    angle: float
    """All angles together, degrees."""
    strain: float
    """Share of its length."""
    length: float
    """The length that was taken, mm."""
    known: bool
    """Whether that is stated."""

    @property
    def too_far(self) -> bool:
        """Whether that is more than a bolt should bear."""
        return self.strain > self.most

    @property
    def most(self) -> float:
        """The limit."""
        return MOST_OF_KNOWN if self.known else MOST

    @property
    def told(self) -> str:
        """The strain in words, with the limit."""
        length = f"of its {digits(self.length)} mm" if self.known else f"even if it is {digits(self.length)} mm long"
        return f"{self.strain * 100:.1f} % or more {length}; published angles stay below {self.most * 100:.2f} %"


def stretch(stages: Sequence[Stage], torque: Quantity | None, joint: Joint) -> Elongation | None:
    """Return how far stages with an angle stretch a bolt; None without an angle, for a plug, and for a pipe thread."""
    turns = [si(stage.quantity)[0] for stage in stages if stage.kind is StageKind.ANGLE and stage.quantity]
    if not turns or joint.seals or joint.thread.stress_area is None:
        return None
    degrees = sum(_low(stage) for stage in stages if stage.kind is StageKind.ANGLE)
    diameter = joint.thread.diameter
    length = LONGEST * diameter if joint.length is None else max(joint.length, SHORTEST * diameter)
    aims = [aim for stage in stages if (aim := torque_of(stage, torque))]
    before = (si(aims[-1])[0] or 0.0) if aims else 0.0
    elastic = before / (joint.nut_factors.high * diameter / 1000) / (joint.area * ELASTICITY)
    way = SHARE * joint.thread.pitch * degrees / 360
    return Elongation(degrees, elastic + way / length, length, joint.length is not None)


def _low(stage: Stage) -> float:
    quantity = stage.quantity.to("°") if stage.quantity else None
    return float(quantity.low or 0) if quantity else 0.0
