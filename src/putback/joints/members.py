"""What a bolt is screwed into, and the load that strips its threads.

Shear areas by FED-STD-H28/2B and ASME B1.1, appendix B (read in reproductions):

    of the bolt   AS = π·L/P·D1·(P/2 + (d2 − D1)/√3), sheared off at the minor diameter of the hole
    of the hole   AS = π·L/P·d·(P/2 + (d − D2)/√3), sheared off at the major diameter of the bolt

with the engaged length L of full threads, mm. Those standards put in the limits of tolerance. Here basic sizes give
the upper end of a band; its lower end is LOOSE of that.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import NamedTuple

from putback.joints import JointError
from putback.joints.strength import StrengthClass
from putback.joints.threads import Thread


class MaterialError(JointError):
    """A text that names no material that is known. Its message is fit for the author."""


class MemberLoad(NamedTuple):
    """A band of loads, N."""

    low: float
    """What weak material and loose threads bear."""
    high: float
    """What strong material and threads without play bear: more strips them in any case."""


class Material(NamedTuple):
    """What threads are cut into."""

    name: str
    """In the words of the trade."""
    low: float
    """Ultimate shear strength of the weak kinds, N/mm²."""
    high: float
    """Ultimate shear strength of the strong kinds, N/mm²."""
    least: float
    """Engaged length that the trade takes for enough at the least, in diameters; common practice."""
    usual: float
    """Engaged length that the trade takes as a rule, in diameters; common practice."""
    source: str
    """Where the strengths come from."""


WIRE = 1.299038
"""By how many pitches the thread cut for a wire insert is larger than the bolt's: 3/4·√3, ASME B18.29.1 (memory)."""
BUSH = 1.3
"""By what factor that of a threaded bush is larger, at the least; common practice."""

LOOSE = 0.72
"""Least share of the basic shear area that threads of 6H/6g have: 0.73 for M5, 0.82 for M20, by the strip areas
printed after Bickford, Introduction to the Design and Behavior of Bolted Joints (read). Unified 2A/2B: as these."""

SHEAR_OF_TENSILE = (0.58, 0.70)
"""Shear strength of a bolt by its tensile strength: 1/√3, and what VDI 2230 gives for soft bolts (memory)."""

_SIXTH = "0.6 of the tensile strength, as VDI 2230 gives for steel (memory)"
_DIE = "alloy tables of die casters (read)"
STEEL = Material("steel", 216, 600, 1.0, 1.0, f"{_SIXTH}; 360 to 1000 N/mm²")
MATERIALS: tuple[Material, ...] = (
    Material("stainless steel", 300, 450, 1.0, 1.0, f"{_SIXTH}; 500 to 750 N/mm²"),
    Material("ductile iron", 360, 630, 1.0, 1.25, "0.9 of the tensile strength, 400 to 700 N/mm² (memory)"),
    Material("cast iron", 180, 393, 1.25, 1.5, "ASTM A48 class 20 (read) to class 40 (memory)"),
    Material("hard aluminium", 283, 331, 1.5, 2.0, "2024-T3 and 7075-T6, alloy tables (read)"),
    Material("aluminium", 138, 221, 1.5, 2.0, "casting 356: 140 to 190, 356-T6: 179 to 221 (read in two tables)"),
    Material("magnesium", 110, 180, 1.5, 2.0, "AZ91D 138 N/mm² (read); the ends of the band from memory"),
    Material("zinc", 214, 317, 1.5, 2.0, _DIE),
    Material("brass", 200, 300, 1.0, 1.5, "free-cutting C36000 205 to 235 (memory), C26000 from 230 (read)"),
    Material("bronze", 160, 360, 1.0, 1.5, "tin bronze from memory, C63600 320 to 360 (read)"),
    Material("copper", 150, 195, 1.5, 2.0, "C11000, soft to hard (memory)"),
    Material("plastic", 20, 66, 2.0, 2.5, "acetal 34 to 53 N/mm² (read); the ends of the band from memory"),
    STEEL,
)
"""Materials that threads are cut into, with the strength that shears a thread off. What shops list for blanking is
more: there, a sharp edge must cut a sheet through.
"""
SOFT = frozenset({"aluminium", "magnesium", "zinc", "copper", "plastic", "brass", "bronze"})
"""Materials for which tables ask for less torque: half of it, says a tractor's manual (read)."""

_WORDS: tuple[tuple[str, str], ...] = (
    (r"stainless(?:[\s-]+steel)?|steel, stainless", "stainless steel"),
    (r"(?:ductile|nodular|spheroidal|sg|s\.g\.)(?:[\s-]+(?:graphite|cast))*[\s-]+iron", "ductile iron"),
    (r"(?:grey|gray|cast)(?:[\s-]+cast)?[\s-]*iron|iron casting", "cast iron"),
    (
        r"(?:alumin(?:i)?um )?(?:alloy )?(?:2014|2024|7075)(?:-t[0-9]+)?(?: alumin(?:i)?um)?|hard aluminium",
        "hard aluminium",
    ),
    (r"alumin(?:i)?um|alloy casting|light alloy", "aluminium"),
    (r"magnesium", "magnesium"),
    (r"zinc(?![\s-]*(?:plated|coated|nickel|flake))|zamak", "zinc"),
    (r"brass", "brass"),
    (r"bronze|gunmetal", "bronze"),
    (r"copper", "copper"),
    (r"plastics?|nylon|polyamide|acetal|pom|abs|polycarbonate|polypropylene|pvc", "plastic"),
    (r"steel", "steel"),
)
_KNOWN = f"name one of {', '.join(sorted(material.name for material in MATERIALS))}"


def read_material(text: str) -> Material:
    """Return the material that a text names: `cast aluminium`, `grey iron`, `mild steel`.

    Raises MaterialError when it names none that is known, or two.
    """
    left, found = " ".join(text[:200].lower().split()), []
    for pattern, name in _WORDS:
        left, count = re.subn(rf"(?<![\w-])(?:{pattern})(?!\w)", " ", left)
        if count:
            found.append(name)
    said = text if len(text) <= 60 else f"{text[:60]} …"
    if len(found) > 1:
        raise MaterialError(f"'{said}' names two materials: {found[0]} and {found[1]}", "name the one with the threads")
    if not found:
        raise MaterialError(f"'{said}' is not a material whose thread strength is known", _KNOWN)
    return next(material for material in MATERIALS if material.name == found[0])


def knows_material(text: str) -> bool:
    """Tell whether a text names a material whose threads are known."""
    try:
        read_material(text)
    except MaterialError:
        return False
    return True


def hole_area(thread: Thread, engagement: float) -> float | None:
    """Return the basic shear area of a tapped hole, mm², for an engaged length, mm; None for pipe threads."""
    if thread.pitch_diameter is None:
        return None
    height = thread.pitch / 2 + (thread.diameter - thread.pitch_diameter) / math.sqrt(3)
    return math.pi * engagement / thread.pitch * thread.diameter * height


def bolt_area(thread: Thread, engagement: float) -> float | None:
    """Return the basic shear area of a bolt's threads, mm², for an engaged length, mm; None for pipe threads."""
    if thread.pitch_diameter is None or thread.minor_diameter is None:
        return None
    height = thread.pitch / 2 + (thread.pitch_diameter - thread.minor_diameter) / math.sqrt(3)
    return math.pi * engagement / thread.pitch * thread.minor_diameter * height


def insert_thread(thread: Thread, insert: str) -> Thread:
    """Return the thread that is cut into the parent metal for an insert."""
    solid = re.search(r"bush|solid|key|sleeve", insert.lower()) is not None
    size = thread.diameter * BUSH if solid else thread.diameter + WIRE * thread.pitch
    return replace(thread, diameter=size)


def strip_load(thread: Thread, material: Material, engagement: float) -> MemberLoad | None:
    """Return the load, N, that strips a tapped hole, for an engaged length, mm; None for pipe threads."""
    area = hole_area(thread, engagement)
    return None if area is None else MemberLoad(LOOSE * area * material.low, area * material.high)


def bolt_strip_load(thread: Thread, strength: StrengthClass, engagement: float) -> MemberLoad | None:
    """Return the load, N, that strips the bolt's own threads, for an engaged length, mm; None for pipe threads."""
    area = bolt_area(thread, engagement)
    if area is None:
        return None
    tensile = strength.at(thread.diameter).tensile
    low, high = SHEAR_OF_TENSILE
    return MemberLoad(LOOSE * area * tensile * low, area * tensile * high)
