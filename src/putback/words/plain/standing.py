"""How a machine stands between two jobs, in flat words: what is off, out, open, drained, set, in place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.machine import AnyThing, Fastener, Line
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
from putback.words.english.seats import is_on
from putback.words.plain.rows import PlainRows
from putback.words.plain.runs import in_text
from putback.words.plain.source import as_written
from putback.words.telling import Message

HEADS = {
    # Translators: before a list of parts that are off the machine.
    "off": Message("standing", "Off: {things}."),
    # Translators: before a list of screws that are out.
    "out": Message("standing", "Out: {things}."),
    "loose": Message("standing", "Loose: {things}."),
    # Translators: before a list of hoses and cables.
    "open": Message("standing", "Not connected: {things}."),
    # Translators: before a list of fluids.
    "drained": Message("standing", "Drained: {things}."),
    # Translators: before a list of controls, each with its position.
    "set": Message("standing", "Set: {things}."),
    # Translators: before a list of equipment that stands at the machine.
    "in place": Message("standing", "In place: {things}."),
    # Translators: before a list of settings, such as the valve clearance.
    "disturbed": Message("standing", "To be adjusted or measured: {things}."),
    "marked": Message("standing", "To be aligned: {things}."),
}
"""Kinds of states."""


class PlainStanding(PlainRows):
    """What is said of a machine that is apart."""

    def standing(self, rows: Sequence[LaidOut[Away]]) -> list[str]:
        """Return how a machine stands that is apart, a line for each kind of state."""
        found: dict[str, list[str]] = {}
        for row in rows:
            for head, what in self._stands(row.what):
                found.setdefault(head, []).append(self.row(what, row.when))
        return [self.telling.told(HEADS[head], things=in_text(items)) for head, items in found.items()]

    def _stands(self, away: Away) -> Iterator[tuple[str, str]]:
        """Yield in which state a thing is, and the thing."""
        thing = away.thing
        name = thing.name if thing else away.called
        match away.state:
            case PartState():
                yield "off", name
            case GroupState(out=out, loose=loose, places=places) if thing is not None:
                if out:
                    seated_in = isinstance(thing, Fastener) and not is_on(as_written(thing))
                    yield "out" if seated_in else "off", self._placed(thing, out, places, "out")
                if loose:
                    yield "loose", self._placed(thing, loose, places, "loose")
            case LineState(open=open_):
                some = isinstance(thing, Line) and open_ < ends(thing)
                at = in_text([self.things[end].name for end in sorted(open_) if end in self.things])
                yield "open", f"{name} ({at})" if some and at else name
            case FluidState():
                yield "drained", name
            case ControlState(position=position):
                yield "set", f"{name} – {self.word(position)}"
            case EquipmentState():
                yield "in place", name
            case SettingState():
                yield "disturbed", name
            case MarkState():
                yield "marked", name

    def _placed(self, thing: AnyThing, pieces: int, places: tuple[str, ...], state: str) -> str:
        """Return so many pieces of a group, with their places when they have names and others are not so."""
        name = self.called(thing, pieces)
        if not isinstance(thing, Fastener) or not places or all(place == state for place in places):
            return name
        found = [self.word(at) for at, place in zip(thing.positions, places, strict=False) if place == state]
        return f"{name} ({', '.join(found)})" if found else name
