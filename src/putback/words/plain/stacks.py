"""What is said beside a drawing of a stack, in flat sentences."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.called import is_uncounted, pieces_of
from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Fastener, Part
from putback.sheet.stacked import TakenApart
from putback.words.drawn import DrawnStack, StackPieceWords
from putback.words.english.shapes import lengths_of, shape_of
from putback.words.plain.naming import PlainNames
from putback.words.plain.runs import in_text, sentence, upper
from putback.words.plain.source import as_written
from putback.words.telling import Message

LENGTHS = {
    # Translators: a size of a part: its outside diameter, or how long, high or thick it is.
    "outside": Message("size", "{length} outside"),
    "inside": Message("size", "{length} inside"),
    "long": Message("size", "{length} long"),
    "high": Message("size", "{length} high"),
    "thick": Message("size", "{length} thick"),
}
"""How large parts are."""


class PlainStacks(PlainNames):
    """What is said of stacks and shapes."""

    def shape_of(self, thing: AnyThing) -> PartShape | None:
        """Return the shape of a thing: as the file says, or else by the name that its author gave it."""
        return shape_of(as_written(thing))

    def lengths_told(self, thing: Part, *, marked: bool = False) -> list[str]:
        """Return how large a part is, a length each; `marked`, as it stands in the file."""
        return [
            self.telling.told(LENGTHS[what], length=self.as_marked(length) if marked else self.quantity(length))
            for length, what in lengths_of(as_written(thing))
        ]

    def size_of(self, thing: Part) -> str:
        """Return how large a part is, as a sentence; nothing when that is not said."""
        said = self.lengths_told(thing)
        return sentence(", ".join(said)) if said else ""

    def stack(self, stack: TakenApart) -> DrawnStack:
        """Return the words of the drawing of a stack."""
        outer = self.things[stack.key]
        common = self.only(stack.when) or self.only(outer.when)
        pieces = tuple(self._piece(self.things[one.key], one.turn, common) for one in stack.things)
        inner = next(self.things[one.key] for one in reversed(stack.things) if one.turn)
        # Translators: the caption of a drawing of parts in a row, as they come apart.
        label = self.say(
            "drawn.stack", "Parts, from: {outer} – to: {inner}", outer=self.name_of(outer), inner=self.name_of(inner)
        )
        last = self.telling.number(max(one.turn or 0 for one in stack.things))
        # Translators: of the drawing of a stack of parts.
        order = self.say(
            "drawn.stack", "They come off in the order of the numbers, and go back from {last} to 1.", last=last
        )
        called = " ".join([f"{label}.", *([sentence(common)] if common else [])])
        caption = " ".join([called, order, *self._marks(stack)])
        # Translators: before a list, for who cannot see the drawing.
        inwards = self.say("drawn.stack", "From the outside in, with the order in which they come off:")
        return DrawnStack(label, called, caption, f"{label}. {inwards}", pieces)

    def _marks(self, stack: TakenApart) -> Iterator[str]:
        """Yield what the marks in a drawing mean, of those that are in it."""
        things = [self.things[one.key] for one in stack.things if one.turn]
        if any(isinstance(thing, Part | Fastener) and thing.single_use for thing in things):
            yield self.say("drawn.stack", "A white number on black: fit a new one.")
        if any(isinstance(thing, Part) and thing.lubricant for thing in things):
            yield self.say("drawn.stack", "A drop: put on what is named.")

    def _piece(self, thing: AnyThing, turn: int | None, common: str | None) -> StackPieceWords:
        if isinstance(thing, Fastener) and thing.counts and not is_uncounted(thing):
            most = self.telling.either(
                [self.telling.number(each) for each in sorted({each for _, each in thing.counts})]
            )
            name = self.say("thing", "{count} × {thing}", count=most, thing=thing.name)
        else:
            name = self.called(thing) if pieces_of(thing) > 1 else upper(self.name_of(thing))
        if turn is None:
            # Translators: of a part that stays on the machine.
            stays = self.say("drawn.stack", "stays in place")
            return StackPieceWords(name, stays, f"{name}, {stays}")
        remarks = in_text(self._remarks_in_stack(thing, common))
        return StackPieceWords(name, remarks, f"{turn}: {name} ({remarks})" if remarks else f"{turn}: {name}")

    def _remarks_in_stack(self, thing: AnyThing, common: str | None) -> Iterator[str]:
        if isinstance(thing, Part | Fastener) and thing.single_use:
            # Translators: a part is fitted new.
            yield self.say("drawn.stack", "new")
        if isinstance(thing, Part) and thing.lubricant:
            yield self.consumable(thing.lubricant)
        if isinstance(thing, Fastener):
            yield from filter(None, (thing.thread, *self.lengths(thing), self.driven(thing)))
            if thing.compound:
                yield self.consumable(thing.compound)
        if thing.each:
            # Translators: a part is there at each of some places; {place} such as "cylinder".
            yield self.say("drawn.stack", "at each: {place}", place=self.word(thing.each.name))
        when = self.only(thing.when)
        if when and when != common:
            yield when

    def stack_before(self, number: str) -> str:
        """Return where the drawing of a stack stands already on the page, by the number of its step."""
        return self.say("drawn.stack", "See the drawing of the parts at step {number}.", number=number)
