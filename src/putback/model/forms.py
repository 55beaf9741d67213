"""How parts are shaped, by the words of the trade, and how large they are."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from putback.units import Quantity


class PartShape(StrEnum):
    """What a part looks like, as a drawing shows it."""

    BALL = "ball"
    BEARING = "bearing"
    BLOCK = "block"
    BOLT = "bolt"
    BOWL = "bowl"
    BUSH = "bush"
    CAP = "cap"
    CIRCLIP = "circlip"
    COLLAR = "collar"
    COVER = "cover"
    DIAPHRAGM = "diaphragm"
    DISC = "disc"
    ELEMENT = "element"
    GASKET = "gasket"
    GEAR = "gear"
    GROMMET = "grommet"
    HOUSING = "housing"
    IMPELLER = "impeller"
    KEY = "key"
    LINER = "liner"
    NUT = "nut"
    O_RING = "O-ring"
    PIN = "pin"
    PLATE = "plate"
    PROPELLER = "propeller"
    PULLEY = "pulley"
    RING = "ring"
    ROD = "rod"
    SCREW = "screw"
    SEAL = "seal"
    SHAFT = "shaft"
    SPACER = "spacer"
    SPRING = "spring"
    SPRING_WASHER = "spring washer"
    STRAINER = "strainer"
    STUD = "stud"
    WASHER = "washer"
    WAVE_WASHER = "wave washer"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSize:
    """How large a round part is."""

    outside: Quantity | None = None
    """Its outside diameter, mm."""
    inside: Quantity | None = None
    """The diameter of its hole, mm."""
    thickness: Quantity | None = None
    """How thick it is, or how long, along its axis, mm."""


def across(length: Quantity) -> float:
    """Return a length as it is drawn, mm: the value aimed at, or the end that is known."""
    ends = length.to("mm")
    return float(next((end for end in (ends.nominal, ends.high, ends.low) if end is not None), 0))
