"""What is drained and filled: oil, fuel, coolant."""

from __future__ import annotations

from dataclasses import dataclass

from putback.model.terms import Ref
from putback.model.thing import Thing
from putback.units import Quantity


@dataclass(frozen=True, slots=True)
class FluidLevel:
    """Where the level of a fluid is seen, and where it should be."""

    at: str
    """What it is seen at: dipstick, sight-glass, tank or hole."""
    marks: tuple[Ref, ...] = ()
    """The names of the marks there, from the lowest."""
    to: Ref | None = None
    """The mark that it should reach; None for between the two, for the middle of a glass, for the edge of a hole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fluid(Thing):
    """What is drained and filled."""

    grade: str | None = None
    """What it is."""
    volume: Quantity | None = None
    """How much goes in."""
    drains: tuple[Ref, ...] = ()
    """It is out once one of these is open."""
    fills: tuple[Ref, ...] = ()
    """Where it goes in."""
    vents: tuple[Ref, ...] = ()
    """What lets air in or out meanwhile."""
    settles: Quantity | None = None
    """How long it stands until its level shows."""
    level: FluidLevel | None = None
    """Where its level is seen."""
