"""What the trade measures, in English: the kinds of quantity that each can have, and the side on which it wears.

A term that is not here says nothing, and nothing is found. One with two meanings has the kinds of both: the tension
of a belt is a force on a gauge, or a length by which it gives. The first kind is the most usual. Terms are lower case
and singular, hyphens are blanks.
"""

from __future__ import annotations

from putback.units import Kind

_L, _F, _T, _P, _A = Kind.LENGTH, Kind.FORCE, Kind.TORQUE, Kind.PRESSURE, Kind.ANGLE

TERMS: tuple[tuple[tuple[Kind, ...], str], ...] = (
    (
        (_L,),
        """clearance, gap, end gap, air gap, end play, end float, side play, side float, float, run out, runout,
        ovality, out of round, out of roundness, warp, warpage, flatness, bow, sag, give, height, depth,
        width, length, free length, free height, thickness, diameter, bore, outside diameter, inside
        diameter, stroke, protrusion, projection, recession, offset, undercut, margin, circumference,
        eccentricity, squish, crush, radius, lash, valve lash, lobe lift, cam lift, lift, valve lift,
        needle lift, stand out, stick out, tread depth, ring gap, wobble, concentricity, roundness,
        parallelism, straightness, stretch, wall""",
    ),
    (
        (_L, _A),
        """play, free play, backlash, deflection, travel, free travel, toe, toe in, toe out, camber, twist, slack,
        alignment, pitch, misalignment""",
    ),
    ((_L, Kind.DISTANCE), "distance"),
    ((_L, _A, Kind.SHARE), "taper, opening"),
    ((_L, Kind.SHARE, Kind.MASS), "wear"),
    ((_L, Kind.SHARE), "elongation"),
    ((_L, Kind.VOLUME, Kind.SHARE, Kind.MASS), "level"),
    ((_F, _L, Kind.FREQUENCY), "tension, belt tension, chain tension"),
    ((_F,), "force, pull, spring load, spring force, spring tension, brush tension, pedal force, pull off force"),
    ((_F, _P), "spring pressure, pedal pressure, contact pressure, brush pressure, thumb pressure, finger pressure"),
    ((_T, _F), "drag, effort, rolling resistance, turning resistance, turning effort, pedal effort"),
    ((_T,), "torque, turning torque, drag torque, breakaway torque, running torque, starting torque, rotating torque"),
    ((_T, _F, _L, _A), "preload, pre load"),
    (
        (_P,),
        """pressure, oil pressure, fuel pressure, tyre pressure, tire pressure, vacuum, suction, boost, back
        pressure, opening pressure, cracking pressure, depression""",
    ),
    ((_P, Kind.RATIO), "compression, compression pressure, cylinder pressure"),
    ((_P, Kind.FLOW, Kind.VOLUME, Kind.SHARE, Kind.CURRENT, Kind.COUNT), "leakage, leak down, leakdown, leak off"),
    ((Kind.TEMPERATURE, Kind.DIFFERENCE), "temperature, freezing point, freeze point, boiling point, flash point"),
    ((Kind.VOLTAGE,), "voltage, voltage drop, volt drop, potential difference"),
    ((Kind.CURRENT,), "current, amperage, current draw, charging current"),
    ((Kind.CURRENT, Kind.VOLTAGE), "charging rate"),
    ((Kind.RESISTANCE,), "resistance, continuity, insulation, insulation resistance, impedance"),
    ((Kind.SPEED,), "speed, idle, idle speed, idling speed, rpm, revs"),
    ((Kind.TIME,), "time, duration, dwell time"),
    ((_A,), "angle, caster, castor"),
    ((_A, Kind.CRANK_ANGLE, _L, Kind.TIME), "timing, ignition timing, injection timing, ignition advance, advance"),
    ((_A, Kind.SHARE, Kind.TIME), "dwell"),
    ((Kind.VOLUME,), "volume"),
    ((Kind.VOLUME, Kind.MASS), "quantity"),
    ((Kind.VOLUME, _L), "displacement"),
    ((Kind.MASS, _F), "weight, mass"),
    ((_F, Kind.MASS, Kind.CURRENT, Kind.POWER, Kind.SHARE, Kind.RESISTANCE), "load"),
    ((Kind.SHARE,), "concentration, duty cycle, humidity"),
    ((Kind.RATIO,), "compression ratio, gear ratio, mixing ratio"),
    ((Kind.DENSITY,), "density, electrolyte density, specific gravity"),
    ((Kind.VISCOSITY, Kind.TIME), "viscosity"),
    ((Kind.FLOW,), "flow, flow rate, fuel flow"),
    ((Kind.FLOW, Kind.VOLUME, Kind.MASS, Kind.PRESSURE), "delivery, fuel delivery, consumption, oil consumption"),
    ((Kind.POWER, Kind.VOLTAGE, Kind.CURRENT, Kind.SHARE), "power"),
    ((Kind.HARDNESS,), "hardness"),
    ((Kind.ROUGHNESS, _L), "roughness, surface roughness, surface finish"),
    ((Kind.CAPACITANCE,), "capacitance"),
    ((Kind.FREQUENCY, Kind.SPEED), "frequency"),
    ((Kind.SPRING_RATE,), "spring rate, spring stiffness"),
    ((Kind.AREA,), "area"),
)
"""Kinds, and the terms that have them."""


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


CARRIED = _set(
    """rise fall drop loss change difference variation spread increase decrease reading value setting measurement
    amount rate check test limit readings"""
)
"""Words that say no more than what they are of: the fall of a pressure is a pressure, and wears on no side."""

SPRINGS_BACK = _set("spring gasket seal ring mount mounting rubber packing valve o bush bushing pad buffer")
"""What is compressed by a length: its compression is no pressure."""

PRESSES = _set("spring belt pedal contact brush roller pad shoe thumb finger hand blade arm clamp lever")
"""What presses on something: its pressure is a force."""

TURNS = _set("turning rolling turn rotation motion movement moving sliding swivelling")
"""A resistance to these is a torque or a force."""

UP = "at most"
DOWN = "at least"

_ROUND_OUT = (
    "journal shaft pin crankpin stem piston spindle axle plunger shank camshaft crankshaft trunnion kingpin spool rod"
)
_ROUND_IN = "bore cylinder hole liner bush bushing guide eye drum race housing"
_RUNS_IN = f"{_ROUND_OUT} bearing guide bush bushing groove ring oil rotor big end small conrod main liner"
_WORN_THIN = "pad lining shoe disc disk rotor brush plate facing washer shell vane tooth key friction blade segment"

SIDES: tuple[tuple[str, str, str], ...] = (
    ("free length, free height", "", DOWN),
    ("length, height", "spring brush", DOWN),
    ("length", "chain bolt stud", UP),
    ("diameter", f"{_ROUND_OUT} commutator armature", DOWN),
    ("diameter", _ROUND_IN, UP),
    ("bore, inside diameter", "", UP),
    ("outside diameter", "", DOWN),
    ("thickness", _WORN_THIN, DOWN),
    ("width", "belt", DOWN),
    ("width", "groove keyway slot", UP),
    ("height", "lobe cam", DOWN),
    ("lobe lift, cam lift, tread depth, margin", "", DOWN),
    ("depth, undercut", "tread mica commutator", DOWN),
    ("depth", "groove score pit scratch nick dent step", UP),
    ("compression, compression pressure, insulation resistance", "", DOWN),
    ("spring load, spring force, spring tension", "", DOWN),
    ("force, load, tension", "spring", DOWN),
    ("clearance", _RUNS_IN, UP),
    ("ring gap", "", UP),
    ("end gap, gap", "ring", UP),
    ("play, end play, end float, side play, side float, backlash, run out, runout, ovality", "", UP),
    ("out of round, out of roundness, warp, warpage, flatness, bow, taper, eccentricity, wobble, wear", "", UP),
    ("elongation, voltage drop, volt drop, leakage, leak down, leakdown, recession, misalignment", "", UP),
)
"""Terms, the words of one of which they must be said (any when empty), and the side of their limit."""

EITHER: tuple[tuple[str, str], ...] = (
    ("free length, free height, length", "extension tension return pull pullback"),
    ("depth", "ring keyway"),
    ("length, height", "fitted installed assembled compressed loaded load"),
    ("play", "pedal clutch lever handle rope cable throttle steering"),
    ("clearance, gap, end gap, ring gap", "new shim spacer fan"),
)
"""Terms, and words beside which their limit may be on either side: a return spring wears long, a pedal needs play."""
