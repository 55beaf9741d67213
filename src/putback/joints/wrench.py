"""What is set on a torque wrench, and which wrenches a job takes.

With a crowfoot or another extension between the square drive and the bolt, the wrench shows less, or more, than the
bolt gets:

    setting = torque · L / (L + A·cos a)

with the lever L from the middle of the grip to the square drive, mm, the extension A from the square drive to the
bolt's axis, mm, and the angle a between the two: 0° in line and lengthening, 90° without effect, 180° shortening. Read
in US Army TM 1-1500-204-23-9, fig. 8-16 (in line) and TM 9-254, fig. 4-6 (at an angle).

A click wrench is least exact at the low end of its scale. ISO 6789:2003 checked it from 20 % of its maximum upwards
(read), and the trade keeps off the lowest fifth. In ISO 6789-1:2017 the range starts at the lowest marked value (read):
the lowest fifth is usable, and a better wrench is preferred.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from itertools import combinations

from putback.joints import JointError
from putback.units import Form, Kind, Quantity, digits, parse, si

LOWEST_FIFTH = 0.2
"""Share of the maximum below which a click wrench is not trusted: ISO 6789:2003, and common practice."""
_NEAR = 1e-9
"""Share by which a torque may pass the end of a range: the last digits of a conversion."""
_COARSE = Decimal("0.02")
"""Share by which rounding to a mark may shift a setting."""
_MOST = 1_000_000_000
"""Of any unit; beyond it, a slip of the keyboard."""
_TRIALS = 20_000
"""Choices of wrenches that are compared; beyond them, any fewest will do."""


class WrenchError(JointError):
    """A wrench and an extension that cannot turn. Its message is fit for the author."""


# The setting


def dial_setting(torque: float, lever: float, extension: float, angle: float = 0) -> float:
    """Return what to set for a torque, in its unit; lever and extension in mm, the angle in degrees.

    Raises WrenchError when no lever is left, and for lengths that are none.
    """
    if not (lever > 0 and extension >= 0 and math.isfinite(lever) and math.isfinite(extension + angle)):
        raise WrenchError(
            f"a lever of {digits(lever)} mm with an extension of {digits(extension)} mm cannot turn a bolt",
            "measure the lever from the middle of the grip to the square drive",
        )
    # Exactly nothing at 90°, where the cosine of a float is not.
    effective = lever + extension * round(math.cos(math.radians(angle)), 12)
    if effective <= 0:
        raise WrenchError(
            f"an extension of {digits(extension)} mm at {digits(angle)}° uses up the whole lever of {digits(lever)} mm",
            "turn the extension to 90°, or use a longer wrench",
        )
    return torque * lever / effective


def dial(
    quantity: Quantity, lever: float, extension: float, angle: float = 0, step: Quantity | None = None
) -> Quantity:
    """Return what to set for a torque, stated in the same way: a value, a range, a tolerance or a limit.

    `step` is the step of the wrench's scale. The result is a whole number of its steps, in its unit, if that shifts the
    value by 2 % at most: half of what ISO 6789 allows a click wrench. Otherwise, and without it, it is a number that
    shifts the value by 1 % at most. Ranges and limits are rounded inwards; a range may become one mark within it.
    Raises WrenchError.
    """
    ratio = dial_setting(1.0, lever, extension, angle)
    torque = quantity if step is None else quantity.to(step.unit)
    most = max(value for value in (torque.low, torque.high) if value is not None)
    if most > _MOST:
        raise WrenchError(f"no wrench shows {quantity.text}", "write the torque in N·m or lbf·ft")
    if not most or (ratio == 1 and torque is quantity):
        return quantity
    mark = step.high if step is not None and step.high else None
    size = Decimal(repr(ratio))
    return parse((mark and _stated(torque, size, mark)) or _stated(torque, size, None) or "", Kind.TORQUE)


def added(torque: Quantity, running: Quantity) -> Quantity:
    """Return a torque with the running torque of a self-locking nut, stated in the same way, to the digits of a scale.

    The wrench shows both together: FAA AC 43.13-1B, 7-40 (read). Of a running torque that is a range, the middle
    counts.
    """
    low, high = si(running)
    ends = [end for end in (low, high) if end is not None]
    one = si(parse(f"1 {torque.unit}", Kind.TORQUE))[0]
    if not ends or not one:
        return torque
    stated = _stated(torque, Decimal(1), None, Decimal(repr(sum(ends) / len(ends) / one)))
    return parse(stated, Kind.TORQUE) if stated else torque


def _stated(torque: Quantity, size: Decimal, mark: Decimal | None, more: Decimal = Decimal(0)) -> str | None:
    """Return a torque times `size`, and `more`, as text, in whole marks; None where they are too coarse."""
    unit, form, margin = torque.unit, torque.form, torque.margin
    low, high, middle = (None if v is None else v * size + more for v in (torque.low, torque.high, torque.nominal))

    def at_mark(value: Decimal, rounding: str = ROUND_HALF_EVEN) -> Decimal:
        one = mark or _resolution(value)
        return (value / one).to_integral_value(rounding) * one

    if middle is not None and form is not Form.DEVIATIONS:
        aim = at_mark(middle)
        if mark and abs(aim - middle) > _COARSE * middle:
            return None
        if form is Form.PERCENT:
            return f"{_plain(aim)} {unit} ± {margin:f} %"
        if form is Form.MARGIN and margin is not None:
            return f"{_plain(aim)} ± {_plain(margin * size, 2)} {unit}"
        return f"{_plain(aim)} {unit}"
    if low is not None and high is not None:
        least, most = at_mark(low, ROUND_CEILING), at_mark(high, ROUND_FLOOR)
        if least > most or not most:
            return None if mark else f"{_plain(low)}–{_plain(high)} {unit}"
        return f"{_plain(least)}–{_plain(most)} {unit}" if least < most else f"{_plain(least)} {unit}"
    end = high if low is None else low
    assert end is not None
    aim = at_mark(end, ROUND_FLOOR if low is None else ROUND_CEILING)
    if mark and abs(aim - end) > _COARSE * end:
        return None
    return f"{form.value} {_plain(aim)} {unit}"


def _resolution(value: Decimal) -> Decimal:
    """Return the coarsest of …, 0.1, 0.5, 1, 5, 10, … that shifts a value by 1 % at most."""
    if not value:
        return Decimal(1)
    steps = (Decimal(digit).scaleb(value.adjusted() - less) for less in (1, 2) for digit in (5, 1))
    return next(one for one in steps if one / 2 <= value / 100)


def _plain(value: Decimal, digits: int = 6) -> str:
    """Return a number cut to so many digits, without zeros at the end."""
    place = Decimal(1).scaleb(min(value.adjusted() - digits + 1, 0))
    return f"{value.quantize(place, rounding=ROUND_FLOOR).normalize():f}"


# The choice


class Use(StrEnum):
    """How well a wrench suits a torque."""

    COVERED = "covered"
    """Within its range."""
    LOWEST_FIFTH = "in the lowest fifth"
    """Within its range, below 20 % of its maximum."""
    OUT = "out of range"


@dataclass(frozen=True, slots=True)
class Wrench:
    """A torque wrench."""

    key: str
    """Its name in the library."""
    low: float
    """The least torque on its scale, N·m."""
    high: float
    """The greatest, N·m."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The wrenches that a job takes."""

    wrenches: tuple[Wrench, ...]
    """The fewest that cover what can be covered, in the order given."""
    uncovered: tuple[Quantity, ...]
    """The torques that none covers."""


def wrench_of(key: str, scale: Quantity) -> Wrench:
    """Return the wrench with a range of torques."""
    low, high = si(scale)
    return Wrench(key, low or 0.0, high if high is not None else math.inf)


def usable(wrench: Wrench, torque: Quantity) -> Use:
    """Return how well a wrench suits a torque.

    It must reach what is aimed at: the middle of a range or of a tolerance. Of a torque without an upper or a lower
    end, the end that is stated counts.
    """
    low, high = _span(torque)
    if low < wrench.low * (1 - _NEAR) or high > wrench.high * (1 + _NEAR):
        return Use.OUT
    return Use.LOWEST_FIFTH if low < LOWEST_FIFTH * wrench.high * (1 - _NEAR) else Use.COVERED


def _span(torque: Quantity) -> tuple[float, float]:
    """Return the least and the greatest torque that a wrench must show, N·m."""
    low, high = si(torque)
    if low is not None and high is not None:
        low = high = (low + high) / 2
    least = high if low is None else low
    most = low if high is None else high
    assert least is not None
    assert most is not None
    return least, most


def fewest(wrenches: Sequence[Wrench], torques: Sequence[Quantity]) -> Choice:
    """Return the fewest wrenches that cover all torques that any covers.

    Of equally few, those with the fewest torques in a lowest fifth, then the smaller ones, then those named first.
    """
    uses = [[usable(wrench, torque) for torque in torques] for wrench in wrenches]
    coverable = [k for k in range(len(torques)) if any(row[k] is not Use.OUT for row in uses)]
    needed = sum(1 << k for k in coverable)
    covers = [sum(1 << k for k in coverable if row[k] is not Use.OUT) for row in uses]
    well = [sum(1 << k for k in coverable if row[k] is Use.COVERED) for row in uses]
    quick = _quickly(wrenches, torques, coverable, covers)
    useful = [i for i, mask in enumerate(covers) if mask]

    def cost(chosen: tuple[int, ...]) -> tuple[int, float, tuple[int, ...]]:
        good = 0
        for i in chosen:
            good |= well[i]
        return (needed & ~good).bit_count(), sum(wrenches[i].high for i in chosen), chosen

    best = quick
    if math.comb(len(useful), len(quick)) <= _TRIALS:
        best = min((c for c in combinations(useful, len(quick)) if _all(covers, c) == needed), key=cost)
    uncovered = tuple(torque for k, torque in enumerate(torques) if k not in coverable)
    return Choice(tuple(wrenches[i] for i in best), uncovered)


def _all(covers: Sequence[int], chosen: Sequence[int]) -> int:
    together = 0
    for i in chosen:
        together |= covers[i]
    return together


def _quickly(
    wrenches: Sequence[Wrench], torques: Sequence[Quantity], coverable: Sequence[int], covers: Sequence[int]
) -> tuple[int, ...]:
    """Return one fewest set.

    Some wrench must cover the torque with the lowest end. Of those that do, the one that reaches highest covers all
    that any other of them would, as no torque left begins lower: so none is taken in vain.
    """
    chosen: list[int] = []
    left = sorted(coverable, key=lambda k: _span(torques[k]))
    while left:
        fitting = [i for i, mask in enumerate(covers) if mask >> left[0] & 1]
        best = max(fitting, key=lambda i: (wrenches[i].high, -i))
        chosen.append(best)
        left = [k for k in left if not covers[best] >> k & 1]
    return tuple(sorted(chosen))
