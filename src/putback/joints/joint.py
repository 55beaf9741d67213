"""A bolt and what it is screwed into, and the loads that they bear."""

from __future__ import annotations

import math
from dataclasses import dataclass

from putback.joints.friction import NOT_STATED, Band, Condition, nut_factors
from putback.joints.members import STEEL, Material, MemberLoad, bolt_strip_load, insert_thread, strip_load
from putback.joints.strength import StrengthClass, read_class
from putback.joints.threads import Thread

WEAKEST, STRONGEST = read_class("4.6"), read_class("12.9")
"""What a bolt of no stated class may be."""
_HOLLOW = read_class("5.8")
"""What a hollow bolt of pipes mostly is, at the least: those of brakes get 25 to 54 N·m on M10 (read)."""


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
    insert: str | None = None
    """The thread insert in the material; None without one."""
    seals: bool = False
    """Whether it is a plug or a cap, which only seals."""
    thin: bool = False
    """Whether it is a thin shell, as a spark plug is."""
    light: bool = False
    """Whether it is turned in lightly, as a stud is."""
    shaft: bool = False
    """Whether it is a nut on the end of a shaft, or a pivot, which get less than their thread bears."""
    locks: bool = False
    """Whether it is a lock nut, which holds by another nut as well."""
    hollow: bool = False
    """Whether it is the hollow bolt of a pipe or hose, with or without a stated bore."""
    bore: float | None = None
    """The bore of a hollow bolt, mm."""
    shank: float | None = None
    """The thinnest place of a waisted bolt, mm."""
    length: float | None = None
    """Length, mm."""

    @property
    def nut_factors(self) -> Band:
        """The band of nut factors."""
        return nut_factors(self.condition, stainless=self.strength is not None and self.strength.stainless)

    @property
    def soft(self) -> StrengthClass:
        """What a plug or a cap of no stated class is taken for."""
        return _HOLLOW if self.hollow or self.bore is not None else WEAKEST

    @property
    def area(self) -> float:
        """The least area that carries the load, mm²: of the thread or of a waisted shank, without the bore."""
        assert self.thread.stress_area is not None
        shank = math.inf if self.shank is None else math.pi / 4 * self.shank**2
        return max(min(self.thread.stress_area, shank) - math.pi / 4 * (self.bore or 0) ** 2, 0.1)

    def proof_load(self, strength: StrengthClass | None = None) -> float:
        """Return the proof load, N: area by proof stress; of plastic, by its yield strength."""
        grade = strength or self.strength or STRONGEST
        stress = grade.at(self.thread.diameter)
        return self.area * (stress.yield_ if stress.proof is None else stress.proof)

    def strip_load(self) -> MemberLoad | None:
        """Return what the threads bear, N; None when the material or the engaged length is not stated."""
        if self.engagement is None:
            return None
        loads = [] if self.strength is None else [bolt_strip_load(self.thread, self.strength, self.engagement)]
        if self.insert is not None:
            loads.append(strip_load(self.thread, STEEL, self.engagement))
        if self.material is not None:
            cut = self.thread if self.insert is None else insert_thread(self.thread, self.insert)
            loads.append(strip_load(cut, self.material, self.engagement))
        found = [load for load in loads if load is not None]
        if self.material is None and self.insert is None:
            return None
        return MemberLoad(min(load.low for load in found), min(load.high for load in found)) if found else None

    def bears(self) -> float:
        """Return what it bears in any case, N: the proof load, of the weakest class when none is stated, or the
        threads."""
        weak = self.proof_load(None if self.strength else WEAKEST)
        threads = self.strip_load()
        return min(weak, threads.low) if threads else weak
