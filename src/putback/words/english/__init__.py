"""English: `English` makes the sentences of one guide, `LABELS` are all other words."""

from __future__ import annotations

from putback.model.job import Interval
from putback.source.grammar import counted_word
from putback.words.english.labels import LABELS
from putback.words.english.remarks import Remarks
from putback.words.english.saying import Saying

__all__ = ["LABELS", "English"]


class English(Saying, Remarks):
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
