"""When a job is due: after running hours, months, years, kilometres, or as words say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.said import Said
from putback.source.finding import Finding, Level
from putback.source.late import Late
from putback.source.span import Span
from putback.source.tree import Mapping, Node, Text

_RANGE = Late(r"\s*([0-9.]+)\s*\.\.\s*([0-9.]+)\s*")
MONTHS_IN_YEAR = 12
CALENDAR = ("months", "years")
"""What is counted by the calendar; the others by a meter on the machine."""


class Lapse(NamedTuple):
    """How much goes by until a job is due: a number, or from one to another."""

    least: float
    """The number, or the least of a range."""
    most: float
    """The same, or the most of a range."""
    span: Span
    """Where it stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """When a job is due; whichever comes first."""

    hours: Lapse | None = None
    """Running hours."""
    months: Lapse | None = None
    """Months."""
    years: Lapse | None = None
    """Years."""
    km: Lapse | None = None
    """Kilometres."""
    first: Interval | None = None
    """When it is due for the first time, where that is sooner; alone, it is due once."""
    also: Said | None = None
    """When it is due besides: `before storage`. Alone, it is due then, and at no set time."""
    span: Span
    """The place of the key."""

    def lapses(self) -> Iterator[tuple[str, Lapse]]:
        """Yield what it is counted in, with how much of it: hours first."""
        for unit, lapse in (("hours", self.hours), ("months", self.months), ("years", self.years), ("km", self.km)):
            if lapse is not None:
                yield unit, lapse

    @property
    def calendar(self) -> Lapse | None:
        """The sooner of its months and years, in months."""
        years = self.years and Lapse(
            self.years.least * MONTHS_IN_YEAR, self.years.most * MONTHS_IN_YEAR, self.years.span
        )
        both = [lapse for lapse in (self.months, years) if lapse]
        return min(both) if both else None


def read_interval(reader: Reader, root: Mapping) -> Interval | None:
    """Return when the job in a file is due; None when that is not said."""
    pair = root.entries.get("interval")
    if pair is None:
        return None
    if isinstance(pair.value, Text):
        return Interval(also=reader.text(pair.value), span=pair.key.span)
    if not isinstance(pair.value, Mapping):
        return None
    also = pair.value.entries.get("also")
    if also is not None and len(pair.value.entries) == 1:
        message = "'also' is alone: there is no other interval that it adds to"
        hint = "write the words after 'interval' itself"
        reader.faults.append(Finding("wrong-shape", Level.ERROR, also.key.span, message, hint=hint))
    return _interval(reader, pair.value, pair.key.span)


def _interval(reader: Reader, node: Mapping, span: Span) -> Interval:
    first = node.entries.get("first")
    inner = first.value if first else None
    return Interval(
        hours=_lapse(node.get("hours")),
        months=_lapse(node.get("months")),
        years=_lapse(node.get("years")),
        km=_lapse(node.get("km")),
        first=_interval(reader, inner, first.key.span) if first and isinstance(inner, Mapping) else None,
        also=reader.text(node.get("also")),
        span=span,
    )


def _lapse(node: Node | None) -> Lapse | None:
    if not isinstance(node, Text):
        return None
    value = node.plain()
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Lapse(value, value, node.span)
    found = _RANGE.ready.fullmatch(node.value)
    return Lapse(float(found[1]), float(found[2]), node.span) if found else None
