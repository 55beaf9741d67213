"""The load constant and the six multipliers of the revised NIOSH lifting equation, in both of its unit systems.

Source: Waters, Putz-Anderson, Garg, "Applications manual for the revised NIOSH lifting equation", DHHS (NIOSH) 94-110,
revised 9/2021, public domain; read in a reproduction that cites the pages. Section 1.3, p. 7, says to compute each
multiplier from its formula, and to interpolate between the rows of a table. Each multiplier is a number from 0 to 1.
0 means that nothing should be lifted in this way.

The formulas count, where the printed tables differ from them: three rows do, for a reach of 22 in and of 23 in and for
a distance of 130 cm.

The two unit systems are not exact conversions of each other. Measure in one, and stay in it.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from putback.lifting import LiftError
from putback.source.nearest import nearest
from putback.units import digits

_Word = TypeVar("_Word", bound=StrEnum)


class LiftUnits(StrEnum):
    """The units of a lift."""

    METRIC = "metric"
    """Lengths in cm, loads in kg."""
    US = "us"
    """Lengths in inches, loads in pounds."""


class Duration(StrEnum):
    """How long the lifting goes on, and the rest after it: 94-110, section 1.3.5.2, pp. 13-14."""

    SHORT = "short"
    """1 hour at most, and then light work for as long again."""
    MODERATE = "moderate"
    """More than 1 hour, 2 at most, and then light work for 0.3 of the time."""
    LONG = "long"
    """More than 2 hours, 8 at most, with the usual breaks."""


class Coupling(StrEnum):
    """How well the hands hold the load: 94-110, table 6, p. 17. In doubt, the worse one counts (p. 16)."""

    GOOD = "good"
    """A handle or a cut-out made for the hand, or a loose part that the hand wraps around."""
    FAIR = "fair"
    """Poor handles, or none and the fingers bent to 90° under the load."""
    POOR = "poor"
    """A bulky load, one with sharp edges or one that sags, or nothing to grip."""


@dataclass(frozen=True, slots=True)
class Constants:
    """What the equation has in one unit system: 94-110, section 1.3, pp. 7-11."""

    length: str
    """The unit of lengths."""
    mass: str
    """The unit of loads."""
    load: float
    """The load constant: the most that anyone should lift, under the best conditions."""
    near: float
    """The least reach and the least distance that count; what is less counts as this."""
    far: float
    """The greatest reach."""
    knuckle: float
    """The height of the knuckles of one who stands: the best height, and the border of tables 5 and 7."""
    high: float
    """The greatest height, and the greatest distance."""
    per_height: float
    """What the height multiplier loses for a unit of length away from the best height."""
    over_distance: float
    """What, divided by the distance, the distance multiplier adds to 0.82."""
    body: float
    """The reach to the near side of a load that is not low; for a low one, `near`."""


CONSTANTS = {
    LiftUnits.METRIC: Constants("cm", "kg", 23, 25, 63, 75, 175, 0.003, 4.5, 20),
    LiftUnits.US: Constants("in", "lb", 51, 10, 25, 30, 70, 0.0075, 1.8, 8),
}

LEAST_FREQUENCY = 0.2
"""Lifts a minute; what is rarer counts as this: 94-110, section 1.3.5.3, p. 14."""
MOST_FREQUENT = 15.0
"""Lifts a minute, at most, in any column of table 5."""
_WIDEST = 135.0
"""Degrees; 94-110, section 1.3.4.2, p. 12."""
_BEHIND = 180.0

_FREQUENCIES = (LEAST_FREQUENCY, 0.5, *(float(lifts) for lifts in range(1, 16)))
_TABLE_5 = {
    Duration.SHORT: (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31,
                     0.28),
    Duration.MODERATE: (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21),
    Duration.LONG: (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13),
}  # fmt: skip
"""94-110, table 5, p. 15, for the frequencies from the least one on. Both columns of a duration hold the same numbers;
this is the longer one, for a load that is lifted from the knuckles or higher."""
_LAST_BELOW = {Duration.SHORT: 12.0, Duration.MODERATE: 10.0, Duration.LONG: 8.0}
"""Lifts a minute, at most, from below the knuckles: where the shorter column of table 5 ends."""

_TABLE_7 = {Coupling.GOOD: (1.00, 1.00), Coupling.FAIR: (0.95, 1.00), Coupling.POOR: (0.90, 0.90)}
"""94-110, table 7, p. 18: below the knuckles, and from there."""


def read_word(kind: type[_Word], word: str) -> _Word:
    """Return the coupling, the duration or the unit system that a word names.

    Raises LiftError for any other word.
    """
    try:
        return kind(word)
    except ValueError:
        near = nearest(str(word), kind)
        what = "unit system" if issubclass(kind, LiftUnits) else kind.__name__.lower()
        hint = f"did you mean {near}?" if near else f"known are: {', '.join(kind)}"
        raise LiftError(f"unknown {what}: {word}", hint) from None


def measured(what: str, value: float, unit: str, most: float = math.inf) -> float:
    """Return a number that was measured: 0 or more. Raises LiftError for anything else."""
    if math.isfinite(value) and 0 <= value <= most:
        return value
    wanted = "0 or more" if most == math.inf else f"from 0 to {_with(most, unit)}"
    raise LiftError(f"{what} is {_with(value, unit)}, expected {wanted}", f"measure {what} again")


def _with(value: float, unit: str) -> str:
    return f"{digits(value)}{'' if unit == '°' else ' '}{unit}"


# The multipliers


def horizontal_multiplier(reach: float, system: LiftUnits = LiftUnits.METRIC) -> float:
    """Return HM for a reach H: from the middle between the ankles to the middle between the hands, cm or in.

    25/H in cm and 10/H in inches; a reach below 25 cm (10 in) counts as that, and beyond 63 cm (25 in) nothing should
    be lifted. 94-110, section 1.3.1, pp. 7-9. Raises LiftError for a reach that is none.
    """
    of = CONSTANTS[system]
    measured("the reach", reach, of.length)
    return 0.0 if reach > of.far else of.near / max(reach, of.near)


def vertical_multiplier(height: float, system: LiftUnits = LiftUnits.METRIC) -> float:
    """Return VM for a height V of the hands above the floor, cm or in.

    1 − 0.003·|V − 75| in cm and 1 − 0.0075·|V − 30| in inches; above 175 cm (70 in) nothing should be lifted. 94-110,
    section 1.3.2, pp. 9-10. Raises LiftError for a height below the floor.
    """
    of = CONSTANTS[system]
    measured("the height", height, of.length)
    return 0.0 if height > of.high else 1 - of.per_height * abs(height - of.knuckle)


def distance_multiplier(distance: float, system: LiftUnits = LiftUnits.METRIC) -> float:
    """Return DM for a distance D between the heights at origin and destination, up or down, cm or in.

    0.82 + 4.5/D in cm and 0.82 + 1.8/D in inches; a distance below 25 cm (10 in) counts as that, and over 175 cm
    (70 in) nothing should be lifted. 94-110, section 1.3.3, pp. 10-11. Raises LiftError for a distance that is none.
    """
    of = CONSTANTS[system]
    measured("the distance", distance, of.length)
    return 0.0 if distance > of.high else 0.82 + of.over_distance / max(distance, of.near)


def asymmetry_multiplier(angle: float) -> float:
    """Return AM for an angle A by which the load is off to one side, degrees.

    1 − 0.0032·A; beyond 135° nothing should be lifted. 94-110, section 1.3.4, pp. 12-13. Raises LiftError for an angle
    that is negative or beyond 180°, straight behind.
    """
    measured("the angle", angle, "°", _BEHIND)
    return 0.0 if angle > _WIDEST else 1 - 0.0032 * angle


def frequency_multiplier(
    frequency: float, duration: Duration, height: float, system: LiftUnits = LiftUnits.METRIC
) -> float:
    """Return FM for lifts a minute, their duration and the height V of the hands at the origin, cm or in.

    Table 5, p. 15. Between two rows it is interpolated in a straight line, as section 1.3, p. 7 asks and example 7,
    pp. 56-57 does. Fewer than 0.2 lifts a minute, one in 5 minutes, count as 0.2 (p. 14). Past the last row of a column
    that has a number nothing should be lifted. The manual leaves open whether one interpolates between that row and the
    0 after it; this takes the lower number, 0. Raises LiftError for a frequency or a height that is none.
    """
    measured("the frequency", frequency, "lifts/min")
    column = _TABLE_5[duration]
    last = _FREQUENCIES[len(column) - 1]
    if measured("the height", height, CONSTANTS[system].length) < CONSTANTS[system].knuckle:
        last = _LAST_BELOW[duration]
    # A sum of frequencies may pass the end by the last digit of a float.
    if frequency > last * (1 + 1e-9):
        return 0.0
    frequency = min(max(frequency, LEAST_FREQUENCY), last)
    k = max(bisect_left(_FREQUENCIES, frequency), 1)
    share = (frequency - _FREQUENCIES[k - 1]) / (_FREQUENCIES[k] - _FREQUENCIES[k - 1])
    return column[k - 1] + share * (column[k] - column[k - 1])


def coupling_multiplier(coupling: Coupling, height: float, system: LiftUnits = LiftUnits.METRIC) -> float:
    """Return CM for how the hands hold the load, and their height V at the end of the lift that is looked at, cm or in.

    Table 7, p. 18. That each end counts with its own height is read from example 4, p. 46. Raises LiftError for a
    height below the floor.
    """
    of = CONSTANTS[system]
    below, above = _TABLE_7[coupling]
    return below if measured("the height", height, of.length) < of.knuckle else above


# What goes into them


@dataclass(frozen=True, slots=True)
class Session:
    """A time of lifting, and the light work or rest after it."""

    work: float
    """Minutes of lifting."""
    recovery: float = 0.0
    """Minutes of light work or rest before the next session."""


def duration_of(sessions: Iterable[Session], frequency: float | None = None) -> Duration:
    """Return the duration of a day's sessions of lifting, in their order.

    94-110, section 1.3.5.2, pp. 13-14: up to 1 hour is short if the recovery after it is as long as the work, and up
    to 2 hours moderate if it is 0.3 of the work. If it is less and another session follows, it does not count, and the
    work of both is added. The worst stretch of the day gives its name to all.

    With a frequency below 0.1 lifts a minute, rest is enough between the lifts, and the duration is short (p. 15: this
    will "usually" do). Raises LiftError for times that are none, no work at all, and more than 8 hours of it: there the
    equation has no limit.
    """
    day = list(sessions)
    for session in day:
        measured("the work time", session.work, "min")
        measured("the recovery time", session.recovery, "min")
    total = sum(session.work for session in day)
    if not 0 < total <= 8 * 60:
        raise LiftError(
            f"the work time is {digits(total)} min in all, expected more than 0 and 480 at most", "split the work"
        )
    if frequency is not None and measured("the frequency", frequency, "lifts/min") < 0.1:
        return Duration.SHORT
    longest = stretch = 0.0
    for session in day:
        stretch += session.work
        longest = max(longest, stretch)
        needed = 1.0 if stretch <= 60 else 0.3
        if stretch <= 120 and session.recovery >= needed * stretch:
            stretch = 0.0
    return Duration.SHORT if longest <= 60 else Duration.MODERATE if longest <= 120 else Duration.LONG


def mean_frequency(frequency: float, minutes: float) -> float:
    """Return the lifts a minute that count, if one lifts at a frequency for some minutes of every 15.

    94-110, section 1.3.5.5, p. 16: the lifts of 15 minutes, divided by 15. Lifting for 15 minutes or more on end counts
    as it is. Raises LiftError for a frequency above 15, where the rule ends, and for numbers that are none.
    """
    measured("the frequency", frequency, "lifts/min", MOST_FREQUENT)
    return frequency * (min(measured("the work time", minutes, "min"), 15) / 15)


def reach_over(width: float, height: float, system: LiftUnits = LiftUnits.METRIC) -> float:
    """Return about what the reach H is over a load, where it cannot be measured: 94-110, section 1.3.1.1, p. 8.

    20 cm + W/2 for a height V of 25 cm or more, and 25 cm + W/2 below; 8 in and 10 in with a border of 10 in. The width
    W is that of the load away from the body, cm or in. Raises LiftError for numbers that are none.
    """
    of = CONSTANTS[system]
    low = measured("the height", height, of.length) < of.near
    return (of.near if low else of.body) + measured("the width", width, of.length) / 2
