"""Flat sentences of steps that take apart, put together and move."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

from putback.model.machine import Control, Fastener, Fluid, Part
from putback.model.rotating import seen_from
from putback.model.terms import Ref
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace
from putback.model.verbs.turning import Turn
from putback.units import Quantity
from putback.words.pieces import Phrase
from putback.words.plain.runs import in_a_row, in_text, sentences
from putback.words.plain.tightening import PlainTightening

Tools: TypeAlias = Sequence[Ref]
"""The tools that a step names."""


class PlainWork(PlainTightening):
    """What is said of steps that take apart, put together and move."""

    def say_remove(self, action: Remove, _tools: Tools) -> Phrase:
        """`Remove: 6 × cover screw (M4 x 0.7, 6 mm slot).`"""
        things = self.all_of(action.things, action.count, facts=True, at=action.at)
        body = self.say_phrase("remove", "Remove: {things}.", things=things)
        gently = self.gently(action.things)
        if gently:
            # Translators: so that a part does not warp; {how} such as "in the opposite order, half a turn at a time".
            first = self.say(
                "remove", "Loosen first, {how}, until all are loose; only then take the first out.", how=gently
            )
            return sentences([body, first])
        return body

    def say_install(self, action: Install, _tools: Tools) -> Phrase:
        """`Install new: impeller (part number TD-3102).` · `Install: 6 × cover screw. Hand-tight.`"""
        first = self.things.get(action.things[0].name) if action.things else None
        things = self.all_of(action.things, action.count, facts=True, at=action.at, new=action.new)
        if action.new:
            body = self.say_phrase("install", "Install new: {things}.", things=things)
        else:
            body = self.say_phrase("install", "Install: {things}.", things=things)
        on_shaft = isinstance(first, Part) and (first.rotation or not isinstance(first, Fastener))
        if action.turn and on_shaft:
            return sentences([body, self._turning_the_shaft(action, action.turn.name)])
        turn = self.say("install", "Turn it {way}.", way=self.one_way(action.turn.name)) if action.turn else None
        return sentences([body, self.how_far(action.things), turn])

    def _turning_the_shaft(self, action: Install, way: str) -> str:
        whence = seen_from(action.things[0].name, self.things)
        if whence:
            return self.say(
                "install",
                "Turn the shaft meanwhile: {way}, seen from: {place}.",
                way=self.one_way(way),
                place=self.place(whence),
            )
        # Translators: while a part is pushed on, its shaft is turned.
        return self.say("install", "Turn the shaft meanwhile: {way}.", way=self.one_way(way))

    def how_far(self, things: Sequence[Ref]) -> str | None:
        """Return how far a fastener goes in at first, as a sentence."""
        first = self.things.get(things[0].name) if things else None
        if isinstance(first, Fastener) and first.turned:
            # Translators: a fastener is put in and turned by hand; a tool tightens it later.
            return self.say("install", "Only hand-tight for now.")
        if not isinstance(first, Fastener) or not first.by_hand:
            return None
        if further := first.past_hand_tight:
            # Translators: {how} are the author's words: "until the gasket touches"; {angle} such as "half a turn".
            return self.say(
                "install",
                "Tighten by hand: {how}; then further by {angle}.",
                how=first.by_hand,
                angle=self.turned(further),
            )
        # Translators: {how} are the author's words: "until it stops".
        return self.say("install", "Tighten by hand: {how}.", how=first.by_hand)

    def say_replace(self, action: Replace, _tools: Tools) -> Phrase:
        """`Replace with new: drain-plug washer (part number AG-2301).`"""
        things = action.things
        if not action.later:
            what = self.all_of(things, action.count, facts=True, at=action.at, new=True)
            body = self.say_phrase("replace", "Replace with new: {things}.", things=what)
            return sentences([body, self.how_far(things)])
        many = self._renewed_as_one(things)
        new = self.all_of(things, action.count, facts=True, at=action.at, new=True)
        if many:
            # Translators: so many pieces of one thing, each at its place.
            new = self.say_count_phrase("thing", "{count} piece: {thing}", "{count} pieces: {thing}", many, thing=new)
        # Translators: what came off is not used again; a new one is laid out that goes back later.
        return self.say_phrase("replace", "Lay out new, to go back: {things}. Discard the old.", things=new)

    def _renewed_as_one(self, things: Sequence[Ref]) -> int:
        """Return how many pieces a part has at all its places, if they are renewed only together; 0 if not so."""
        thing = self.things.get(things[0].name) if len(things) == 1 else None
        if self.machine is None or not isinstance(thing, Part) or isinstance(thing, Fastener):
            return 0
        together = any(ref.name == thing.key for each in self.machine.together for ref in each)
        return len(self.machine.places_of(thing)) if together else 0

    def say_loosen(self, action: Loosen, _tools: Tools) -> Phrase:
        """`Loosen, do not remove: 2 × hose clamp (7 mm hex).`"""
        what = self.all_of(action.things, action.count, facts=True, at=action.at)
        body = self.say_phrase("loosen", "Loosen, but do not remove: {things}.", things=what)
        gently = self.gently(action.things) if action.count is None else ""
        # Translators: {how} such as "in the opposite order, half a turn at a time".
        how = self.say("loosen", "Proceed {how}, until all are loose.", how=gently) if gently else None
        return sentences([body, how])

    def say_disconnect(self, action: Disconnect, _tools: Tools) -> Phrase:
        """`Disconnect: fuel hose – from: carburettor.`"""
        things = self.all_of(action.things)
        if action.at:
            return self.say_phrase(
                "disconnect", "Disconnect: {things} – from: {part}.", things=things, part=self.thing(action.at)
            )
        return self.say_phrase("disconnect", "Disconnect: {things}.", things=things)

    def say_connect(self, action: Connect, _tools: Tools) -> Phrase:
        """`Connect: fuel hose – to: carburettor.`"""
        things = self.all_of(action.things)
        if action.at:
            return self.say_phrase(
                "connect", "Connect: {things} – to: {part}.", things=things, part=self.thing(action.at)
            )
        return self.say_phrase("connect", "Connect: {things}.", things=things)

    def volume(self, things: Sequence[Ref], volume: Quantity | None) -> str | None:
        """Return how much of a fluid there is, from the step, or from the machine."""
        quantity = volume or next(
            (t.volume for ref in things if isinstance(t := self.things.get(ref.name), Fluid) and t.volume), None
        )
        return self.quantity(quantity) if quantity else None

    def say_drain(self, action: Drain, _tools: Tools) -> Phrase:
        """`Drain: coolant, about 4.5 l (4.8 US qt).`"""
        things, shown = self.all_of(action.things), self.volume(action.things, action.volume)
        if shown:
            return self.say_phrase("drain", "Drain: {things}, about {volume}.", things=things, volume=shown)
        return self.say_phrase("drain", "Drain: {things}.", things=things)

    def say_fill(self, action: Fill, _tools: Tools) -> Phrase:
        """`Fill: coolant – ethylene glycol 50 %, 4.5 l (4.8 US qt).`"""
        fluid = self.things.get(action.things[0].name) if action.things else None
        grade = fluid.grade if isinstance(fluid, Fluid) and fluid.grade else None
        facts = in_text(filter(None, (grade, self.volume(action.things, action.volume))))
        things = self.all_of(action.things)
        if facts:
            # Translators: {facts} are the grade of the fluid and how much of it.
            return self.say_phrase("fill", "Fill: {things} – {facts}.", things=things, facts=facts)
        return self.say_phrase("fill", "Fill: {things}.", things=things)

    def say_set(self, action: Set, _tools: Tools) -> Phrase:
        """`Fuel tap: set to “closed”.`; several controls have a sentence each."""
        return sentences(self._set(ref, action.to.name) for ref in action.things)

    def _set(self, ref: Ref, position: str) -> Phrase:
        control = self.things.get(ref.name)
        if isinstance(control, Control):
            return self.position(control, position)
        return self.say_phrase(
            "control", "{control}: set to “{position}”.", control=self.thing(ref), position=self.word(position)
        )

    def say_run(self, action: Run, _tools: Tools) -> Phrase:
        """`Run: engine – 1500 rpm, 5 min.`"""
        facts = in_text(
            filter(
                None, (self.speed(action.at) if action.at else "", self.quantity(action.for_) if action.for_ else "")
            )
        )
        things = self.all_of(action.things)
        if facts:
            # Translators: to let a machine run; {facts} are at which speed and how long.
            return self.say_phrase("run", "Run: {things} – {facts}.", things=things, facts=facts)
        # Translators: to let a machine run.
        return self.say_phrase("run", "Run: {things}.", things=things)

    def say_turn(self, action: Turn, tools: Tools) -> Phrase:
        """`Turn: crankshaft – two turns, clockwise, seen from: the flywheel, with: ratchet.`"""
        how = in_a_row(self._turn(action, tools))
        return self.say_phrase("turn", "Turn: {things} – {how}.", things=self.all_of(action.things), how=how)

    def _turn(self, action: Turn, tools: Tools) -> Iterator[str | Phrase]:
        if action.by:
            yield self.turned(action.by)
        if action.way:
            yield self.way(action.way.name)
        whence = action.seen_from or seen_from(action.things[0].name if action.things else "", self.things)
        if whence and action.way:
            yield self.say("turn", "seen from: {place}", place=self.place(whence))
        if tools:
            names = [self.entry(self.library.tools, ref) for ref in tools]
            yield self.say("turn", "with: {tools}", tools=self.telling.listed(names))
        else:
            yield self.say("turn", "by hand")
        if action.until:
            # Translators: {until} are the author's words for when to stop, such as "it clicks".
            yield self.say("turn", "until: {until}", until=action.until)

    def say_lift(self, action: Lift, _tools: Tools) -> Phrase:
        """`Lift: cylinder head – with: hoist, 2 people, weight: 24 kg (53 lb).`"""
        how = in_a_row(self._lift_how(action))
        things = self.all_of(action.things)
        if how:
            return self.say_phrase("lift", "Lift: {things} – {how}.", things=things, how=how)
        return self.say_phrase("lift", "Lift: {things}.", things=things)

    def _lift_how(self, action: Lift) -> Iterator[str]:
        if action.with_:
            yield self.say("lift", "with: {equipment}", equipment=self.other(action.with_.name))
        if action.people:
            yield self.say_count("lift", "{count} person", "{count} people", action.people)
        masses = [
            self.quantity(part.mass)
            for ref in action.things
            if isinstance(part := self.things.get(ref.name), Part) and part.mass
        ]
        if masses:
            yield self.say("lift", "weight: {mass}", mass=self.telling.listed(masses))
