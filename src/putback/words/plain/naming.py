"""How things are called in flat sentences: by their names as they are, with figures before and facts after them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from putback.model.called import is_uncounted, pieces_of
from putback.model.details import Kit
from putback.model.kits import kit_of
from putback.model.library import LibraryEntry
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.said import source_of
from putback.model.terms import Ref, When
from putback.source.grammar import unbroken
from putback.units import Quantity
from putback.words.pieces import Phrase, Piece, Role, as_text, phrase
from putback.words.plain.amounts import PlainAmounts
from putback.words.plain.controls import ALIKE, BROUGHT
from putback.words.plain.kinds import KINDS
from putback.words.plain.runs import in_a_row, in_text, sentence, sentences, upper
from putback.words.plain.sizes import DRIVES, drive_parts


class PlainNames(PlainAmounts):
    """What flat sentences call the things of one guide."""

    def called(self, thing: AnyThing, pieces: int | None = None) -> str:
        """Return a thing with how many there are: `impeller`, `6 × cover screw`; of what nobody counted, all."""
        several = pieces_of(thing) if pieces is None else pieces
        if is_uncounted(thing):
            # Translators: of pieces that nobody has counted.
            return self.say("thing", "{thing} (all of them)", thing=thing.plural or thing.name)
        if several == 1 and pieces_of(thing) == 1:
            return thing.name
        count = self.telling.number(several)
        if several == 1 or not thing.plural:
            # Translators: so many pieces of one thing; the name is in the singular.
            return _unbroken(self.say("thing", "{count} × {thing}", count=count, thing=thing.name), count)
        # Translators: so many pieces of one thing; the name is in the plural.
        return _unbroken(self.say("thing", "{count} {things}", count=count, things=thing.plural), count)

    def some_of(self, thing: AnyThing, pieces: int, *, new: bool = False) -> str:
        """Return so many pieces of a thing that has more: `2 of 6 × cover screw`."""
        have = pieces_of(thing)
        if new or is_uncounted(thing) or pieces >= have:
            return self.called(thing, pieces if pieces < have else None)
        some, count = self.telling.number(pieces), self.telling.number(have)
        if thing.plural:
            # Translators: some pieces of all that there are; the name is in the plural.
            return self.say("thing", "{some} of {count} {things}", some=some, count=count, things=thing.plural)
        # Translators: some pieces of all that there are; the name is in the singular.
        return self.say("thing", "{some} of {count} × {thing}", some=some, count=count, thing=thing.name)

    def at_places(self, thing: AnyThing, pieces: int) -> str:
        """Return so many pieces of a thing whose places follow: they say which, so that nobody asks of how many."""
        return thing.name if pieces == 1 else self.called(thing, pieces)

    def name_of(self, thing: AnyThing) -> str:
        """Return a thing's name alone, in the plural when it is known and there are several."""
        return thing.plural if thing.plural and pieces_of(thing) != 1 else thing.name

    def title_of(self, thing: AnyThing) -> str:
        """Return a thing's name as a row or heading."""
        at_places = thing.each and isinstance(thing, Part | Fastener | Line)
        return upper(thing.plural if at_places and thing.plural else self.name_of(thing))

    def thing(self, ref: Ref, pieces: int | None = None, *, new: bool = False) -> Phrase:
        """Return a thing by its name, with how many of it; what is none, by its words."""
        thing = self.things.get(ref.name)
        if thing is None:
            return phrase(self.other(ref.name))
        words = self.called(thing) if pieces is None else self.some_of(thing, pieces, new=new)
        return (Piece(words, Role.THING, thing.of or ref.name),)

    def all_of(
        self,
        refs: Sequence[Ref],
        count: int | None = None,
        *,
        facts: bool = False,
        at: Sequence[Ref] = (),
        new: bool = False,
    ) -> Phrase:
        """Return things in a row; with `facts` their sizes stand behind them, with `new` their part numbers."""
        items = []
        for ref in refs:
            thing = self.things.get(ref.name)
            pieces = count or len(at) if isinstance(thing, Fastener) and (count or at) else None
            one = self.thing(ref, pieces, new=new)
            if thing and isinstance(thing, Fastener) and at and count in (None, len(at)):
                one = (Piece(self.at_places(thing, len(at)), Role.THING, thing.of or ref.name),)
            detail = self.facts_in(thing, sizes=facts, new=new) if thing else ""
            # Translators: a thing, with its sizes or its part number.
            items.append(self.say_phrase("thing", "{thing} ({facts})", thing=one, facts=detail) if detail else one)
        row = in_a_row(items)
        if not at or not row:
            return row
        places = self.words([place.name for place in at])
        # Translators: of pieces that have a place each, such as "front, left".
        return self.say_count_phrase(
            "thing", "{things} – place: {places}", "{things} – places: {places}", len(at), things=row, places=places
        )

    def listed(self, refs: Sequence[Ref]) -> str:
        """Return things in a row, as words."""
        return as_text(self.all_of(refs))

    def kind(self, kind: str) -> str:
        """Return what kind of fastener or line something is, in a table; an author's own word as it is."""
        return self.telling.told(KINDS[kind]) if kind in KINDS else self.written(kind)

    def place(self, words: str) -> str:
        """Return an author's words for a place; the key of a thing stands for its name."""
        thing = self.things.get(words)
        return self.written(words) if thing is None else self.name_of(thing)

    def other(self, words: str) -> str:
        """Return words that stand for no thing: a name of the library, or an author's words."""
        for entries in (self.library.equipment, self.library.consumables):
            if words in entries:
                return entries[words].name
        return self.written(words)

    def consumable(self, ref: Ref) -> str:
        """Return the name of a consumable; of a fluid of the machine too."""
        entry, thing = self.library.consumables.get(ref.name), self.things.get(ref.name)
        return entry.name if entry else thing.name if thing else self.word(ref.name)

    def entry(self, entries: Mapping[str, LibraryEntry], ref: Ref) -> str:
        """Return the name of an entry of the library."""
        found = entries.get(ref.name)
        return found.name if found else self.written(ref.name)

    # Facts.

    def facts(self, thing: Fastener) -> str:
        """Return what tells a fastener from others, in brackets, with a blank before; nothing when it has none."""
        found = self.facts_in(thing, sizes=True)
        return f" ({found})" if found else ""

    def facts_in(self, thing: AnyThing, *, sizes: bool, new: bool = False) -> str:
        """Return the same without brackets; with `new`, with the number by which it is bought."""
        facts = self.sizes(thing) if sizes and isinstance(thing, Fastener) else []
        if new and isinstance(thing, Part | Fastener | Line) and thing.number:
            facts.append(self.say("fact", "part number {number}", number=thing.number))
        return ", ".join(facts)

    def sizes(self, thing: Fastener) -> list[str]:
        """Return thread, lengths and drive of a fastener, as they are marked on the piece and on the tool."""
        facts = (unbroken(thing.thread or ""), *self.lengths(thing), self.driven(thing))
        return [fact for fact in facts if fact]

    def lengths(self, thing: Fastener) -> list[str]:
        """Return the length of a fastener, or that of the piece at each position."""
        where: dict[str, list[str]] = {}
        for position, length in thing.lengths:
            where.setdefault(self.as_marked(length), []).append(position)
        # Translators: the length of the pieces at some places.
        each = [
            self.say("fact", "{length} at: {places}", length=length, places=self.words(at))
            for length, at in where.items()
        ]
        return [self.as_marked(thing.length), *each] if thing.length else each

    def driven(self, thing: Fastener) -> str:
        """Return what turns a fastener, with its size; nothing when that is not said."""
        return self.drive_said(thing.drive)

    def drive_said(self, drive: str | None) -> str:
        """Return a drive with its size, in words of the language where it is one of those that have them."""
        kind, size = drive_parts(drive or "")
        if kind not in DRIVES:
            return unbroken(self.written(drive or ""))
        return re.sub(r"(?<=[0-9]) | (?=[0-9])", "\N{NO-BREAK SPACE}", self.telling.told(DRIVES[kind], size=size))

    def kit_of(self, thing: Part | Fastener | Line) -> Kit | None:
        """Return the kit in which a thing is bought."""
        return kit_of(self.machine, thing) if self.machine else None

    def kit(self, kit: Kit | None) -> str:
        """Return a kit with its number."""
        if kit is None:
            return "–"
        return f"{kit.name} ({kit.number})" if kit.number else kit.name

    def fluid(self, fluid: Fluid, volume: Quantity | None) -> str:
        """Return a fluid to lay out, with its grade and how much of it is filled in."""
        facts = in_text(filter(None, (fluid.grade, self.quantity(volume) if volume else "")))
        return f"{fluid.name}: {facts}" if facts else fluid.name

    # Positions of controls.

    def position(self, control: Control, position: str) -> Phrase:
        """Return what brings a control to a position, as a sentence; the author's own words come first."""
        own = control.phrase(position)
        if not own:
            return self.brought(control, position)
        words = sentence(own)
        start = words.lower().find(control.name.lower())
        if start < 0:
            return phrase(words)
        end = start + len(control.name)
        return phrase(words[:start], Piece(words[start:end], Role.THING, control.key), words[end:])

    def brought(self, control: Control, position: str) -> Phrase:
        """Return how a control comes to a position for which the author has no words."""
        name = Piece(self.name_of(control), Role.THING, control.key)
        word = source_of(position).lower()
        if (known := ALIKE.get(word, word)) in BROUGHT:
            return self.telling.told_phrase(BROUGHT[known], control=name)
        # Translators: to set a control, such as "Fuel tap: set to “half open”."
        return self.say_phrase(
            "control", "{control}: set to “{position}”.", control=self._first(name), position=self.word(position)
        )

    def _first(self, name: Piece) -> Piece:
        return name._replace(text=upper(name.text))

    def set_first(self, control: Control, position: str, when: When | None) -> Phrase:
        """Return a control to set before the work, and for which variants."""
        return sentences([self.only_when(when), self.position(control, position)])

    def positions(self, control: Control) -> str:
        """Return all positions of a control, each with the author's words for what brings it there."""
        shown = [
            f"{self.word(ref.name)} ({own.rstrip('.')})" if (own := control.phrase(ref.name)) else self.word(ref.name)
            for ref in control.positions
        ]
        return self.telling.either(shown)


def _unbroken(words: str, count: str) -> str:
    """Keep a number on the line of what it counts."""
    return words.replace(f"{count} ", f"{count}\N{NO-BREAK SPACE}", 1)
