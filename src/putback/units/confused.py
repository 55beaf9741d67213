"""Which unit was probably meant where one of another kind was written.

The trade writes a torque in pounds and a force in pound-feet. Such a slip has a likely reading, which is asked for and
never assumed: the number belongs to the unit that was printed.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import islice

from putback.units.kinds import Kind, System, Unit
from putback.units.listed import UNITS
from putback.units.table import usual

_LB_TORQUE, _KG_TORQUE = ("lbf·ft", "lbf·in"), ("kgf·m", "kgf·cm")
_MEANT: dict[tuple[str, Kind], tuple[str, ...]] = {
    **dict.fromkeys([("lb", Kind.TORQUE), ("lbf", Kind.TORQUE)], _LB_TORQUE),
    **dict.fromkeys([("kg", Kind.TORQUE), ("kgf", Kind.TORQUE)], _KG_TORQUE),
    **dict.fromkeys([("oz", Kind.TORQUE), ("ozf", Kind.TORQUE)], ("ozf·in",)),
    **dict.fromkeys([("lbf·ft", Kind.FORCE), ("lbf·in", Kind.FORCE), ("lb", Kind.FORCE)], ("lbf",)),
    **dict.fromkeys([("N·m", Kind.FORCE), ("N·cm", Kind.FORCE), ("N·mm", Kind.FORCE)], ("N",)),
    **dict.fromkeys([("kgf·m", Kind.FORCE), ("kgf·cm", Kind.FORCE), ("kg", Kind.FORCE)], ("kgf",)),
    **dict.fromkeys([("ozf·in", Kind.FORCE), ("oz", Kind.FORCE)], ("ozf",)),
    **dict.fromkeys([("lb", Kind.PRESSURE), ("lbf", Kind.PRESSURE), ("lbf·in", Kind.PRESSURE)], ("psi",)),
    **dict.fromkeys([("kg", Kind.PRESSURE), ("kgf", Kind.PRESSURE), ("kgf·cm", Kind.PRESSURE)], ("kgf/cm²",)),
    ("lbf/in", Kind.TORQUE): ("lbf·in",),
    ("lbf/in", Kind.PRESSURE): ("psi",),
    ("lbf/in", Kind.FORCE): ("lbf",),
    ("N/m", Kind.TORQUE): ("N·m",),
    ("kgf/cm", Kind.PRESSURE): ("kgf/cm²",),
    ("N", Kind.TORQUE): ("N·m",),
    ("kN", Kind.TORQUE): ("kN·m",),
    ("kN·m", Kind.FORCE): ("kN",),
    ("in", Kind.PRESSURE): ("inHg",),
    ("mm", Kind.PRESSURE): ("mmHg",),
    ("lbf", Kind.MASS): ("lb",),
    ("kgf", Kind.MASS): ("kg",),
    ("ozf", Kind.MASS): ("oz",),
    ("m", Kind.TIME): ("min",),
    ("km", Kind.SPEED): ("km/h",),
    ("Ah", Kind.CURRENT): ("A",),
    ("A", Kind.CHARGE): ("Ah",),
    ("W", Kind.VOLTAGE): ("V",),
    ("Hz", Kind.SPEED): ("rpm",),
    ("turn", Kind.SPEED): ("rpm",),
    ("l", Kind.FLOW): ("l/min",),
    ("l/min", Kind.VOLUME): ("l",),
    ("oz", Kind.VOLUME): ("US fl oz",),
    ("mm", Kind.VOLUME): ("ml",),
    ("ml", Kind.LENGTH): ("mm",),
    ("°", Kind.TEMPERATURE): ("°C", "°F"),
    ("°C", Kind.ANGLE): ("°",),
    ("°F", Kind.ANGLE): ("°",),
}
"""From the unit that was written and the kind that is wanted, to the units that it can have been short for."""


def meant(unit: Unit, kind: Kind) -> tuple[str, ...]:
    """Return the units of `kind` that a unit of another kind was probably written for; none when nobody can tell."""
    return _MEANT.get((unit.symbol, kind), ())


def asked(unit: Unit, kind: Kind, written: Callable[[str], str]) -> str | None:
    """Return a hint that asks for what was probably meant, as it would be `written`; None when nobody can tell."""
    units = [f"'{written(symbol)}'" for symbol in meant(unit, kind)]
    if len(units) > 1:
        # Twelvefold and hundredfold apart: which one it was stands where the number was found.
        return f"write the unit that was printed: {' or '.join(units)}"
    return f"did you mean {units[0]}?" if units else None


def usual_units(kind: Kind) -> tuple[str, ...]:
    """Return the units of a kind that are used most, one of each family: `mm` and `in`."""
    first = usual(kind)
    other = (unit.symbol for unit in UNITS if unit.kind is kind and {unit.system, first.system} == {*System})
    return first.symbol, *islice(other, 1)
