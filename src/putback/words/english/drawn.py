"""What is said beside a drawing or a picture, in English."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.called import named, pieces_of
from putback.model.control import OPEN
from putback.model.machine import AnyThing, Control, Fastener, Fluid
from putback.model.said import Limit
from putback.model.terms import Ref, When
from putback.units import Kind, Quantity
from putback.units.printing import first_in
from putback.words.drawn import CalloutTold, DrawnSaid, LevelSaid, ScaleSaid
from putback.words.english.checking import Checking
from putback.words.english.checking import in_words as read_aloud
from putback.words.english.safety import Safety
from putback.words.english.things import joined, sentence, spaced
from putback.words.pieces import as_text

_SIZES = frozenset({Kind.LENGTH, Kind.DISTANCE, Kind.ANGLE, Kind.AREA})
"""Kinds whose values are small or large; those of others are low or high."""

_PLACES = {
    (-1, -1): "top left", (0, -1): "top", (1, -1): "top right", (-1, 0): "left", (0, 0): "middle", (1, 0): "right",
    (-1, 1): "bottom left", (0, 1): "bottom", (1, 1): "bottom right",
}  # fmt: skip
_WAYS = {
    (-1, -1): "up and to the left", (0, -1): "up", (1, -1): "up and to the right", (-1, 0): "to the left",
    (0, 0): "beside it", (1, 0): "to the right", (-1, 1): "down and to the left", (0, 1): "down",
    (1, 1): "down and to the right",
}  # fmt: skip


class OfDrawings(Safety, Checking):
    """What a catalogue of words says of drawings."""

    def scaled(self, things: Sequence[Ref], limit: Limit, new: Limit | None, *, wears: bool) -> ScaleSaid:
        """Return the words of the scale of a reading."""
        assert limit.quantity is not None
        low, high = limit.quantity.low is not None, limit.quantity.high is not None
        sizes = limit.quantity.kind in _SIZES
        below, above = ("too small", "too large") if sizes else ("too low", "too high")
        if wears and low != high:
            below = above = "worn"
        told = f"Good: {read_aloud(self.limit(limit), limit.quantity)}."
        told += f" New: {self.limit(new)}." if new else ""
        what = as_text(self.measured_thing(things))
        label = f"Scale of the reading: {what.removeprefix('the ')}" if what else "Scale of the reading"
        return ScaleSaid(label, f"{label}. {told}", "good", below, above, "new")

    def off_row(self, thing: AnyThing, *, limited: bool = True) -> str:
        """Return what comes off as a line of a drawing: `4 gearcase bolts, 13 mm hex, only with a short shaft`."""
        pieces = pieces_of(thing)
        name = f"{pieces} {named(thing)}" if pieces > 1 else named(thing)
        driven = self.driven(thing) if isinstance(thing, Fastener) else ""
        words = ", ".join(filter(None, (name, driven)))
        return self.row(words, thing.when) if limited else words

    def way_in(self, reached: AnyThing, groups: Sequence[tuple[Sequence[str], Sequence[int]]]) -> DrawnSaid:
        """Return the words of the drawing of a way in."""
        label = f"What comes off before the {named(reached)}"
        caption = f"{label}, the first on top. What is undone to take a part off stands above it."
        told = []
        for names, after in groups[:-1]:
            off = "; ".join([self.off_row(self.things[name]) for name in names if name in self.things])
            ends = [f"the {named(self.things[groups[other][0][-1]])}" for other in after]
            told.append(sentence(f"{off}: after {joined(ends)}" if ends else off))
        return DrawnSaid(label, caption, f"{label}. {' '.join(told)}", " ".join(told))

    def level(self, fluid: Fluid) -> LevelSaid:
        """Return the words of the drawing of where the level of a fluid should be."""
        label = f"Level of the {named(fluid)}"
        return LevelSaid(label, sentence(f"{label}: {self.level_at(fluid)}"), "good")

    def level_at(self, fluid: Fluid) -> str:
        """Return where the level should be: `between the marks MIN and MAX of the dipstick`; nothing when not said."""
        level = fluid.level
        if level is None:
            return ""
        place = spaced(level.at)
        if level.at == "hole":
            return "at the lower edge of the hole"
        if level.to:
            others = [ref.name for ref in level.marks if ref.name != level.to.name]
            return f"at the mark {level.to.name} of the {place}{f', not at {others[0]}' if others else ''}"
        match [ref.name for ref in level.marks]:
            case [low, high]:
                return f"between the marks {low} and {high} of the {place}"
            case [mark]:
                return f"at the mark {mark} of the {place}"
        if level.at == "sight-glass":
            return "in the middle of the sight glass"
        return f"between the two marks of the {place}"

    def control(self, control: Control, position: str) -> DrawnSaid:
        """Return the words of the drawing of a control that is set to a position."""
        label = f"Positions of the {named(control)}"
        places = [self.position_name(ref.name) for ref in control.positions]
        lies = ""
        if control.looks == "tap":
            lies = f" Its handle lies {'along' if position in OPEN else 'across'} the pipe."
        told = f"{joined(places)}. Set: {self.position_name(position)}.{lies}"
        return DrawnSaid(label, "", f"{label}: {told}", sentence(told))

    def printed_first(self, quantity: Quantity) -> Quantity:
        """Return a quantity in the unit that it is printed in first."""
        return first_in(quantity, self.first)

    def drawn_before(self, number: str) -> str:
        """Return where a drawing stands already on the page."""
        return f"See the drawing of the order at step {number}."

    def sized_before(self, number: str) -> str:
        """Return where fasteners stand already at true size on the page."""
        return f"See the pieces at true size at step {number}."

    def callout(self, name: str, text: str, when: When | None) -> str:
        """Return what a number stands for: `Pump cover: the notch is at the top (only with pump drive: belt)`."""
        thing = self.things.get(name)
        shelf = {**self.library.consumables, **self.library.equipment}
        called = self.title_of(thing) if thing else shelf[name].name if name in shelf else spaced(name)
        words = f"{called}: {text}" if name and text else called or text
        return self.row(words[:1].upper() + words[1:], when)

    def pointed_at(self, shown: Sequence[CalloutTold]) -> str:
        """Return `Numbers in the picture: 1 Pump cover, top left; 2 Screws, left and right.`"""
        told = []
        for number, what, at, way in shown:
            places = joined(list(dict.fromkeys(_PLACES[place] for place in at)))
            arrow = f", with an arrow {_WAYS[way]}" if way else ""
            told.append(f"{number} {what}, {places}{arrow}")
        return f"Numbers in the picture: {'; '.join(told)}."

    def pictured_before(self, number: str) -> str:
        """Return where a picture stands already on the page."""
        return f"See the picture at step {number}."
