"""How heavy a load one person should lift in a given way: the revised NIOSH lifting equation.

    RWL = LC · HM · VM · DM · AM · FM · CM        LI = load / RWL

RWL is the recommended weight limit: nearly all healthy workers could lift it over a working day without a greater risk
of low back pain. LI is the lifting index: 1 or less is the goal of design; above 3, nearly all workers are at greater
risk (p. 20). Lowering counts as lifting (p. 6).

Source: Waters, Putz-Anderson, Garg, "Applications manual for the revised NIOSH lifting equation", DHHS (NIOSH) 94-110,
revised 9/2021, public domain; read in a reproduction that cites the pages. Nothing is rounded here. The manual's own
examples round each multiplier to two digits, and so differ by up to 3 % (p. 29 says they may).

Where the equation does not apply: `putback.lifting.NOT_COVERED`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from putback.lifting import LiftError
from putback.lifting.tables import (
    CONSTANTS,
    LEAST_FREQUENCY,
    Coupling,
    Duration,
    LiftUnits,
    asymmetry_multiplier,
    coupling_multiplier,
    distance_multiplier,
    frequency_multiplier,
    horizontal_multiplier,
    measured,
    read_word,
    vertical_multiplier,
)
from putback.units import digits

POUND = 0.45359237
"""kg; exact, international yard and pound agreement of 1959."""
SHARES = (1.0, 2 / 3, 1 / 2)
"""The share of what one person can lift alone that each of one, two and three can lift together: HSE, L23, guidance on
the Manual Handling Operations Regulations, paragraph 120; read in a reproduction, and quoted in two other places."""


@dataclass(frozen=True, slots=True)
class Hands:
    """Where the hands are at one end of a lift."""

    reach: float
    """H: from the middle between the ankles to the middle between the hands, level, cm or in."""
    height: float
    """V: of the middle between the hands above the floor, cm or in."""
    angle: float = 0.0
    """A: by which the load is off to one side, from straight ahead, degrees."""


@dataclass(frozen=True, slots=True)
class LiftTask:
    """One way of lifting or lowering a load with both hands.

    Raises LiftError for numbers and words that make no sense. What is beyond the equation's limits is a lift: its
    recommended weight limit is 0.
    """

    load: float
    """The load with its container, kg or lb; the average, if it varies."""
    origin: Hands
    """Where the hands take the load."""
    destination: Hands
    """Where they let it go. Without control only its height counts."""
    coupling: Coupling
    """How well the hands hold it."""
    control: bool = False
    """Whether the load must be guided, held or gripped anew at the destination: "significant control" (pp. 2, 21)."""
    frequency: float = LEAST_FREQUENCY
    """Lifts a minute, averaged over 15 minutes."""
    duration: Duration = Duration.SHORT
    """How long such lifting goes on."""
    heaviest: float | None = None
    """The greatest load, kg or lb, if it varies; only several tasks together use it."""
    system: LiftUnits = LiftUnits.METRIC
    """The units of all lengths and loads."""

    def __post_init__(self) -> None:
        for kind, word in ((LiftUnits, self.system), (Coupling, self.coupling), (Duration, self.duration)):
            read_word(kind, word)
        of = CONSTANTS[self.system]
        if not measured("the load", self.load, of.mass):
            raise LiftError(f"the load is 0 {of.mass}, expected more", "weigh the load, with its container")
        if self.heaviest is not None and measured("the greatest load", self.heaviest, of.mass) < self.load:
            raise LiftError(
                f"the greatest load is {digits(self.heaviest)} {of.mass}, "
                f"less than the average of {digits(self.load)} {of.mass}",
                "weigh the load again",
            )
        measured("the frequency", self.frequency, "lifts/min")
        for hands in (self.origin, self.destination):
            measured("the reach", hands.reach, of.length)
            measured("the height", hands.height, of.length)
            asymmetry_multiplier(hands.angle)

    @property
    def distance(self) -> float:
        """D: between the heights at both ends, up or down, cm or in."""
        return abs(self.destination.height - self.origin.height)


class LiftEnd(StrEnum):
    """An end of a lift."""

    ORIGIN = "origin"
    DESTINATION = "destination"


@dataclass(frozen=True, slots=True)
class Multipliers:
    """What takes away from the load constant at one end of a lift; each from 0 to 1."""

    hm: float
    """Of the reach."""
    vm: float
    """Of the height."""
    dm: float
    """Of the distance."""
    am: float
    """Of the angle."""
    fm: float
    """Of the frequency and the duration, at the height of the origin (p. 15)."""
    cm: float
    """Of the coupling."""

    @property
    def without_frequency(self) -> float:
        """The product of all but FM."""
        return self.hm * self.vm * self.dm * self.am * self.cm

    @property
    def product(self) -> float:
        """The product of all."""
        return self.without_frequency * self.fm


@dataclass(frozen=True, slots=True)
class LiftLimit:
    """What should be lifted at most, in one way of lifting."""

    rwl: float
    """The recommended weight limit, kg or lb; 0 where nothing should be lifted so. The lower one of both ends, if the
    load must be controlled at the destination (p. 21)."""
    li: float
    """The lifting index, load / RWL; infinite where the limit is 0."""
    end: LiftEnd
    """The end that has the limit."""
    multipliers: Multipliers
    """At that end."""
    origin: Multipliers
    """At the origin."""
    destination: Multipliers | None
    """At the destination; None without control."""
    system: LiftUnits
    """The units of the limit."""

    @property
    def origin_rwl(self) -> float:
        """The recommended weight limit at the origin, kg or lb."""
        return CONSTANTS[self.system].load * self.origin.product

    @property
    def destination_rwl(self) -> float | None:
        """The recommended weight limit at the destination, kg or lb; None without control."""
        return None if self.destination is None else CONSTANTS[self.system].load * self.destination.product

    @property
    def firwl(self) -> float:
        """The frequency-independent limit, kg or lb: with an FM of 1, at the end that has the limit (p. 26)."""
        return CONSTANTS[self.system].load * self.multipliers.without_frequency


def recommended(lift: LiftTask) -> LiftLimit:
    """Return the recommended weight limit and the lifting index of a lift: 94-110, sections 1.1 and 2.3."""
    origin = _at(lift, lift.origin)
    destination = _at(lift, lift.destination) if lift.control else None
    end, worst = LiftEnd.ORIGIN, origin
    if destination is not None and destination.without_frequency < origin.without_frequency:
        end, worst = LiftEnd.DESTINATION, destination
    rwl = CONSTANTS[lift.system].load * worst.product
    return LiftLimit(rwl, index(lift.load, rwl), end, worst, origin, destination, lift.system)


def index(load: float, limit: float) -> float:
    """Return how many times its limit a load is; infinite for a limit of 0."""
    return load / limit if limit else math.inf


def _at(lift: LiftTask, hands: Hands) -> Multipliers:
    return Multipliers(
        hm=horizontal_multiplier(hands.reach, lift.system),
        vm=vertical_multiplier(hands.height, lift.system),
        dm=distance_multiplier(lift.distance, lift.system),
        am=asymmetry_multiplier(hands.angle),
        fm=frequency_multiplier(lift.frequency, lift.duration, lift.origin.height, lift.system),
        cm=coupling_multiplier(lift.coupling, hands.height, lift.system),
    )


def people_for(mass_kg: float, lift: LiftTask) -> int | None:
    """Return how many people should lift a mass, kg, in the way of a lift: 1, 2, 3, or None for lifting gear.

    The equation is for one person. For more, this follows HSE's guidance on the British Manual Handling Operations
    Regulations (L23, paragraph 120; read in a reproduction): about two thirds of the sum of what each can lift alone
    for two people, and half of it for three. So two lift 4/3 of the recommended weight limit, and three 3/2. The
    guidance has no number for four, and says that more than four are unlikely to work well together; stairs and slopes
    put most of the weight on the lower ones. It is a rule of thumb, not a limit by law.

    The load of the lift does not count, only its way. Raises LiftError for a mass that is none.
    """
    if not measured("the mass", mass_kg, "kg"):
        raise LiftError("the mass is 0 kg, expected more", "weigh the part")
    alone = recommended(lift).rwl * (POUND if lift.system is LiftUnits.US else 1.0)
    for people, share in enumerate(SHARES, 1):
        if mass_kg <= people * share * alone * (1 + 1e-9):
            return people
    return None
