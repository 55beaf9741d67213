"""What is said of the drawings of joints, in English."""

from __future__ import annotations

from collections.abc import Sequence

from putback.joints.layouts import Layout, Shape
from putback.model.called import counted, named, pieces_of, title_of
from putback.model.machine import Fastener, Part
from putback.model.piece_sizes import PieceSize
from putback.model.same_joint import InOrder
from putback.source.grammar import unbroken
from putback.units import show
from putback.words.drawn import DrawnWords, TrueSizeWords
from putback.words.english.orders import LONGEST_WORDS, in_words
from putback.words.english.shapes import lengths_of
from putback.words.english.things import joined, sentence, spaced
from putback.words.english.tightening import Tightening
from putback.words.pieces import as_text
from putback.words.piecetags import tags_of

_SIDES = {"up": "at the top", "right": "on the right", "down": "at the bottom", "left": "on the left"}


class Bolting(Tightening):
    """What is said of orders and sizes."""

    def true_size(
        self, sizes: Sequence[Sequence[PieceSize]], cut: Sequence[bool], in_full: Sequence[bool]
    ) -> TrueSizeWords:
        """Return the words of pieces that are drawn at true size."""
        names = list(dict.fromkeys(title_of(size.thing) for alike in sizes for size in alike))
        label = f"{self._in_a_row(names)} at true size"
        rows = tuple(self._sized(alike, cut=each) for alike, each in zip(sizes, cut, strict=True))
        told = sentence("; ".join(f"{name}: {facts}" for name, facts in rows))
        caption = [f"{label}, when printed at 100 %: lay the piece on its drawing."]
        if all(in_full):
            caption.append("Length is that of the whole piece.")
        elif any(in_full):
            caption.append("Length is measured from under the head; a countersunk head, or none, counts in full.")
        elif any(size.length for alike in sizes for size in alike):
            caption.append("Length is measured from under the head.")
        if any(cut):
            caption.append("A piece drawn shorter is too long for the page: only its head and its thickness are true.")
        return TrueSizeWords(label, " ".join(caption), f"{label}. {told}", told, "The size holds on paper only.", rows)

    def _sized(self, alike: Sequence[PieceSize], *, cut: bool) -> tuple[str, str]:
        """`Gearcase bolts`, `4 × M8 x 1.25, 45 mm, 13 mm hex, at front left and front right`."""
        names = self._in_a_row([title_of(size.thing) for size in alike])
        thing = alike[0].thing
        if not isinstance(thing, Fastener):
            return names, self._round(thing)
        length, positions = alike[0].length, alike[0].positions
        pieces = [len(size.positions) or pieces_of(size.thing) for size in alike]
        varies = any(isinstance(size.thing, Fastener) and size.thing.counts for size in alike)
        times = "" if varies or pieces == [1] or 0 in pieces else f"{' + '.join(map(str, pieces))} × "
        places = f"at {joined([spaced(place) for place in positions])}" if positions and len(alike) == 1 else ""
        shown = show(length) if length else ""
        facts = [unbroken(thing.thread or ""), shown, self.driven(thing), places, "drawn shorter" if cut else ""]
        return names, times + ", ".join(filter(None, facts))

    def _round(self, thing: Part) -> str:
        """Return how large a ring is: `22 mm outside, 9 mm inside, 3 mm thick`."""
        return ", ".join(f"{show(length)} {what}" for length, what in lengths_of(thing))

    def _in_a_row(self, titles: Sequence[str]) -> str:
        """Return names as the beginning of a sentence: `Front end-cap bolts and rear end-cap bolts`."""
        return joined([titles[0], *(f"{name[:1].lower()}{name[1:]}" for name in titles[1:])])

    def drawn(self, joint: Sequence[InOrder], *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a joint's order."""
        first = joint[0].thing
        label = f"{'Loosening' if loosening else 'Tightening'} order of the {joined([counted(e.thing) for e in joint])}"
        seen = f"Seen from {self._whence(first)}."
        sides = ((first.front, "front"), (first.top, "top"))
        shown = tuple((side, word) for side, word in sides if side)
        turned = joined([f"the {word} of the machine is {_SIDES[side]}" for side, word in shown])
        how = self._by_numbers(joint, loosening=loosening)
        told = [f"{how} {self._told(joint, loosening=loosening)}", seen, sentence(turned) if turned else ""]
        description = " ".join(filter(None, told))
        tags, place = tags_of(joint, show, spaced)
        count = joint[-1].before + joint[-1].thing.count
        headline = f"Loosen {count} → 1" if loosening else f"Tighten 1 → {count}"
        key = ("turn, in tightening" if loosening else "turn", "place") if place else ("", "")
        caption = " ".join([f"{label}.", seen, how, *([] if loosening else self._stages(joint))])
        return DrawnWords(
            label, caption, f"{label}. {description}", description, headline, *key, sides[0][1], sides[1][1], tags
        )

    def _whence(self, thing: Fastener) -> str:
        """Return from where a joint is seen: as the file says it, or from the heads."""
        if thing.viewpoint:
            return self.place(thing.viewpoint)
        headed = thing.kind is not None and thing.kind.endswith(("bolt", "screw"))
        return f"the {thing.kind} heads" if headed else f"the side of the {named(thing)}"

    def _by_numbers(self, joint: Sequence[InOrder], *, loosening: bool) -> str:
        count = joint[-1].before + joint[-1].thing.count
        if loosening:
            return f"Loosen them in reverse order, from {count} to 1."
        return f"Tighten them in the order of the numbers, from 1 to {count}."

    def _told(self, joint: Sequence[InOrder], *, loosening: bool) -> str:
        """Return where each turn is, for who cannot see it."""
        layout, first = joint[0].layout, joint[0].thing
        if len(joint) > 1:
            layout = Layout(tuple(place for each in joint for place in each.layout.places), Shape.FREE)
        order = [each.before + number for each in joint for number in each.sequence]
        places = in_words(order, layout)
        if len(joint) == 1 and len(order) <= LONGEST_WORDS:
            names = [spaced(first.positions[number - 1]) for number in order] if first.positions else []
            if names:
                places += f"; the places in this order: {', '.join(names)}"
            elif order != sorted(order):
                places += f"; the places by their numbers: {', '.join(map(str, order))}"
        return f"The numbers are those of tightening: {places}." if loosening else sentence(places)

    def _stages(self, joint: Sequence[InOrder]) -> list[str]:
        """Return what each group is, where several share the joint, and its stages."""
        if len(joint) == 1:
            thing = joint[0].thing
            return [f"In stages, each once round all of them: {as_text(self.stages(thing))}."] if thing.stages else []
        return [self._group(each) for each in joint]

    def _group(self, each: InOrder) -> str:
        """`1 to 4: gearcase bolts (M8 x 1.25, 45 mm), to 18 N·m (13 lbf·ft).`"""
        thing, first, last = each.thing, each.before + 1, each.before + each.thing.count
        turns = str(first) if first == last else f"{first} {'and' if last == first + 1 else 'to'} {last}"
        sizes = ", ".join(filter(None, [unbroken(thing.thread or ""), *self.lengths(thing)]))
        torque = self.torque(thing)
        tight = as_text(self.stages(thing)) if thing.stages else f"to {torque}" if torque else ""
        name = f"{named(thing)} ({sizes})" if sizes else named(thing)
        return f"{turns}: {', '.join(filter(None, (name, tight)))}."
