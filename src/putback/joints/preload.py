"""Whether a torque is likely: the preload that it can give, against what the bolt and its threads bear.

    F = T / (K·d)

with the torque T, N·m, the nominal diameter d, m, and the nut factor K, known as a band only (`friction`). The short
formula is that of Shigley's Mechanical Engineering Design and of NASA RP-1228; both give preloads of 0.75 of the proof
load for joints that are undone again, 0.90 for others.

A torque is unlikely when no nut factor of its thread condition could explain it: when even the highest leaves the bolt
above its proof load, or the lowest leaves it below LEAST of that. The limits are tuned on whole published tables
(tests/published/torques), see docs/torque.md. Each stands clear of the last published value by the margin beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from putback.joints.friction import NOT_STATED, Band, Condition, nut_factors
from putback.joints.members import STEEL, Material, MemberLoad, bolt_strip_load, strip_load
from putback.joints.strength import StrengthClass, read_class
from putback.joints.threads import Thread

MOST = 1.0
"""Share of the proof load that no torque wrench should pass; published tables go up to 0.95."""
MOST_OF_UNKNOWN = 0.70
"""The same, of class 12.9, for a bolt of no stated class; published tables go up to 0.59, but for one screw."""
LEAST = 0.30
"""Share of the proof load below which a bolt is hardly tightened; published tables go down to 0.34."""
MOST_OF_PLUG, LEAST_OF_PLUG = 1.0, 0.07
"""The same, of class 4.6, for a plug or a cap, which seals and holds nothing together; a stated class raises the upper
one. Published plugs, hollow bolts and spark plugs go from 0.10 to 0.79."""
USUAL, USUAL_OF_PLUG = (0.50, 0.85), (0.15, 0.60)
"""Shares of the proof load that are named as likely; of class 4.6 for a plug."""

_WEAKEST, _STRONGEST = read_class("4.6"), read_class("12.9")
"""What a bolt of no stated class may be."""


class Wrong(StrEnum):
    """Why a torque is unlikely."""

    HIGH = "above its proof load"
    STRIPS = "more than its threads bear"
    LOW = "hardly tight"


@dataclass(frozen=True, slots=True)
class Joint:
    """A bolt and what it is screwed into."""

    thread: Thread
    """Its thread; not a pipe thread."""
    strength: StrengthClass | None = None
    """Its class; None when it is not stated."""
    condition: Condition = NOT_STATED
    """The state of the thread."""
    material: Material | None = None
    """What it is screwed into; None when it is not stated."""
    engagement: float | None = None
    """Engaged length, mm; None when it is not stated."""
    insert: bool = False
    """Whether a steel insert takes the threads."""
    seals: bool = False
    """Whether it is a plug or a cap, which only seals."""

    @property
    def nut_factors(self) -> Band:
        """The band of nut factors."""
        return nut_factors(self.condition, stainless=self.strength is not None and self.strength.stainless)

    def proof_load(self, strength: StrengthClass | None = None) -> float:
        """Return the proof load, N: stress area by proof stress; of plastic, by its yield strength."""
        grade = strength or self.strength or _STRONGEST
        stress = grade.at(self.thread.diameter)
        assert self.thread.stress_area is not None
        return self.thread.stress_area * (stress.yield_ if stress.proof is None else stress.proof)

    def strip_load(self) -> MemberLoad | None:
        """Return what the threads bear, N; None when the material or the engaged length is not stated."""
        if self.engagement is None or (self.material is None and not self.insert):
            return None
        material = STEEL if self.insert or self.material is None else self.material
        hole = strip_load(self.thread, material, self.engagement)
        bolt = bolt_strip_load(self.thread, self.strength, self.engagement) if self.strength else None
        if hole is None or bolt is None:
            return hole
        return MemberLoad(min(hole.low, bolt.low), min(hole.high, bolt.high))


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
    likely: tuple[float, float]
    """Torques that would be likely, N·m."""


def judge(torque: tuple[float, float], joint: Joint) -> Judgement | None:
    """Judge a torque, N·m, its least and its greatest value; None for a joint that nothing is known of: pipe threads.

    Raises nothing. Source of the formulas: the docstring of this module.
    """
    if joint.thread.stress_area is None:
        return None
    factors, diameter = joint.nut_factors, joint.thread.diameter / 1000
    low, high = torque[0] / (factors.high * diameter), torque[1] / (factors.low * diameter)
    proof, threads = joint.proof_load(), joint.strip_load()
    weak = joint.proof_load(None if joint.strength else _WEAKEST)
    rated_load = min(weak, threads.low) if threads else weak
    most, least = proof * (MOST if joint.strength else MOST_OF_UNKNOWN), LEAST * rated_load
    if joint.seals:
        soft = joint.proof_load(_WEAKEST)
        most, least = (most if joint.strength else MOST_OF_PLUG * soft), LEAST_OF_PLUG * min(rated_load, soft)
    wrong = None
    if threads and threads.high < most and low > threads.high:
        wrong, limit = Wrong.STRIPS, threads.high
    elif low > most:
        wrong, limit = Wrong.HIGH, proof
    else:
        limit = rated_load
        if high < least:
            wrong = Wrong.LOW
    middle = diameter * (factors.low * factors.high) ** 0.5
    if joint.seals:
        usual = [share * min(rated_load, joint.proof_load(_WEAKEST)) * middle for share in USUAL_OF_PLUG]
    else:
        top = min(most, threads.high) if threads else most
        usual = [USUAL[0] * rated_load * middle, USUAL[1] * (rated_load if joint.strength else top) * middle]
    return Judgement(wrong, factors, MemberLoad(low, high), (low / limit, high / limit), (usual[0], usual[1]))
