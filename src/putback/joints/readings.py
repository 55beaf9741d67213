"""What was probably meant by a torque that does not fit: a safe range, and other readings of the number."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from putback.joints.joint import Joint
from putback.joints.usual import fits, safe
from putback.units import Kind, Quantity, digits, parse, si

_UNITS = ("N·m", "lbf·in", "lbf·ft", "kgf·m", "kgf·cm", "N·cm", "ozf·in")
"""Units that are mistaken for each other."""
_COMMON = ("N·m", "lbf·in", "lbf·ft", "kgf·m")
"""Those that most manuals have."""
_READINGS = 3
"""How many are offered."""
_FIGURES = (2, 3)
"""Figures of a safe torque; the more where both ends would come out alike."""


CONFIRM = "if it is right, add 'torque-confirmed: by what'"
"""What to do about a torque that is right."""


def advised(torque: Quantity, joint: Joint, other: str | None = None, *, sure: bool = False) -> str:
    """Return a hint for a torque that does not fit; `other` is the thread that the spanner speaks for.

    With `sure`, it breaks the bolt in any case, and nobody can confirm it.
    """
    if other is not None:
        return f"the spanner size is that of {other}: check the thread first"
    rest = meant(torque, joint) or ("" if sure else CONFIRM)
    return f"{likely(joint, torque.unit)}{'; ' if rest else ''}{rest}"


def likely(joint: Joint, unit: str) -> str:
    """Return the safe torques of a joint in words, in a unit: `15 to 18 N·m is likely`."""
    least, most = (Decimal(repr(value)) / _size(unit) for value in safe(joint))
    for figures in _FIGURES:
        low, high = _rounded(least, ROUND_CEILING, figures), _rounded(most, ROUND_FLOOR, figures)
        if low < high:
            break
    return f"{digits(float(low), 6)} to {digits(float(high), 6)} {unit} is likely"


def _rounded(value: Decimal, rounding: str, figures: int) -> Decimal:
    """Return a torque rounded to the safe side."""
    step = Decimal(1).scaleb(value.adjusted() - figures + 1)
    return (value / step).to_integral_value(rounding) * step


def _size(unit: str) -> Decimal:
    return Decimal(repr(si(parse(f"1 {unit}", Kind.TORQUE))[0]))


def meant(torque: Quantity, joint: Joint) -> str | None:
    """Return a question that names other readings of a torque which would be usual and safe; None when there are none.

    A slip of the decimal point comes first, then inches for feet, then the common units, the nearest first.
    """
    found = [(read, supposed) for read in _readings(torque) if (supposed := fits(read.size, joint)) is not None]
    if not found:
        return None
    least, most = safe(joint)
    middle = (least * most) ** 0.5
    found.sort(key=lambda each: (each[0].rank, max(each[0].size / middle, middle / each[0].size)))
    supposed = found[0][1]
    texts = [read.text for read, words in found if words == supposed]
    return f"was {_or(texts[:_READINGS])} meant{f', for {supposed}' if supposed else ''}?"


def meant_within(torque: Quantity, low: float, high: float) -> str | None:
    """Return the same for a torque of which no more is known than that it is between two usual ones, N·m."""
    texts = [read.text for read in sorted(_readings(torque)) if low <= read.size <= high]
    return f"was {_or(texts[:_READINGS])} meant?" if texts else None


class _Meant(NamedTuple):
    """What may have been meant."""

    rank: int
    """The likelier slip first."""
    size: float
    """N·m."""
    text: str
    """As the author would write it."""


def _readings(torque: Quantity) -> Iterator[_Meant]:
    """Yield what else a number may mean: the decimal point moved, another unit."""
    value = torque.nominal or torque.high
    if not value:
        return
    for each in (value / 10, value * 10):
        yield _Meant(0, float(each * _size(torque.unit)), f"{_plain(each)} {torque.unit}")
    for unit in _UNITS:
        if unit != torque.unit:
            near = {unit, torque.unit} == {"lbf·in", "lbf·ft"}
            yield _Meant(
                1 if near else 2 if unit in _COMMON else 3, float(value * _size(unit)), f"{_plain(value)} {unit}"
            )


def _or(texts: list[str]) -> str:
    *most, last = texts
    return f"{', '.join(most)}, or {last}" if most else last


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"


def described(thread: str | None, grade: str | None, condition: str | None = None) -> str:
    """Return a thread with its class and condition: `M8 x 1.25, class 8.8, oiled`; `M6` when nothing else is known."""
    marked = f"class {grade}" if grade and grade[0].isdigit() else grade
    return ", ".join(filter(None, [thread, marked, condition]))


def on(what: str) -> str:
    """Return what is described, as more of the sentence follows it: `on M6 is …`, `on M6, class 8.8, is …`."""
    return f"on {what}," if "," in what else f"on {what}"
