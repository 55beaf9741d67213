"""What was probably meant by a torque that does not fit: a safe range, and other readings of the number."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from putback.joints.joint import Joint
from putback.joints.usual import fits, safe
from putback.units import Kind, Quantity, digits, parse, si

_UNITS = ("N·m", "lbf·in", "lbf·ft", "kgf·m", "kgf·cm", "N·cm", "ozf·in")
"""Units that are mistaken for each other."""
_FIGURES = (2, 3)
"""Figures of a safe torque; the more where both ends would come out alike."""


CONFIRM = "if it is right, add 'torque-confirmed: by what'"
"""What to do about a torque that is right."""


def advised(torque: Quantity, joint: Joint, other: str | None = None, *, sure: bool = False) -> str:
    """Return a hint for a torque that does not fit; `other` is the thread that the spanner speaks for.

    With `sure`, it breaks the bolt in any case, and nobody can confirm it.
    """
    if other is not None:
        return f"the spanner is that of {other}: look at the thread first"
    rest = meant(torque, joint) or ("" if sure else CONFIRM)
    return f"{likely(joint, torque.unit)}{'; ' if rest else ''}{rest}"


def likely(joint: Joint, unit: str) -> str:
    """Return the safe torques of a joint in words, in a unit: `likely is 15 to 18 N·m`."""
    least, most = (Decimal(repr(value)) / _size(unit) for value in safe(joint))
    for figures in _FIGURES:
        low, high = _rounded(least, ROUND_CEILING, figures), _rounded(most, ROUND_FLOOR, figures)
        if low < high:
            break
    return f"likely is {digits(float(low), 6)} to {digits(float(high), 6)} {unit}"


def _rounded(value: Decimal, rounding: str, figures: int) -> Decimal:
    """Return a torque rounded to the safe side."""
    step = Decimal(1).scaleb(value.adjusted() - figures + 1)
    return (value / step).to_integral_value(rounding) * step


def _size(unit: str) -> Decimal:
    return Decimal(repr(si(parse(f"1 {unit}", Kind.TORQUE))[0]))


def meant(torque: Quantity, joint: Joint) -> str | None:
    """Return a question that names other readings of a torque which would be usual and safe; None when there are none.

    A slip of the decimal point comes first, then the unit that comes nearest to what is safe.
    """
    value = torque.nominal or torque.high
    if not value:
        return None
    points = [_read(each, torque.unit, joint) for each in (value / 10, value * 10)]
    units = [_read(value, unit, joint) for unit in _UNITS if unit != torque.unit]
    found = [each for each in points if each] + sorted((each for each in units if each), key=lambda each: each[0])
    if not found:
        return None
    _, first, supposed = found[0]
    second = next((f", or {text}" for _, text, words in found[1:] if words == supposed), "")
    return f"was {first}{second} meant{f', for {supposed}' if supposed else ''}?"


def _read(value: Decimal, unit: str, joint: Joint) -> tuple[float, str, str] | None:
    """Return how far a reading is from the middle of what is safe, the reading, and what it supposes."""
    size = float(value * _size(unit))
    supposed = fits(size, joint)
    if supposed is None:
        return None
    least, most = safe(joint)
    middle = (least * most) ** 0.5
    return max(size / middle, middle / size), f"{_plain(value)} {unit}", supposed


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
