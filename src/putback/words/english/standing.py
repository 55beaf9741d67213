"""How a machine stands between two jobs, in English: what is off, out, open, drained, set, in place."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.called import counted, placed
from putback.sheet.between import Away
from putback.sheet.wanted import LaidOut
from putback.variants import Choice
from putback.words.apart import ApartKind, SoApart, apart, placed_as
from putback.words.english.built import built_so
from putback.words.english.rows import Rows
from putback.words.english.seats import is_on
from putback.words.english.things import joined, spaced

_HEADS = {
    ApartKind.OFF: "Off",
    ApartKind.OUT: "Out",
    ApartKind.LOOSE: "Loose",
    ApartKind.OPEN: "Not connected",
    ApartKind.DRAINED: "Drained",
    ApartKind.SET: "Set",
    ApartKind.IN_PLACE: "In place",
    ApartKind.DISTURBED: "To be adjusted or measured",
    ApartKind.MARKED: "To be aligned",
}


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
            for so in apart(row.what, is_on):
                found.setdefault(_HEADS[so.kind], []).append(self.row(self._so(row.what, so), row.when))
        return [f"{head}: {joined(items)}." for head, items in found.items()]

    def _so(self, away: Away, so: SoApart) -> str:
        """Return a thing with what is told of its state."""
        thing, name = away.thing, away.thing.name if away.thing else away.called
        if thing is not None and so.pieces:
            return f"{counted(thing, so.pieces)}{placed(thing, so.places, as_=placed_as(so.kind))}"
        at = joined([f"the {self.things[end].name}" for end in so.ends if end in self.things])
        return f"{name} at {at}" if at else f"{name} {spaced(so.position)}" if so.position else name
