"""How a machine stands between two jobs, in flat words: what is off, out, open, drained, set, in place."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.machine import AnyThing, Fastener
from putback.sheet.between import Away
from putback.sheet.wanted import LaidOut
from putback.words.apart import ApartKind, SoApart, apart, placed_as
from putback.words.english.seats import is_on
from putback.words.plain.rows import PlainRows
from putback.words.plain.runs import in_text
from putback.words.plain.source import as_written
from putback.words.telling import Message

HEADS = {
    # Translators: before a list of parts that are off the machine.
    ApartKind.OFF: Message("standing", "Off: {things}."),
    # Translators: before a list of screws that are out.
    ApartKind.OUT: Message("standing", "Out: {things}."),
    ApartKind.LOOSE: Message("standing", "Loose: {things}."),
    # Translators: before a list of hoses and cables.
    ApartKind.OPEN: Message("standing", "Not connected: {things}."),
    # Translators: before a list of fluids.
    ApartKind.DRAINED: Message("standing", "Drained: {things}."),
    # Translators: before a list of controls, each with its position.
    ApartKind.SET: Message("standing", "Set: {things}."),
    # Translators: before a list of equipment that stands at the machine.
    ApartKind.IN_PLACE: Message("standing", "In place: {things}."),
    # Translators: before a list of settings, such as the valve clearance.
    ApartKind.DISTURBED: Message("standing", "To be adjusted or measured: {things}."),
    ApartKind.MARKED: Message("standing", "To be aligned: {things}."),
}
"""Kinds of states."""


class PlainStanding(PlainRows):
    """What is said of a machine that is apart."""

    def standing(self, rows: Sequence[LaidOut[Away]]) -> list[str]:
        """Return how a machine stands that is apart, a line for each kind of state."""
        found: dict[ApartKind, list[str]] = {}
        for row in rows:
            for so in apart(row.what, lambda thing: is_on(as_written(thing))):
                found.setdefault(so.kind, []).append(self.row(self._so(row.what, so), row.when))
        return [self.telling.told(HEADS[kind], things=in_text(items)) for kind, items in found.items()]

    def _so(self, away: Away, so: SoApart) -> str:
        """Return a thing with what is told of its state."""
        thing, name = away.thing, away.thing.name if away.thing else away.called
        if thing is not None and so.pieces:
            return self._placed(thing, so.pieces, so.places, placed_as(so.kind))
        at = in_text([self.things[end].name for end in so.ends if end in self.things])
        return f"{name} ({at})" if at else f"{name} – {self.word(so.position)}" if so.position else name

    def _placed(self, thing: AnyThing, pieces: int, places: tuple[str, ...], state: str) -> str:
        """Return so many pieces of a group, with their places when they have names and others are not so."""
        name = self.called(thing, pieces)
        if not isinstance(thing, Fastener) or not places or all(place == state for place in places):
            return name
        found = [self.word(at) for at, place in zip(thing.positions, places, strict=False) if place == state]
        return f"{name} ({', '.join(found)})" if found else name
