"""English: `English` makes the sentences of one guide, `LABELS` are all other words; `american` has America's."""

from __future__ import annotations

from putback.joints.drives import read_drive
from putback.model.job import Interval
from putback.source.grammar import counted_word, unbroken
from putback.words.english.labels import LABELS
from putback.words.english.remarks import Remarks
from putback.words.english.saying import Saying
from putback.words.english.standing import Standing

__all__ = ["LABELS", "English"]

_LEAST_HEAD = 7
"""mm across flats: of a bare `hex` below it nobody knows whether it is a head or a socket."""
_SCREWDRIVER = (
    "slot",
    "slotted",
    "cross",
    "cross-head",
    "phillips",
    "pozidriv",
    "ph1",
    "ph2",
    "ph3",
    "pz1",
    "pz2",
    "pz3",
)
"""Words for drives that a screwdriver turns."""


class English(Saying, Remarks, Standing):
    """Makes the sentences of one guide."""

    labels = LABELS

    def due(self, interval: Interval | None) -> str:
        """Return an interval as words: `every 300 running hours or 24 months, whichever comes first`."""
        if interval is None:
            return self.labels.job.when_needed
        counts = ((interval.hours, "running hour"), (interval.months, "month"), (interval.years, "year"))
        parts = [counted_word(value, word) for value, word in counts if value]
        if interval.km:
            parts.append(f"{interval.km} km")
        first = ", whichever comes first" if len(parts) > 1 else ""
        return f"every {' or '.join(parts)}{first}" if parts else self.labels.job.when_needed

    def tool_for(self, drive: str) -> str:
        """Return the name of a tool that the library has none of: `socket or spanner for hex 21 mm`."""
        hexagon, said = read_drive(drive), unbroken(drive)
        if hexagon is not None and (hexagon.inside or (hexagon.inside is None and hexagon.size < _LEAST_HEAD)):
            return f"key or bit for {said}" if hexagon.inside else f"tool for {said}"
        turned_by_blade = any(word in drive.lower().split() for word in _SCREWDRIVER)
        kind = self.own("socket or spanner") if hexagon else "screwdriver or bit" if turned_by_blade else "tool"
        return f"{kind} for {said}"

    def second_tool(self, name: str) -> str:
        """Return the name of one of two alike tools: the other turns, this one holds."""
        return f"{name}, a second one to hold with"
