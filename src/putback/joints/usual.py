"""Whether a torque is usual: what published tables give, by size and strength; and what would be a safe one.

The figure is the torque over diameter, area and proof stress, x = T / (d·A·Sp), without unit: what tables make of
friction and of the share of the proof load together. Of 1070 torques of tables that state the class, 98 % lie between
0.083 and 0.224 (the tables that the limits were set on, tests/published/torques). By kind they lie closer together:

- steel: down to 0.095, but for a few rows; lubricated up to 0.154, others up to 0.186;
- SAE grades 1 and 2 and the like, whose proof stress falls above 3/4 in: up to 0.284;
- stainless and non-ferrous: 0.058 to 0.234; nylon 0.173 to 0.286;
- no class, by the proof stress of 8.8: the middle 98 % of all, as if no class were stated, 0.027 to 0.266;
- plugs and caps, by that of 4.6: 0.012 to 0.238, hollow bolts of pipes a little more (common practice); spark plugs up
  to 0.125.

Single parts get less than tables give, so the lower limit of steel is lower. In soft metal it is halved: a tractor's
manual asks for half of its table there (read).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from enum import StrEnum

from putback.joints.friction import LUBRICATED, NOT_STATED, Condition, Film
from putback.joints.joint import STRONGEST, WEAKEST, Joint
from putback.joints.members import SOFT
from putback.joints.members import STEEL as IRON
from putback.joints.preload import LEAST, judge, small_share
from putback.joints.strength import Standard, read_class

STEEL, STEEL_LUBRICATED = (0.085, 0.19), (0.085, 0.165)
"""Limits of x for steel of a stated class."""
MILD = (0.085, 0.29)
"""For SAE grades 1 and 2 and JIS 4T and 5T."""
OTHER = (0.057, 0.24)
"""For stainless and non-ferrous bolts."""
PLASTIC = (0.10, 0.30)
"""For bolts of plastic."""
SET_SCREW = (0.03, 0.30)
"""For set screws, by what stands for their proof stress: the proof torque is 0.30."""
THIN_NUT = (0.03, 0.19)
"""For thin nuts, which mostly only lock."""
NO_CLASS = (0.03, 0.25)
"""For bolts of no stated class, by the proof stress of class 8.8."""
SHAFT = 0.02
"""Lower limit for a nut on the end of a shaft, and for a pivot; common practice."""
PLUG, SPARK_PLUG = (0.012, 0.27), (0.012, 0.14)
"""For what only seals, by the proof stress of class 4.6."""

SAFE = 0.90
"""Share of what a joint bears that the greatest safe torque may bring about, at the least friction of its band:
the greater of the two that Shigley gives, so that it is less than the proof load whatever the friction is."""
SAFE_AS_READ = 1.0
"""The same for another reading of a number."""
_SPAN = 0.85
"""The least safe torque is this share of the greatest, or less."""

_CLEAR = 1.01
"""How far it stays from what is hardly tight."""

_COMMON, _CLASSES = read_class("8.8"), ("8.8", "10.9", "12.9")
_MILD = frozenset({"grade 1", "grade 2", "4T", "5T"})


class Unusual(StrEnum):
    """Why a torque is unusual."""

    HIGH = "more than tables give"
    LOW = "less than tables give"
    STRIPS = "may strip"


def _limits(joint: Joint) -> tuple[float, float]:
    """Return the limits of x of a joint."""
    strength = joint.strength
    if joint.seals and strength is None:
        return SPARK_PLUG if joint.thin else PLUG
    if strength is None:
        return NO_CLASS
    if strength.name in ("04", "05"):
        return THIN_NUT
    if strength.name in _MILD:
        return MILD
    match strength.standard:
        case Standard.SET_SCREW:
            return SET_SCREW
        case Standard.NONE:
            return PLASTIC
        case Standard.STAINLESS | Standard.NON_FERROUS:
            return OTHER
        case _:
            return STEEL_LUBRICATED if joint.condition.film in LUBRICATED else STEEL


def _reference(joint: Joint) -> float:
    """Return the torque, N·m, at which x is one."""
    unknown = joint.soft if joint.seals else _COMMON
    load = joint.proof_load(unknown if joint.strength is None else None)
    return load * joint.thread.diameter / 1000


def safe(joint: Joint) -> tuple[float, float]:
    """Return the least and the greatest torque, N·m, that are safe to begin with; not of a pipe thread.

    At the least friction of the band, the greatest one brings about SAFE of what the joint bears, and so less than
    breaks it. Both are usual.
    """
    one, (_, high) = _reference(joint), _limits(joint)
    bears = joint.bears()
    if joint.seals:
        bears = min(bears, joint.proof_load(WEAKEST))
    most = min(SAFE * bears * joint.nut_factors.low * joint.thread.diameter / 1000, high * one)
    hardly = LEAST * bears * joint.nut_factors.low * joint.thread.diameter / 1000
    return max(_least(joint, most), 0.0 if joint.seals else hardly * _CLEAR), most


def _least(joint: Joint, most: float) -> float:
    low = (min(SHAFT, _limits(joint)[0]) if joint.shaft else _limits(joint)[0]) * _reference(joint)
    if joint.material is not None and joint.material.name in SOFT:
        low /= 2
    if joint.seals and joint.strength is not None:
        low = PLUG[0] * joint.proof_load(WEAKEST) * joint.thread.diameter / 1000
    if joint.seals:
        low *= small_share(joint)
    return min(low, _SPAN * most)


def unusual(torque: tuple[float, float], joint: Joint) -> Unusual | None:
    """Tell why a torque, N·m, its least and its greatest value, is unusual; None when it is not.

    None as well for a pipe thread. Raises nothing.
    """
    if joint.thread.stress_area is None:
        return None
    middle = (torque[0] + torque[1]) / 2
    if middle > _limits(joint)[1] * _reference(joint):
        return Unusual.HIGH
    if _strips(middle, joint):
        return Unusual.STRIPS
    if joint.light or joint.locks:
        return None
    return Unusual.LOW if middle < _least(joint, safe(joint)[1]) else None


def _strips(torque: float, joint: Joint) -> bool:
    """Tell whether a torque strips weak threads at a friction of the middle; in plastic, of the usual length if none
    is given."""
    if joint.engagement is None and joint.material is not None and joint.material.name == "plastic":
        joint = replace(joint, engagement=joint.material.usual * joint.thread.diameter)
    threads, factors = joint.strip_load(), joint.nut_factors
    if threads is None:
        return False
    middle = (factors.low * factors.high) ** 0.5
    return bool(torque / (middle * joint.thread.diameter / 1000) > threads.low)


def is_short(joint: Joint) -> bool:
    """Tell whether less of the thread is engaged than the trade takes for enough at the least."""
    if joint.engagement is None or joint.seals or (joint.material is None and joint.insert is None):
        return False
    material = IRON if joint.insert is not None or joint.material is None else joint.material
    return joint.engagement < material.least * joint.thread.diameter - 0.01


def fits(torque: float, joint: Joint) -> str | None:
    """Tell whether a torque, N·m, would be usual and safe in a joint, and for what; None when it would not.

    An empty text: for the joint as it is stated. Otherwise what must be so beside it: `8.8 and dry threads`.
    """
    for words, supposed in _suppositions(joint):
        judged = judge((torque, torque), supposed)
        if judged is None or judged.wrong or unusual((torque, torque), supposed):
            continue
        if judged.preload.high <= SAFE_AS_READ * supposed.bears():
            return words
    return None


def _suppositions(joint: Joint) -> Iterator[tuple[str, Joint]]:
    """Yield what an author may have left out, the least first."""
    dry = replace(joint, condition=Condition(Film.DRY))
    films = [("", joint), *([("dry threads", dry)] if joint.condition == NOT_STATED else [])]
    yield from films
    for name in _CLASSES if joint.strength is None and not joint.seals else ():
        strength = STRONGEST if name == "12.9" else read_class(name)
        for film, each in films:
            yield f"class {name}{' and ' * bool(film)}{film}", replace(each, strength=strength)
