"""What is said beside a drawing or a picture, in English."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.called import counted, named
from putback.model.machine import Fastener
from putback.model.terms import When
from putback.words.english.orders import in_words
from putback.words.english.safety import Safety
from putback.words.english.things import joined, sentence, spaced
from putback.words.language import DrawnWords, Pointed

_PLACES = {
    (-1, -1): "top left", (0, -1): "top", (1, -1): "top right", (-1, 0): "left", (0, 0): "middle", (1, 0): "right",
    (-1, 1): "bottom left", (0, 1): "bottom", (1, 1): "bottom right",
}  # fmt: skip
_WAYS = {
    (-1, -1): "up and to the left", (0, -1): "up", (1, -1): "up and to the right", (-1, 0): "to the left",
    (0, 0): "beside it", (1, 0): "to the right", (-1, 1): "down and to the left", (0, 1): "down",
    (1, 1): "down and to the right",
}  # fmt: skip


class OfDrawings(Safety):
    """What a catalogue of words says of drawings."""

    def drawn(self, thing: Fastener, *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a group's order."""
        assert thing.places is not None
        label = f"{'Loosening' if loosening else 'Tightening'} order of the {counted(thing)}"
        told = self.order_told(thing, in_words(thing.sequence, thing.places), loosening=loosening)
        caption = self.order_caption(thing, loosening=loosening)
        return DrawnWords(label, f"{label}. {caption}", f"{label}. {told}", told, "front")

    def order_caption(self, thing: Fastener, *, loosening: bool) -> str:
        """Return how to read it: `Seen from the bolt heads. Tighten them in the order of the numbers, from 1 to 6.`"""
        headed = thing.kind is not None and thing.kind.endswith(("bolt", "screw"))
        seen = f"the {thing.kind} heads" if headed else f"the side of the {named(thing)}"
        return f"Seen from {seen}. {self._by_numbers(thing, loosening=loosening)}"

    def order_told(self, thing: Fastener, places: str, *, loosening: bool) -> str:
        """Return the same for who cannot see it; `places` says where each turn of tightening is."""
        if not loosening:
            return f"{self._by_numbers(thing, loosening=False)} {sentence(places)}"
        return f"{self._by_numbers(thing, loosening=True)} The numbers are those of tightening: {places}."

    def _by_numbers(self, thing: Fastener, *, loosening: bool) -> str:
        if loosening:
            return f"Loosen them in reverse order, from {thing.count} to 1."
        return f"Tighten them in the order of the numbers, from 1 to {thing.count}."

    def drawn_before(self, number: str) -> str:
        """Return where a drawing stands already on the page."""
        return f"See the drawing of the order at step {number}."

    def callout(self, name: str, text: str, when: When | None) -> str:
        """Return what a number stands for: `Pump cover: the notch is at the top (only with pump drive: belt)`."""
        thing = self.things.get(name)
        shelf = {**self.library.consumables, **self.library.equipment}
        called = self.title_of(thing) if thing else shelf[name].name if name in shelf else spaced(name)
        words = f"{called}: {text}" if name and text else called or text
        return self.row(words[:1].upper() + words[1:], when)

    def pointed_at(self, shown: Sequence[Pointed]) -> str:
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
