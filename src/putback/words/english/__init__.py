"""English: `English` makes the sentences of one guide, `LABELS` are all other words."""

from __future__ import annotations

from putback.joints.patterns import opposite
from putback.model.called import counted
from putback.model.job import Interval
from putback.model.machine import Fastener, Part
from putback.source.grammar import counted_word
from putback.words.english.labels import LABELS
from putback.words.english.orders import in_words
from putback.words.english.safety import Safety
from putback.words.english.saying import Saying
from putback.words.language import DrawnWords

__all__ = ["LABELS", "English"]


class English(Saying, Safety):
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
        """Return the name of a tool that the library has none of: `tool for slot 6 mm`."""
        return f"tool for {drive}"

    def drawn(self, thing: Fastener, *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a group's order."""
        assert thing.places is not None
        order = in_words(opposite(thing.sequence) if loosening else thing.sequence, thing.places)
        label = f"{'Loosening' if loosening else 'Tightening'} order of the {counted(thing)}"
        turn = f"The number on each {thing.name} is its turn"
        return DrawnWords(label, f"{label}. {turn}.", f"{label}: {order}.", f"{turn}: {order}.")

    def about(self, thing: Part) -> list[str]:
        """Return remarks on a part, a sentence each."""
        remarks = []
        if thing.single_use:
            remarks.append("New every time.")
        if thing.adjustable:
            remarks.append("Mark its position before it comes off.")
        if thing.wear and thing.wear.limit:
            measure = thing.wear.measure or "wear"
            remarks.append(f"{measure[:1].upper()}{measure[1:]}: {self.limit(thing.wear.limit)}.")
        return remarks
