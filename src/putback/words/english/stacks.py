"""What is said beside a drawing of a stack, in English."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.called import is_uncounted, named, pieces_of
from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.terms import Ref
from putback.sheet.stacked import TakenApart
from putback.words.drawn import DrawnStack, StackPieceWords
from putback.words.english.shapes import lengths_of, shape_of
from putback.words.english.things import Things, joined, sentence, spaced


class OfStacks(Things):
    """What a catalogue of words says of stacks."""

    def shape_of(self, thing: AnyThing) -> PartShape | None:
        """Return the shape of a thing: as the file says, or else by its name; None when neither tells."""
        return shape_of(thing)

    def stack(self, stack: TakenApart) -> DrawnStack:
        """Return the words of the drawing of a stack."""
        outer = self.things[stack.key]
        common = self.only(stack.when) or self.only(outer.when)
        pieces = tuple(self._piece(self.things[one.key], one.turn, common) for one in stack.things)
        inner = next(self.things[one.key] for one in reversed(stack.things) if one.turn)
        label = f"Parts from the {named(outer)} to the {named(inner)}"
        last = max(one.turn or 0 for one in stack.things)
        order = f"They come off in the order of the numbers, and go back from {last} to 1."
        called = " ".join([f"{label}.", *([sentence(common)] if common else [])])
        caption = " ".join([called, order, *self._marks(stack)])
        lead = f"{label}. From the outside in, with the order in which they come off:"
        return DrawnStack(label, called, caption, lead, pieces)

    def _marks(self, stack: TakenApart) -> Iterator[str]:
        """Yield what the marks in a drawing mean, of those that are in it."""
        things = [self.things[one.key] for one in stack.things if one.turn]
        if any(isinstance(thing, Part | Fastener) and thing.single_use for thing in things):
            yield "A white number on black: fit a new one."
        if any(isinstance(thing, Part) and thing.lubricant for thing in things):
            yield "A drop: put on what is named."

    def _piece(self, thing: AnyThing, turn: int | None, common: str | None) -> StackPieceWords:
        count = pieces_of(thing)
        if isinstance(thing, Fastener) and thing.counts and not is_uncounted(thing):
            most = self.choices(sorted({str(each) for _, each in thing.counts}, key=int))
            name = f"{most} {named(thing)}"
        else:
            name = f"{count} {named(thing)}" if count > 1 else named(thing)
        if turn is None:
            return StackPieceWords(name, "stays in place", f"{name}, in place")
        remarks = ", ".join(self._remarks_in_stack(thing, common))
        return StackPieceWords(name, remarks, f"{turn}: {name} ({remarks})" if remarks else f"{turn}: {name}")

    def _remarks_in_stack(self, thing: AnyThing, common: str | None) -> Iterator[str]:
        if isinstance(thing, Part | Fastener) and thing.single_use:
            yield "new"
        if isinstance(thing, Part) and thing.lubricant:
            yield self._consumable(thing.lubricant)
        if isinstance(thing, Fastener):
            yield from filter(None, (thing.thread, *self.lengths(thing), self.driven(thing)))
            if thing.compound:
                yield self._consumable(thing.compound)
        if thing.each:
            yield f"at each {spaced(thing.each.name)}"
        when = self.only(thing.when)
        if when and when != common:
            yield when

    def _consumable(self, ref: Ref) -> str:
        entry = self.library.consumables.get(ref.name)
        thing = self.things.get(ref.name)
        return entry.name if entry else thing.name if thing else spaced(ref.name)

    def stack_before(self, number: str) -> str:
        """Return where the drawing of a stack stands already on the page."""
        return f"See the drawing of the parts at step {number}."

    def size_of(self, thing: Part) -> str:
        """Return how large a part is: `24 mm outside, 14 mm inside and 1 mm thick`; nothing when that is not said."""
        said = [f"{self.quantity(length)} {what}" for length, what in lengths_of(thing)]
        return sentence(joined(said)) if said else ""
