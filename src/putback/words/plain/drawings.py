"""What is said beside a drawing or a picture, in flat sentences."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.control import OPEN
from putback.model.machine import AnyThing, Control, Fastener, Fluid
from putback.model.said import Limit
from putback.model.terms import Ref, When
from putback.units import Kind, Quantity
from putback.units.printing import first_in
from putback.words.drawn import CalloutTold, DrawnSaid, LevelSaid, ScaleSaid
from putback.words.plain.checking import PlainChecking
from putback.words.plain.runs import in_text, sentence, upper
from putback.words.plain.safety import PlainSafety
from putback.words.telling import Message

SIZES = frozenset({Kind.LENGTH, Kind.DISTANCE, Kind.ANGLE, Kind.AREA})
"""Kinds whose values are small or large; those of others are low or high."""

# Translators: where something is in a picture.
PLACES = {
    (-1, -1): Message("in picture", "top left"),
    (0, -1): Message("in picture", "top"),
    (1, -1): Message("in picture", "top right"),
    (-1, 0): Message("in picture", "left"),
    (0, 0): Message("in picture", "middle"),
    (1, 0): Message("in picture", "right"),
    (-1, 1): Message("in picture", "bottom left"),
    (0, 1): Message("in picture", "bottom"),
    (1, 1): Message("in picture", "bottom right"),
}
"""Thirds of a picture."""
# Translators: which way an arrow in a picture leads.
WAYS = {
    (-1, -1): Message("arrow", "up and to the left"),
    (0, -1): Message("arrow", "up"),
    (1, -1): Message("arrow", "up and to the right"),
    (-1, 0): Message("arrow", "to the left"),
    (0, 0): Message("arrow", "beside it"),
    (1, 0): Message("arrow", "to the right"),
    (-1, 1): Message("arrow", "down and to the left"),
    (0, 1): Message("arrow", "down"),
    (1, 1): Message("arrow", "down and to the right"),
}
"""Ways of arrows."""
SEEN_AT = {
    "dipstick": Message("level", "dipstick"),
    "sight-glass": Message("level", "sight glass"),
    # Translators: a tank that one can see through.
    "tank": Message("level", "tank"),
    # Translators: a hole at the side; the fluid stands at its lower edge.
    "hole": Message("level", "hole"),
}
"""What the level of a fluid is seen at."""


class PlainDrawings(PlainSafety, PlainChecking):
    """What is said of drawings."""

    def scaled(self, things: Sequence[Ref], limit: Limit, new: Limit | None, *, wears: bool) -> ScaleSaid:
        """Return the words of the scale of a reading of some things; with `wears`, outside the limit a part is worn."""
        assert limit.quantity is not None
        low, high = limit.quantity.low is not None, limit.quantity.high is not None
        if wears and low != high:
            # Translators: on a scale, of values at which a part is worn out.
            below = above = self.say("scale", "worn")
        elif limit.quantity.kind in SIZES:
            # Translators: on a scale, of sizes.
            below, above = self.say("scale", "too small"), self.say("scale", "too large")
        else:
            # Translators: on a scale, of pressures, temperatures and so on.
            below, above = self.say("scale", "too low"), self.say("scale", "too high")
        told = self.is_good(limit)
        if new:
            # Translators: the value of a new part.
            told = f"{told} {self.say('scale', 'New: {value}.', value=self.limit(new))}"
        what = self.what_measured(things)
        # Translators: the name of a drawing that shows a scale with a limit.
        label = (
            self.say("scale", "Scale of the reading: {what}", what=what)
            if what
            else self.say("scale", "Scale of the reading")
        )
        # Translators: on a scale, of values that are right.
        good = self.say("scale", "good")
        # Translators: on a scale, at the value of a new part.
        of_new = self.say("scale", "new")
        return ScaleSaid(label, f"{label}. {told}", good, below, above, of_new, self.telling.number(0.5)[1])

    def off_row(self, thing: AnyThing, *, limited: bool = True) -> str:
        """Return what comes off as a line of a drawing: how many, what turns it; with `limited`, in which variants."""
        driven = self.driven(thing) if isinstance(thing, Fastener) else ""
        words = ", ".join(filter(None, (self.called(thing), driven)))
        return self.row(words, thing.when) if limited else words

    def way_in(self, reached: AnyThing, groups: Sequence[tuple[Sequence[str], Sequence[int]]]) -> DrawnSaid:
        """Return the words of the drawing of a way in: what comes off together, and after which of the others."""
        label = self.say("drawn.way-in", "What comes off first, to reach: {thing}", thing=self.name_of(reached))
        order = self.say("drawn.way-in", "The first is on top. What is undone to take a part off stands above it.")
        told = []
        for names, after in groups[:-1]:
            off = "; ".join([self.off_row(self.things[name]) for name in names if name in self.things])
            ends = [self.name_of(self.things[groups[other][0][-1]]) for other in after]
            if ends:
                # Translators: {things} come off after {others} are off.
                off = self.say(
                    "drawn.way-in", "{things} – after: {others}", things=off, others=self.telling.listed(ends)
                )
            told.append(sentence(off))
        return DrawnSaid(label, f"{label}. {order}", f"{label}. {' '.join(told)}", " ".join(told))

    def level(self, fluid: Fluid) -> LevelSaid:
        """Return the words of the drawing of where the level of a fluid should be."""
        label = self.say("level", "Level: {fluid}", fluid=fluid.name)
        where = self.level_at(fluid)
        # Translators: the word where the level of a fluid is right, in a drawing.
        good = self.say("level", "good")
        return LevelSaid(label, sentence(f"{label}: {where}" if where else label), good)

    def level_at(self, fluid: Fluid) -> str:
        """Return where the level should be; nothing when that is not said."""
        level = fluid.level
        if level is None:
            return ""
        place = self.telling.told(SEEN_AT[level.at]) if level.at in SEEN_AT else self.word(level.at)
        marks = [ref.name for ref in level.marks]
        if level.at == "hole":
            return self.say("level", "at the lower edge of the hole")
        if level.to and (others := [mark for mark in marks if mark != level.to.name]):
            return self.say(
                "level", "{place}: at the mark {mark}, not at {other}", place=place, mark=level.to.name, other=others[0]
            )
        if level.to or len(marks) == 1:
            mark = level.to.name if level.to else marks[0]
            # Translators: {place} such as "dipstick".
            return self.say("level", "{place}: at the mark {mark}", place=place, mark=mark)
        if len(marks) == 2:
            return self.say(
                "level", "{place}: between the marks {low} and {high}", place=place, low=marks[0], high=marks[1]
            )
        if level.at == "sight-glass":
            return self.say("level", "in the middle of the sight glass")
        return self.say("level", "{place}: between the two marks", place=place)

    def control(self, control: Control, position: str) -> DrawnSaid:
        """Return the words of the drawing of a control that is set to a position."""
        label = self.say("drawn.control", "Positions: {control}", control=self.name_of(control))
        places = self.telling.listed([self.word(ref.name) for ref in control.positions])
        # Translators: {positions} are those that a control has, {position} the one to which it is set.
        told = self.say(
            "drawn.control", "{positions}. Set: {position}.", positions=upper(places), position=self.word(position)
        )
        if control.looks == "tap" and position in OPEN:
            told += f" {self.say('drawn.control', 'Its handle lies along the pipe.')}"
        elif control.looks == "tap":
            told += f" {self.say('drawn.control', 'Its handle lies across the pipe.')}"
        return DrawnSaid(label, "", f"{label}. {told}", told)

    def printed_first(self, quantity: Quantity) -> Quantity:
        """Return a quantity in the unit that it is printed in first."""
        return first_in(quantity, self.first)

    def drawn_before(self, number: str) -> str:
        """Return where a drawing stands already on the page, by the number of its step."""
        return self.say("drawn", "See the drawing of the order at step {number}.", number=number)

    def sized_before(self, number: str) -> str:
        """Return where fasteners stand already at true size on the page, by the number of its step."""
        return self.say("drawn", "See the pieces at true size at step {number}.", number=number)

    def pictured_before(self, number: str) -> str:
        """Return where a picture stands already on the page, by the number of its step."""
        return self.say("drawn", "See the picture at step {number}.", number=number)

    def callout(self, name: str, text: str, when: When | None) -> str:
        """Return what a number in a picture stands for: a thing by its name, words, or both, and for which variants."""
        thing = self.things.get(name)
        shelf = {**self.library.consumables, **self.library.equipment}
        called = self.title_of(thing) if thing else shelf[name].name if name in shelf else self.word(name)
        words = f"{called}: {text}" if name and text else called or text
        return self.row(upper(words), when)

    def pointed_at(self, shown: Sequence[CalloutTold]) -> str:
        """Return what the numbers of a picture point at and where, for who cannot see it."""
        told = []
        for number, what, at, way in shown:
            places = in_text(dict.fromkeys(self.telling.told(PLACES[place]) for place in at))
            arrow = []
            if way:
                # Translators: where the arrow of a number in a picture leads, such as "to the left".
                arrow = [self.say("in picture", "arrow: {way}", way=self.telling.told(WAYS[way]))]
            told.append(", ".join([f"{number} {what}", places, *arrow]))
        # Translators: what the numbers of a picture are, for who cannot see it.
        return self.say("in picture", "Numbers in the picture: {told}.", told="; ".join(told))
