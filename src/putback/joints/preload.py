"""Whether a torque is likely: the preload that it can give, against what the bolt and its threads bear.

    F = T / (K·d)

with the torque T, N·m, the nominal diameter d, m, and the nut factor K, known as a band only (`friction`). The short
formula is that of Shigley's Mechanical Engineering Design and of NASA RP-1228; both give preloads of 0.75 of the proof
load for joints that are undone again, 0.90 for others.

A torque is unlikely when no nut factor of its thread condition could explain it: when even the highest leaves the bolt
above its proof load, or the lowest leaves it below LEAST of that. The limits are tuned on whole published tables
(tests/published/torques), see docs/why/torque.md. Each stands clear of the last published value by the
margin beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from putback.joints.friction import Band
from putback.joints.joint import STRONGEST, WEAKEST, Joint
from putback.joints.members import MemberLoad

MOST = 1.0
"""Share of the proof load that no torque wrench should pass; published tables go up to 0.95."""
MOST_OF_UNKNOWN = 0.70
"""The same, of class 12.9, for a bolt of no stated class; published tables go up to 0.59, but for one screw."""
LEAST = 0.30
"""Share of the proof load below which a bolt is hardly tightened; published tables go down to 0.34."""
MOST_OF_PLUG, LEAST_OF_PLUG = 1.0, 0.07
"""The same, of class 4.6, for a plug or a cap, which seals and holds nothing together; a stated class raises the upper
one. Published plugs, hollow bolts and spark plugs go from 0.10 to 0.79."""
WIDE = 36.0
"""Diameter, mm, above which a plug needs a smaller share: the plugs of a large diesel, M42 to M60, get less (read)."""
MOST_OF_THIN = 0.65
"""The upper one for a spark plug, whose shell is thin; published ones go up to 0.37."""
LEAST_OF_SHAFT = 0.08
"""The same for a nut on the end of a shaft; nuts of propellers and axles go down to 0.20 (common practice)."""
LARGE = 20.0
"""Diameter, mm, from which a bolt of no stated class may be meant to be loose: a pivot, a nut on a bearing."""


class Wrong(StrEnum):
    """Why a torque is unlikely."""

    HIGH = "above its proof load"
    STRIPS = "more than its threads bear"
    LOW = "hardly tight"


@dataclass(frozen=True, slots=True)
class Judgement:
    """What a torque does to a joint."""

    wrong: Wrong | None
    """Why it is unlikely; None when it is likely."""
    factors: Band
    """The nut factors of the thread condition."""
    preload: MemberLoad
    """What it can press together with, N."""
    share: tuple[float, float]
    """The same by what bears least: the proof load, or what the threads bear."""
    breaks: bool = False
    """Whether it breaks the bolt whatever the friction is; of no stated class, the strongest one."""


def judge(torque: tuple[float, float], joint: Joint) -> Judgement | None:
    """Judge a torque, N·m, its least and its greatest value; None for a joint that nothing is known of: pipe threads.

    Raises nothing. Source of the formulas: the docstring of this module.
    """
    if joint.thread.stress_area is None:
        return None
    factors, diameter = joint.nut_factors, joint.thread.diameter / 1000
    low, high = torque[0] / (factors.high * diameter), torque[1] / (factors.low * diameter)
    proof, threads, bears = joint.proof_load(), joint.strip_load(), joint.bears()
    most = proof * (MOST if joint.strength else MOST_OF_UNKNOWN)
    least = (LEAST_OF_SHAFT if joint.shaft else LEAST) * bears
    if joint.seals:
        least = LEAST_OF_PLUG * min(bears, joint.proof_load(WEAKEST))
        share = MOST_OF_THIN if joint.thin else MOST_OF_PLUG
        most, least = (most if joint.strength else share * joint.proof_load(joint.soft)), small_share(joint) * least
    wrong = None
    if threads and threads.high < most and low > threads.high:
        wrong, limit = Wrong.STRIPS, threads.high
    elif low > most:
        wrong, limit = Wrong.HIGH, most if joint.seals and not joint.strength else proof
    else:
        limit = bears
        if high < least and not joint.light:
            wrong = Wrong.LOW
    tensile = (joint.strength or STRONGEST).at(joint.thread.diameter).tensile * joint.area
    return Judgement(wrong, factors, MemberLoad(low, high), (low / limit, high / limit), low > tensile)


def small_share(joint: Joint) -> float:
    """Return what part of the least torque a wide plug gets: its seal asks for less than its thread bears."""
    return min(1.0, WIDE / joint.thread.diameter)


def is_loose_on_purpose(joint: Joint) -> bool:
    """Tell whether a bolt that is hardly tight may be meant so: a large one of no stated class."""
    return joint.strength is None and not joint.seals and joint.thread.diameter >= LARGE
