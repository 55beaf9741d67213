"""What is said of the drawings of joints, in flat sentences."""

from __future__ import annotations

from collections.abc import Sequence

from putback.joints.layouts import Layout, Shape
from putback.model.called import pieces_of
from putback.model.machine import Fastener
from putback.model.piece_sizes import PieceSize
from putback.model.same_joint import InOrder
from putback.source.grammar import unbroken
from putback.words.drawn import DrawnWords, TrueSizeWords
from putback.words.english.orders import LONGEST_WORDS
from putback.words.pieces import as_text
from putback.words.piecetags import tags_of
from putback.words.plain.orders import in_words
from putback.words.plain.runs import in_a_row, in_text, sentence, upper
from putback.words.plain.stacks import PlainStacks
from putback.words.plain.turning import PlainTurning
from putback.words.telling import Message

FRONT = {
    "up": Message("side", "the front of the machine is at the top"),
    "right": Message("side", "the front of the machine is on the right"),
    "down": Message("side", "the front of the machine is at the bottom"),
    "left": Message("side", "the front of the machine is on the left"),
}
"""Where the front of the machine is, in a drawing."""
TOP = {
    "up": Message("side", "the top of the machine is at the top"),
    "right": Message("side", "the top of the machine is on the right"),
    "down": Message("side", "the top of the machine is at the bottom"),
    "left": Message("side", "the top of the machine is on the left"),
}
"""Where its top is."""


class PlainBolting(PlainStacks, PlainTurning):
    """What is said of orders and sizes."""

    def true_size(
        self, sizes: Sequence[Sequence[PieceSize]], cut: Sequence[bool], in_full: Sequence[bool]
    ) -> TrueSizeWords:
        """Return the words of pieces that are drawn at true size, those that look alike together."""
        names = in_text(dict.fromkeys(self.name_of(size.thing) for alike in sizes for size in alike))
        # Translators: the name of a drawing that shows bolts as large as they are.
        label = upper(self.say("drawn.true-size", "{things}, at true size", things=names))
        rows = tuple(self._sized(alike, cut=each) for alike, each in zip(sizes, cut, strict=True))
        told = sentence("; ".join(f"{name}: {facts}" for name, facts in rows))
        caption = [f"{label}.", self.say("drawn.true-size", "Print at 100 %, and lay the piece on its drawing.")]
        if all(in_full):
            caption.append(self.say("drawn.true-size", "Length is that of the whole piece."))
        elif any(in_full):
            caption.append(
                self.say(
                    "drawn.true-size",
                    "Length is measured from under the head; a countersunk head, or none, counts in full.",
                )
            )
        elif any(size.length for alike in sizes for size in alike):
            caption.append(self.say("drawn.true-size", "Length is measured from under the head."))
        if any(cut):
            caption.append(
                self.say(
                    "drawn.true-size",
                    "A piece drawn shorter is too long for the page: only its head and its thickness are true.",
                )
            )
        screen = self.say("drawn.true-size", "The size holds on paper only.")
        return TrueSizeWords(label, " ".join(caption), f"{label}. {told}", told, screen, rows)

    def _sized(self, alike: Sequence[PieceSize], *, cut: bool) -> tuple[str, str]:
        """Return the names of pieces that look alike, and their size."""
        names = upper(in_text(self.name_of(size.thing) for size in alike))
        thing = alike[0].thing
        if not isinstance(thing, Fastener):
            return names, ", ".join(self.lengths_told(thing, marked=True))
        length, positions = alike[0].length, alike[0].positions
        pieces = [len(size.positions) or pieces_of(size.thing) for size in alike]
        varies = any(isinstance(size.thing, Fastener) and size.thing.counts for size in alike)
        times = "" if varies or pieces == [1] or 0 in pieces else f"{' + '.join(map(str, pieces))} × "
        places = self.words(positions) if positions and len(alike) == 1 else ""
        # Translators: of a drawing that is shorter than the piece.
        shorter = self.say("drawn.true-size", "drawn shorter") if cut else ""
        shown = self.as_marked(length) if length else ""
        facts = [unbroken(thing.thread or ""), shown, self.driven(thing), places, shorter]
        return names, times + ", ".join(filter(None, facts))

    def drawn(self, joint: Sequence[InOrder], *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a joint's order."""
        first, names = joint[0].thing, in_text(self.called(each.thing) for each in joint)
        label = self._order_of(names, loosening=loosening)
        seen = self._seen(first)
        turned = [self.telling.told(FRONT[first.front])] if first.front else []
        turned += [self.telling.told(TOP[first.top])] if first.top else []
        count = self.telling.number(joint[-1].before + joint[-1].thing.count)
        how = self._by_numbers(count, loosening=loosening)
        told = [how, self._told(joint, loosening=loosening), seen, sentence(in_text(turned)) if turned else ""]
        description = " ".join(filter(None, told))
        tags, place = tags_of(joint, self.as_marked, self.word)
        # Translators: short, in a drawing; {count} is the number of bolts.
        headline = self.say("drawn.order", "Loosen {count} → 1", count=count)
        if not loosening:
            # Translators: short, in a drawing; {count} is the number of bolts.
            headline = self.say("drawn.order", "Tighten 1 → {count}", count=count)
        front, top = self._sides(first)
        caption = " ".join([f"{label}.", seen, how, *([] if loosening else self._stages_told(joint))])
        key = self._key(loosening=loosening) if place else ("", "")
        return DrawnWords(label, caption, f"{label}. {description}", description, headline, *key, front, top, tags)

    def _order_of(self, names: str, *, loosening: bool) -> str:
        if loosening:
            return self.say("drawn.order", "Loosening order: {things}", things=names)
        return self.say("drawn.order", "Tightening order: {things}", things=names)

    def _key(self, *, loosening: bool) -> tuple[str, str]:
        """Return what the number in a bolt is, and the one beside it."""
        # Translators: beside a drawing: the number in a bolt is its turn; in loosening, the turn when it is tightened.
        tightened = self.say("drawn.order", "turn, in tightening")
        # Translators: beside a drawing: the number in a bolt is its turn.
        turn = self.say("drawn.order", "turn")
        # Translators: beside a drawing: the number beside a bolt is its place.
        return tightened if loosening else turn, self.say("drawn.order", "place")

    def _sides(self, first: Fastener) -> tuple[str, str]:
        # Translators: in a drawing, at the side where the front of the machine is.
        front = self.say("drawn.order", "front") if first.front else ""
        # Translators: in a drawing, at the side where the top of the machine is.
        return front, self.say("drawn.order", "top") if first.top else ""

    def _seen(self, thing: Fastener) -> str:
        """Return from where a joint is seen: as the file says it, or from the heads."""
        if thing.viewpoint:
            return self.say("drawn.order", "Seen from: {place}.", place=self.place(thing.viewpoint))
        if thing.kind is not None and thing.kind.endswith(("bolt", "screw")):
            return self.say("drawn.order", "Seen from the side of the heads.")
        return self.say("drawn.order", "Seen from the side of: {thing}.", thing=self.name_of(thing))

    def _by_numbers(self, count: str, *, loosening: bool) -> str:
        if loosening:
            return self.say("drawn.order", "Loosen in reverse order, from {count} to 1.", count=count)
        return self.say("drawn.order", "Tighten in the order of the numbers, from 1 to {count}.", count=count)

    def _told(self, joint: Sequence[InOrder], *, loosening: bool) -> str:
        """Return where each turn is, for who cannot see it."""
        layout, first = joint[0].layout, joint[0].thing
        if len(joint) > 1:
            layout = Layout(tuple(place for each in joint for place in each.layout.places), Shape.FREE)
        order = [each.before + number for each in joint for number in each.sequence]
        places = in_words(self.telling, order, layout)
        if len(joint) == 1 and len(order) <= LONGEST_WORDS:
            names = [self.word(first.positions[number - 1]) for number in order] if first.positions else []
            if names:
                places = self.say(
                    "drawn.order", "{places}; the places in this order: {names}", places=places, names=", ".join(names)
                )
            elif order != sorted(order):
                numbers = ", ".join(map(str, order))
                places = self.say(
                    "drawn.order", "{places}; the places by their numbers: {numbers}", places=places, numbers=numbers
                )
        if loosening:
            return self.say("drawn.order", "The numbers are those of tightening: {places}.", places=places)
        return sentence(places)

    def _stages_told(self, joint: Sequence[InOrder]) -> list[str]:
        """Return what each group is, where several share the joint, and its stages."""
        if len(joint) > 1:
            return [self._one_group(each) for each in joint]
        thing = joint[0].thing
        if not thing.stages:
            return []
        stages = as_text(self.stages(thing))
        return [self.say("drawn.order", "In stages, each once round all of them: {stages}.", stages=stages)]

    def _one_group(self, each: InOrder) -> str:
        """Return the turns of a group, its size and how tight it is."""
        thing, first, last = each.thing, each.before + 1, each.before + each.thing.count
        turns = str(first) if first == last else f"{first}–{last}"
        sizes = ", ".join(filter(None, [unbroken(thing.thread or ""), *self.lengths(thing)]))
        name = f"{self.name_of(thing)} ({sizes})" if sizes else self.name_of(thing)
        tight = as_text(self.stages(thing)) if thing.stages else self.torque(thing) or ""
        return f"{turns}: {as_text(in_a_row(filter(None, (name, tight))))}."
