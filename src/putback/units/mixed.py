"""Two statements of one quantity that are of two kinds, though their numbers agree: 5 lb (22 N·m) for 22 N."""

from __future__ import annotations

from dataclasses import replace

from putback.units.agreeing import agree
from putback.units.kinds import Kind
from putback.units.quantity import Quantity, QuantityError, named
from putback.units.reading import parse_any
from putback.units.symbols import core

_MEANT = {
    "N·m": ("N",),
    "lbf·ft": ("lbf",),
    "lbf·in": ("lbf",),
    "kgf·m": ("kgf",),
    "kgf·cm": ("kgf",),
    "N": ("N·m",),
    "lbf": ("lbf·ft", "lbf·in"),
    "kgf": ("kgf·m", "kgf·cm"),
    "lb": ("lbf·ft", "lbf·in", "lbf"),
    "kg": ("kgf·m", "kgf·cm", "kgf"),
}
"""What each unit of force, weight and torque is written for."""


def mixed_up(first: str, second: str) -> tuple[str, str] | None:
    """Return what is wrong with two statements of two kinds, and what was meant; None where it can be two things.

    The numbers must agree once one unit is another one: that is no chance.
    """
    try:
        one, other = parse_any(first), parse_any(second)
    except QuantityError:
        return None
    if one.kind is other.kind or one.also or other.also:
        return None
    message = f"the two stated units disagree: {_plain(one)} is {one.kind.one}, and {_plain(other)} {other.kind.one}"
    as_force = [one, *(_as(one, f"{one.unit}f") if one.kind is Kind.MASS else [])]
    for changed in (meant for unit in _MEANT.get(other.unit, ()) for meant in _as(other, unit)):
        if any(said.kind is changed.kind and agree(said, changed) for said in as_force):
            return message, f"did you mean '{_plain(changed)}'?"
    for changed in (meant for unit in _MEANT.get(one.unit, ()) for meant in _as(one, unit)):
        if changed.kind is other.kind and agree(changed, other):
            return message, f"did you mean '{_plain(changed)}'?"
    return None


def _as(quantity: Quantity, unit: str) -> list[Quantity]:
    """Return a quantity with another unit after its number; nothing where there is no such unit."""
    try:
        return [replace(quantity, unit=unit, kind=named(unit).kind)]
    except QuantityError:
        return []


def _plain(quantity: Quantity) -> str:
    return core(quantity).replace("\u00a0", " ")
