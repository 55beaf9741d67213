"""What falls due together: the jobs by running hours, kilometres and months."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from putback.model.interval import Interval, Lapse
from putback.model.job import Job


class Fall(StrEnum):
    """How a job falls due."""

    FIRST = "first"
    """For the first time, sooner than its interval says."""
    OWN = "own"
    """At its own interval."""
    ALSO = "also"
    """Once more, since its own interval is shorter."""


class Meter(StrEnum):
    """What is counted."""

    HOURS = "hours"
    KM = "km"
    MONTHS = "months"


@dataclass(frozen=True, slots=True)
class Calendar:
    """One grid: jobs, and when they fall due."""

    meter: Meter
    """What is counted."""
    columns: tuple[Lapse, ...]
    """After how much of it; ascending."""
    rows: tuple[tuple[Job, tuple[Fall | None, ...]], ...]
    """Each job that is counted so, with how it falls due in each column."""


def calendars(jobs: Sequence[Job]) -> list[Calendar]:
    """Return the grids of jobs that are due at set times, the soonest first; of a range, the sooner end."""
    return [made for meter in Meter if (made := _calendar(meter, jobs)) is not None]


def _calendar(meter: Meter, jobs: Sequence[Job]) -> Calendar | None:
    all_due = [(job, *_of(meter, job.interval)) for job in jobs if job.interval]
    due = [(job, own, first) for job, own, first in all_due if own or first]
    marks = {_exact(lapse): lapse for _, own, first in due for lapse in (first, own) if lapse}
    if not due:
        return None
    columns = tuple(Lapse(marks[at].least, marks[at].least, marks[at].span) for at in sorted(marks))
    due.sort(key=lambda row: min(_exact(lapse) for lapse in row[1:] if lapse))
    return Calendar(meter, columns, tuple((job, tuple(_falls(own, first, columns))) for job, own, first in due))


def _of(meter: Meter, interval: Interval) -> tuple[Lapse | None, Lapse | None]:
    """Return how much goes by until a job is due again, and until it is due for the first time where that is sooner."""

    def of(each: Interval | None) -> Lapse | None:
        if each is None:
            return None
        return {Meter.HOURS: each.hours, Meter.KM: each.km, Meter.MONTHS: each.calendar}[meter]

    return of(interval), of(interval.first)


def _falls(own: Lapse | None, first: Lapse | None, columns: Sequence[Lapse]) -> Iterator[Fall | None]:
    for column in columns:
        if own and _exact(own) == _exact(column):
            yield Fall.OWN
        elif first and _exact(first) == _exact(column):
            yield Fall.FIRST
        elif own and _exact(own) and _exact(column) % _exact(own) == 0:
            yield Fall.ALSO
        else:
            yield None


def _exact(lapse: Lapse) -> Fraction:
    return Fraction(str(lapse.least))
