"""What is said of a thing in a table, in flat sentences: each fact that an author gave, once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.called import has_own_places, is_one_of_a_kind, is_uncounted
from putback.model.details import Wear
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.setting import Disturber, Setting
from putback.model.terms import Ref
from putback.words.plain.fastened import PlainFastened
from putback.words.plain.runs import ended, in_text, sentence, upper


class PlainRemarks(PlainFastened):
    """What is said of facts that no sentence of a step has."""

    def remarks(self, thing: AnyThing, *, of_thread: bool = False) -> Iterator[str]:
        """Yield what a table has no column for, a sentence each; the author's note comes last."""
        if of_thread and isinstance(thing, Fastener):
            yield from self.of_fastener(thing)
            return
        if isinstance(thing, Part | Fastener | Line) and thing.single_use:
            yield self.say("remark", "Whenever it has been off: fit new.")
        if isinstance(thing, Part | Fastener) and thing.uses:
            yield self.how_often(thing)
        yield from self.renewed_with(thing)
        yield from self._of_several(thing)
        yield from self._of_kind(thing)
        if thing.inspect_when_off:
            # Translators: {faults} are an author's words, such as "cracks or wear".
            yield self.say(
                "remark", "Whenever it is off, look for: {faults}.", faults=self.telling.either(thing.inspect_when_off)
            )
        if thing.clean_before:
            # Translators: a thing is cleaned before others go on.
            yield self.say("remark", "Clean before fitting: {things}.", things=self.listed(thing.clean_before))
        yield from self._looked_at(thing)
        if thing.instead_of:
            yield self.say("remark", "Takes the place of: {things}.", things=self._replaced(thing.instead_of))
        if thing.note:
            yield sentence(thing.note)

    def _of_kind(self, thing: AnyThing) -> Iterator[str]:
        match thing:
            case Part():
                yield from self._of_part(thing)
            case Fastener():
                yield from self.of_fastener(thing)
            case Line(adjustable=True):
                yield self._marked()
            case Fluid():
                yield from self._of_fluid(thing)
            case Setting(measured=str() as measured):
                yield self.say("measure", "Where or how: {measured}", measured=ended(measured))
            case Control(guard=True):
                yield self.say(
                    "remark", "A guard: nothing runs unless it is: {position}.", position=self.word(thing.normal.name)
                )
            case Line() | Control() | Setting():
                pass

    def _looked_at(self, thing: AnyThing) -> Iterator[str]:
        """Yield how a thing must be when it is back, before a run, and in one."""
        back, before, during = (
            ended(self.limit(limit)) if limit else ""
            for limit in (thing.check_when_back, thing.check_before_run, thing.check_in_run)
        )
        if back and isinstance(thing, Fluid):
            # Translators: {limit} are figures, or an author's words, with a stop.
            yield self.say("remark", "Check whenever it has been filled. Good: {limit}", limit=back)
        elif back:
            # Translators: {limit} are figures, or an author's words, with a stop.
            yield self.say("remark", "Check whenever it has been put back. Good: {limit}", limit=back)
        if before:
            # Translators: before the machine runs; {limit} are figures, or an author's words, with a stop.
            yield self.say("remark", "Check before each run. Good: {limit}", limit=before)
        if during:
            # Translators: while the machine runs; {limit} are figures, or an author's words, with a stop.
            yield self.say("remark", "Check during a run. Good: {limit}", limit=during)
        elif isinstance(thing, Setting) and thing.watched:
            yield self.say("remark", "Check it during a run.")

    def _replaced(self, refs: Sequence[Ref]) -> str:
        """Return what a thing is there for instead, with its variants: two may have one name."""
        others = [self.things.get(ref.name) for ref in refs]
        return in_text(
            self.row(self.called(other), other.when) if other else ref.name
            for other, ref in zip(others, refs, strict=True)
        )

    def _of_several(self, thing: AnyThing) -> Iterator[str]:
        """Yield what is said of a thing that is there several times."""
        if isinstance(thing, Fastener) and thing.counts:
            said = [
                # Translators: how many pieces there are on which machine; {built} such as "shaft: long".
                self.say("remark", "{count} with {built}", count=self.telling.number(count), built=self._one_case(when))
                for when, count in thing.counts
            ]
            yield f"{in_text(said)}."
        if is_uncounted(thing):
            yield self.say("remark", "Not counted: count them as they come off.")
        if has_own_places(thing) and is_one_of_a_kind(thing):
            yield self.say("remark", "Goes back where it came from, the same way round: mark it before it comes off.")
        elif has_own_places(thing):
            yield self.say(
                "remark",
                "Each goes back where it came from: mark them, or lay them out in order, before they come off.",
            )
        places = self.machine.places.get(thing.each.name) if self.machine and thing.each else None
        if thing.each and places:
            yield self._at_each(thing, self.word(thing.each.name), self.words(places.names))

    def _at_each(self, thing: AnyThing, place: str, names: str) -> str:
        if isinstance(thing, Fastener) and thing.count > 1:
            count = self.telling.number(thing.count)
            # Translators: so many pieces at each of some places, such as "2 for each of: cylinder 1, 2 and 3."
            return self.say("remark", "{count} for each of: {place} {names}.", count=count, place=place, names=names)
        # Translators: a thing is there at each of some places, such as "For each of: cylinder 1, 2 and 3."
        return self.say("remark", "For each of: {place} {names}.", place=place, names=names)

    def disturbers(self, disturbers: Sequence[Disturber]) -> str:
        """Return what disturbs a setting, or adjusts it, as a list; nothing for nothing."""
        return in_text(self._disturber(ref, at) for ref, at in disturbers)

    def _disturber(self, ref: Ref, at: Sequence[Ref]) -> str:
        thing = self.things.get(ref.name)
        name = self.name_of(thing) if thing else ref.name
        return f"{name} ({self.words([place.name for place in at])})" if at else name

    def _marked(self) -> str:
        return self.say("remark", "Mark its position before it comes off.")

    def _of_part(self, thing: Part) -> Iterator[str]:
        if thing.material:
            yield self.say("remark", "Material: {material}.", material=self.word(thing.material.name))
        yield from filter(None, [self.size_of(thing)])
        if thing.assembly:
            # Translators: parts that come off together as one piece.
            yield self.say("remark", "Comes off as one with: {things}.", things=self.listed(thing.assembly))
        if thing.adjustable:
            yield self._marked()
        if thing.loosen_evenly:
            yield self.say(
                "remark", "It warps unless its fasteners are loosened a little at a time, in the opposite order."
            )
        if thing.turns_with:
            yield self.say("remark", "Turns with: {things}.", things=self.listed(thing.turns_with))
        if thing.guard:
            # Translators: of a cover that keeps hands out of moving parts.
            yield self.say("remark", "A guard: nothing runs without it.")
        if thing.lubricant:
            yield self.say(
                "remark", "Before it goes on, put on: {consumable}.", consumable=self.consumable(thing.lubricant)
            )
        yield from self._rotation(thing)
        if thing.hangs:
            yield self.say("remark", "Only its fasteners hold it up: it falls when they are out.")
        if thing.wear:
            yield self._wear_limit(thing.wear)

    def _rotation(self, thing: Part) -> Iterator[str]:
        """Yield which way a part is turned."""
        seen = self.place(thing.seen_from) if thing.seen_from else ""
        if thing.rotation and seen:
            yield self.say(
                "remark",
                "Turn only {way}, seen from: {place}. The other way may damage it, or what it turns.",
                way=self.way(thing.rotation),
                place=seen,
            )
        elif thing.rotation:
            yield self.say(
                "remark",
                "Turn only {way}. The other way may damage it, or what it turns.",
                way=self.way(thing.rotation),
            )
        for need, way in thing.rotations:
            control, position = self.listed([need.control]), self.word(need.position.name)
            if seen:
                # Translators: a part may be turned only one way while a control is in a position.
                yield self.say(
                    "remark",
                    "With {control} at “{position}”: turn only {way}, seen from: {place}.",
                    control=control,
                    position=position,
                    way=self.way(way.name),
                    place=seen,
                )
            else:
                # Translators: a part may be turned only one way while a control is in a position.
                yield self.say(
                    "remark",
                    "With {control} at “{position}”: turn only {way}.",
                    control=control,
                    position=position,
                    way=self.way(way.name),
                )
        if thing.rotations:
            yield self.say("remark", "Otherwise it turns freely, and nothing turns with it.")

    def _wear_limit(self, wear: Wear) -> str:
        """Return what is measured on a part, and its limit."""
        measure = upper(wear.measure or self.say("wear", "wear"))
        if not wear.limit and not wear.new:
            return self.say("wear", "What is measured: {measure}.", measure=measure)
        if not wear.limit and wear.new:
            return self.say("wear", "{measure} – new: {new}.", measure=measure, new=self.limit(wear.new))
        assert wear.limit is not None
        if wear.new:
            # Translators: what is measured on a part, its limit, and the value of a new one.
            return self.say(
                "wear",
                "{measure}: {limit}; new: {new}.",
                measure=measure,
                limit=self.limit(wear.limit),
                new=self.limit(wear.new),
            )
        return f"{measure}: {ended(self.limit(wear.limit))}"

    def _of_fluid(self, thing: Fluid) -> Iterator[str]:
        if thing.vents:
            # Translators: where air gets out or in while a fluid is filled or drained.
            yield self.say("remark", "Air goes in and out at: {things}.", things=self.listed(thing.vents))
        if thing.level:
            # Translators: {where} such as "between the marks MIN and MAX: dipstick".
            yield self.say("remark", "Level: {where}.", where=self.level_at(thing))
        if thing.settles:
            yield self.say(
                "remark", "Check the level again after it has stood for {time}.", time=self.quantity(thing.settles)
            )
