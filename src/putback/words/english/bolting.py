"""What is said of the drawings of joints, in English."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.called import counted, named, pieces_of, title_of
from putback.model.machine import Fastener
from putback.model.piece_sizes import PieceSize
from putback.model.same_joint import InOrder
from putback.source.grammar import unbroken
from putback.units import show
from putback.words.drawn import DrawnWords, TrueSizeWords
from putback.words.english.orders import in_words
from putback.words.english.things import joined, sentence, spaced
from putback.words.english.tightening import Tightening
from putback.words.pieces import as_text

_SIDES = {"up": "at the top", "right": "on the right", "down": "at the bottom", "left": "on the left"}


class Bolting(Tightening):
    """What is said of orders and sizes."""

    def true_size(self, sizes: Sequence[PieceSize], cut: Sequence[bool], in_full: Sequence[bool]) -> TrueSizeWords:
        """Return the words of pieces that are drawn at true size."""
        names = list(dict.fromkeys(title_of(size.thing) for size in sizes))
        label = f"{joined([names[0], *(f'{name[:1].lower()}{name[1:]}' for name in names[1:])])} at true size"
        rows = tuple(self._sized(size, cut=each) for size, each in zip(sizes, cut, strict=True))
        told = sentence("; ".join(f"{name}: {facts}" for name, facts in rows))
        caption = [f"{label}, when printed at 100 %: lay the piece on its drawing."]
        if all(in_full):
            caption.append("Length is that of the whole piece.")
        elif any(in_full):
            caption.append("Length is measured from under the head; a countersunk head, or none, counts in full.")
        elif any(size.length for size in sizes):
            caption.append("Length is measured from under the head.")
        if any(cut):
            caption.append("A broken piece is longer than this page is wide: only its head and its thickness are true.")
        return TrueSizeWords(label, " ".join(caption), f"{label}. {told}", told, "The size holds on paper only.", rows)

    def _sized(self, size: PieceSize, *, cut: bool) -> tuple[str, str]:
        """`Gearcase bolts`, `4 × M8 x 1.25, 45 mm, 13 mm hex, at front left and front right`."""
        thing = size.thing
        if not isinstance(thing, Fastener):
            return title_of(thing), ""
        pieces = len(size.positions) or (1 if thing.counts else pieces_of(thing))
        times = f"{pieces} × " if pieces > 1 else ""
        places = f"at {joined([spaced(place) for place in size.positions])}" if size.positions else ""
        length = show(size.length) if size.length else ""
        facts = [unbroken(thing.thread or ""), length, self.driven(thing), places, "drawn shorter" if cut else ""]
        return title_of(thing), times + ", ".join(filter(None, facts))

    def drawn(self, joint: Sequence[InOrder], *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a joint's order."""
        first = joint[0].thing
        label = f"{'Loosening' if loosening else 'Tightening'} order of the {joined([counted(e.thing) for e in joint])}"
        seen = f"Seen from {self._whence(first)}."
        sides = ((first.front, "front"), (first.top, "top"))
        shown = tuple((side, word) for side, word in sides if side)
        turned = joined([f"the {word} of the machine is {_SIDES[side]}" for side, word in shown])
        how = self._by_numbers(joint, loosening=loosening)
        told = [f"{how} {self._told(joint, loosening=loosening)}", seen, sentence(turned) + "." if turned else ""]
        description = " ".join(filter(None, told))
        tags, place = self._tags(joint)
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
        parts = []
        for each in joint:
            places = in_words(each.sequence, each.layout, before=each.before)
            numbered = each.sequence != tuple(range(1, len(each.sequence) + 1)) and not each.thing.positions
            named_places = [spaced(each.thing.positions[n - 1]) for n in each.sequence] if each.thing.positions else []
            order = joined(named_places, "then") if named_places else ", ".join(map(str, each.sequence))
            of = f"{named(each.thing)}: " if len(joint) > 1 else ""
            shown = f" (places {order})" if (numbered or named_places) and len(each.sequence) <= 40 else ""
            parts.append(f"{of}{places}{shown}")
        told = "; ".join(parts)
        return f"The numbers are those of tightening: {told}." if loosening else f"{sentence(told)}"

    def _stages(self, joint: Sequence[InOrder]) -> list[str]:
        """Return what each group is, where several share the joint, and its stages."""
        if len(joint) == 1:
            thing = joint[0].thing
            return [f"In stages, each once round all of them: {as_text(self.stages(thing))}."] if thing.stages else []
        return [self._group(each) for each in joint]

    def _group(self, each: InOrder) -> str:
        """`1 to 4: gearcase bolts, M8 x 1.25, 45 mm, 18 N·m (13 lbf·ft).`"""
        thing, first, last = each.thing, each.before + 1, each.before + each.thing.count
        turns = str(first) if first == last else f"{first} to {last}"
        tight = as_text(self.stages(thing)) if thing.stages else self.torque(thing)
        facts = [named(thing), unbroken(thing.thread or ""), *self.lengths(thing), tight]
        return f"{turns}: {', '.join(filter(None, facts))}."

    def _tags(self, joint: Sequence[InOrder]) -> tuple[tuple[tuple[tuple[str, ...], ...], ...], bool]:
        """Return what stands beside each piece, by groups, and whether numbers of places stand there."""
        single = len(joint) == 1
        sizes = {(e.thing.thread, show(e.thing.length) if e.thing.length else "") for e in joint}
        threads = {thread for thread, _ in sizes}
        numbers = single and not joint[0].thing.positions
        if numbers and joint[0].sequence == tuple(range(1, len(joint[0].sequence) + 1)):
            numbers = False
        found = []
        for each in joint:
            thing = each.thing
            by_place = dict(thing.lengths)
            lines = []
            for number in range(1, thing.count + 1):
                name = thing.positions[number - 1] if thing.positions else ""
                length = by_place.get(name) or (thing.length if len(sizes) > 1 else None)
                thread = (thing.thread or "").split(" ")[0] if len(threads) > 1 else ""
                size = unbroken(" ".join(filter(None, (thread, show(length) if length else ""))))
                lines.append(tuple(filter(None, (spaced(name) or (str(number) if numbers else ""), size))))
            found.append(tuple(lines))
        return tuple(found), numbers
