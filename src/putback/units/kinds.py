"""What can be measured, and what a unit is."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """What a quantity measures."""

    TORQUE = "torque"
    LENGTH = "length"
    VOLUME = "volume"
    MASS = "mass"
    PRESSURE = "pressure"
    TEMPERATURE = "temperature"
    DIFFERENCE = "temperature difference"
    """How much warmer or colder: 3 K, 5 °F difference. It converts without the 32."""
    TIME = "time"
    ANGLE = "angle"
    CRANK_ANGLE = "crank angle"
    """Before or after a dead centre; the four do not convert into each other."""
    SPEED = "speed"
    """Of turning (rpm) or of travel (km/h); the two do not convert into each other."""
    DISTANCE = "distance"
    """As far as one drives: km, mi."""
    FORCE = "force"
    SPRING_RATE = "spring rate"
    AREA = "area"
    FLOW = "flow"
    POWER = "power"
    DENSITY = "density"
    VISCOSITY = "viscosity"
    """Kinematic (mm²/s) or dynamic (mPa·s); the two do not convert into each other. A grade (SAE 10W-30) is a name."""
    ROUGHNESS = "roughness"
    """Ra, Rz, Rq and Rt do not convert into each other."""
    HARDNESS = "hardness"
    """No scale converts into another."""
    VOLTAGE = "voltage"
    CURRENT = "current"
    RESISTANCE = "resistance"
    CAPACITANCE = "capacitance"
    CHARGE = "charge"
    FREQUENCY = "frequency"
    RATIO = "ratio"
    """One number to another: 12:1."""
    SHARE = "percentage"
    COUNT = "number"
    """So many of something that is counted: 3 to 10 drops, 6 clicks."""

    @property
    def one(self) -> str:
        """The word with its article: "a torque"."""
        return f"{'an' if self[0] in 'ae' else 'a'} {self.value}"


SCALES_APART = frozenset({Kind.ROUGHNESS, Kind.HARDNESS})
"""Kinds whose scales do not convert, and that may be given in two of them all the same: 30 HRC (286 HB)."""


class System(StrEnum):
    """A family of units that a guide can be printed in."""

    METRIC = "metric"
    US = "us"


class Unit(NamedTuple):
    """One unit. A value x in it is (x + offset) · over / under in the SI unit `si`."""

    symbol: str
    """As it is printed."""
    kind: Kind
    """What it measures."""
    system: System | None
    """The family; None when readers of both use it (min, °, V), or of neither (imp gal)."""
    si: str
    """The SI unit that the factor leads to; units with different ones do not convert into each other."""
    over: str
    """Numerator of the factor, exact; π to 50 digits."""
    under: str = "1"
    """Denominator of the factor, exact."""
    names: str = ""
    """Other ways to write it, parted by |; see `table.key` for what is treated alike."""
    offset: str = "0"
    """Added before the factor is applied: degrees from absolute zero."""

    @property
    def joined(self) -> str:
        """The number's join to the unit: a no-break space, or nothing before a degree sign and a colon."""
        close = self.symbol == "°" or self.kind is Kind.CRANK_ANGLE or self.kind is Kind.RATIO
        return "" if close else "\u00a0"
