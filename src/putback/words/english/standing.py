"""How a machine stands between two jobs, in English: what is off, out, open, drained, set, in place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.called import counted, placed
from putback.model.machine import Fastener, Line
from putback.model.states import (
    ControlState,
    EquipmentState,
    FluidState,
    GroupState,
    LineState,
    MarkState,
    PartState,
    SettingState,
    ends,
)
from putback.sheet.between import Away
from putback.sheet.wanted import LaidOut
from putback.variants import Choice
from putback.words.english.built import built_so
from putback.words.english.rows import Rows
from putback.words.english.seats import is_on
from putback.words.english.things import joined, spaced


class Standing(Rows):
    """What a catalogue of sentences says of a machine that is apart."""

    def for_choice(self, choice: Choice) -> str:
        """Return which variants a book is for: `Only with a long shaft`; nothing when it is for all."""
        built = built_so([(spaced(option), [spaced(value)]) for option, value in choice])
        return f"Only {built}" if built else ""

    def standing(self, rows: Sequence[LaidOut[Away]]) -> list[str]:
        """Return how a machine stands, a line for each kind: `Off: belt guard and pump cover.`"""
        found: dict[str, list[str]] = {}
        for row in rows:
            for head, what in self._stands(row.what):
                found.setdefault(head, []).append(self.row(what, row.when))
        return [f"{head}: {joined(items)}." for head, items in found.items()]

    def _stands(self, away: Away) -> Iterator[tuple[str, str]]:
        """Yield what a thing is, and the thing."""
        thing = away.thing
        name = thing.name if thing else away.called
        match away.state:
            case PartState():
                yield "Off", name
            case GroupState(out=out, loose=loose, places=places) if thing is not None:
                if out:
                    yield (
                        "Out" if isinstance(thing, Fastener) and not is_on(thing) else "Off",
                        f"{counted(thing, out)}{placed(thing, places, as_='out')}",
                    )
                if loose:
                    yield "Loose", f"{counted(thing, loose)}{placed(thing, places, as_='loose')}"
            case LineState(open=open_):
                some = isinstance(thing, Line) and open_ < ends(thing)
                at = joined([f"the {self.things[end].name}" for end in sorted(open_) if end in self.things])
                yield "Not connected", f"{name} at {at}" if some and at else name
            case FluidState():
                yield "Drained", name
            case ControlState(position=position):
                yield "Set", f"{name} {spaced(position)}"
            case EquipmentState():
                yield "In place", name
            case SettingState():
                yield "To be adjusted or measured", name
            case MarkState():
                yield "To be aligned", name
