"""English: `English` makes the sentences of one guide, `LABELS` are all other words; `american` has America's."""

from __future__ import annotations

from decimal import Decimal

from putback.joints.drives import read_drive
from putback.model.interval import CALENDAR, Interval, Lapse
from putback.source.grammar import plural
from putback.units import digits
from putback.words.english.beside import Beside
from putback.words.english.bolting import Bolting
from putback.words.english.labels import LABELS
from putback.words.english.saying import Saying
from putback.words.english.sizes import drive_said
from putback.words.english.standing import Standing

__all__ = ["LABELS", "English"]

LEAST_HEAD = 7
"""mm across flats: of a bare `hex` below it nobody knows whether it is a head or a socket."""
SCREWDRIVER = (
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


class English(Saying, Beside, Standing, Bolting):
    """Makes the sentences of one guide."""

    labels = LABELS

    def written(self, text: str) -> str:
        """Return an author's words for what is no thing of the machine: they are English."""
        return text

    def kind(self, kind: str) -> str:
        """Return what kind of fastener or line something is, as the author says it."""
        return kind

    def figure(self, value: float | Decimal) -> str:
        """Return a bare number."""
        return digits(value)

    def day(self, text: str) -> str:
        """Return a day as it is written, 2026-11-25: the two sides of the ocean would read others differently."""
        return text

    def due(self, interval: Interval | None) -> str:
        """Return an interval as words: `every 300 running hours or 24 months, whichever comes first`."""
        if interval is None:
            return self.labels.job.when_needed
        every, first = self.lapses(interval), self.lapses(interval.first) if interval.first else ""
        both = f"first after {first}, then every {every}" if first else f"every {every}"
        said = both if every else f"once, after the first {first}" if first else ""
        sooner = ", whichever comes first" if " or " in f"{every}{first}" else ""
        also = (interval.also or "").rstrip(".")
        return f"{said}{sooner}; also {also}" if said and also else f"{said}{sooner}{also}"

    def lapses(self, interval: Interval, *, calendar: bool | None = None) -> str:
        """Return how much of what goes by, all of it or the calendar's alone: `300 running hours or 3 to 6 months`."""
        found = [(unit, lapse) for unit, lapse in interval.lapses() if calendar in (None, unit in CALENDAR)]
        return " or ".join(self.lapse(unit, lapse) for unit, lapse in found)

    def lapse(self, unit: str, lapse: Lapse) -> str:
        """Return how much of one thing goes by: `1 running hour`, `3 to 6 months`, `5000 km`."""
        word = {"hours": "running hour", "months": "month", "years": "year"}.get(unit)
        least, most = digits(lapse.least), digits(lapse.most)
        some = most if lapse.least == lapse.most else f"{least} to {most}"
        if word is None:
            return f"{some} {unit}"
        return f"{some} {word if lapse.most == 1 else plural(word)}"

    def tool_for(self, drive: str) -> str:
        """Return the name of a tool that the library has none of: `socket or spanner for 21 mm hex`."""
        hexagon, said = read_drive(drive), drive_said(drive)
        if hexagon is not None and (hexagon.inside or (hexagon.inside is None and hexagon.size < LEAST_HEAD)):
            return f"key or bit for {said}" if hexagon.inside else f"tool for {said}"
        turned_by_blade = any(word in drive.lower().split() for word in SCREWDRIVER)
        kind = self.own("socket or spanner") if hexagon else "screwdriver or bit" if turned_by_blade else "tool"
        return f"{kind} for {said}"

    def second_tool(self, name: str) -> str:
        """Return the name of one of two alike tools: the other turns, this one holds."""
        return f"{name}, a second one to hold with"
