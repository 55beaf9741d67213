"""Sentences in English on work at the machine: the imperative, one action, the thing by its name.

Each verb has a method, found by its key.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from putback.model.called import named
from putback.model.machine import Control, Fastener, Fluid, Part
from putback.model.rotating import seen_from
from putback.model.terms import Ref
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.turning import Turn
from putback.source.grammar import number
from putback.units import Quantity
from putback.words.english.seats import seat
from putback.words.english.things import joined, spaced
from putback.words.english.tightening import Tightening
from putback.words.pieces import Phrase, Piece, Role, phrase

Tools: TypeAlias = Sequence[Ref]
"""The tools that a step names."""


class Work(Tightening):
    """What is said of steps that take apart, put together and move."""

    def say_remove(self, action: Remove, _tools: Tools) -> Phrase:
        """`Remove the six cover screws (M4 x 0.7, slot 6 mm).`"""
        gently = self.gently(action.things)
        how = f". Loosen them {gently}, until all are loose, before the first comes out" if gently else ""
        return phrase("Remove ", self.all_of(action.things, action.count, facts=True, at=action.at), f"{how}.")

    def say_install(self, action: Install, _tools: Tools) -> Phrase:
        """`Install a new impeller (part number TD-3102).` · `Install the six cover screws hand-tight.`"""
        article = "a new" if action.new else "the"
        first = self.things.get(action.things[0].name) if action.things else None
        body = self.all_of(action.things, action.count, article, facts=True, at=action.at, new=action.new)
        end = self.how_far(action.things)
        on_shaft = isinstance(first, Part) and (first.rotation or not isinstance(first, Fastener))
        if action.turn and on_shaft:
            whence = seen_from(action.things[0].name, self.things)
            seen = f", seen from {self.place(whence)}" if whence else ""
            end = f" while you turn the shaft {self.turning(action.turn.name)}{seen}"
        elif action.turn:
            end = f"{end}, turned {self.turning(action.turn.name)}"
        return phrase("Install ", body, f"{end}.")

    def say_replace(self, action: Replace, _tools: Tools) -> Phrase:
        """`Replace the drain-plug washer with a new one (part number AG-2301).`

        Of what is off: `Take a new drum (part number AG-2301) in place of the old one; discard that.`
        """
        things = action.things
        one = self.singular(things, action.count or len(action.at))
        what = self.all_of(things, action.count, facts=True, at=action.at, new=True)
        far = self.how_far(things)
        if action.later:
            many = self.renewed_as_one(things)
            new = self.all_of(things, action.count, "a new", facts=True, at=action.at, new=True)
            if many:
                one, thing = False, self.things[things[0].name]
                piece = Piece(f"{number(many)} new {named(thing, many)}", Role.THING, things[0].name)
                new = phrase(piece, self.facts(thing, new=True))
            return phrase("Lay out ", new, f" to go back, and discard the old {'one' if one else 'ones'}.")
        return phrase("Replace ", what, f" with {'a new one' if one else 'new ones'}{f',{far}' if far else ''}.")

    def say_loosen(self, action: Loosen, _tools: Tools) -> Phrase:
        """`Loosen the two hose clamps (7 mm hex). Leave them on.`"""
        what = self.all_of(action.things, action.count, facts=True, at=action.at)
        gently = self.gently(action.things) if action.count is None else ""
        seats = {seat(thing) for ref in action.things if isinstance(thing := self.things.get(ref.name), Fastener)}
        where = "on" if seats == {"on"} else "in" if seats <= {"in"} else "in place"
        leave = f". Leave {self._them(action.things, action.count, action.at)} {where}."
        return phrase("Loosen ", what, f" {gently}" if gently else "", leave)

    def say_tighten(self, action: Tighten, tools: Tools) -> Phrase:
        """`Tighten the six cover screws crosswise to 1.8 N·m (16 lbf·in), threads clean and dry.`"""
        return self.tighten(action, tools)

    def say_disconnect(self, action: Disconnect, _tools: Tools) -> Phrase:
        """`Disconnect the fuel hose from the carburettor.`"""
        return phrase("Disconnect ", self.all_of(action.things), self.end(action.at, "from"), ".")

    def say_connect(self, action: Connect, _tools: Tools) -> Phrase:
        """`Connect the fuel hose to the carburettor.`"""
        return phrase("Connect ", self.all_of(action.things), self.end(action.at, "to"), ".")

    def say_drain(self, action: Drain, _tools: Tools) -> Phrase:
        """`Let the coolant drain, about 4.5 l (4.8 US qt).`"""
        shown = self.volume(action.things, action.volume)
        return phrase("Let ", self.all_of(action.things), " drain", f", about {shown}" if shown else "", ".")

    def say_fill(self, action: Fill, _tools: Tools) -> Phrase:
        """`Fill with coolant: ethylene glycol 50 %, 4.5 l (4.8 US qt).`"""
        things = action.things
        fluid = self.things.get(things[0].name) if things else None
        grade = fluid.grade if isinstance(fluid, Fluid) and fluid.grade else None
        facts = ", ".join(fact for fact in (grade, self.volume(things, action.volume)) if fact)
        return phrase("Fill with ", self.all_of(things, article=""), f": {facts}." if facts else ".")

    def say_set(self, action: Set, _tools: Tools) -> Phrase:
        """`Close the seacock.` · `Pull the lanyard.`; several controls have a sentence each."""
        result: Phrase = ()
        for ref in action.things:
            control = self.things.get(ref.name)
            words = (
                self.position(control, action.to.name)
                if isinstance(control, Control)
                else phrase("Set ", self.thing(ref), f" to {spaced(action.to.name)}.")
            )
            result = phrase(*result, " " if result else None, words)
        return result

    def say_run(self, action: Run, _tools: Tools) -> Phrase:
        """`Run the engine at 1500 rpm for 5 min.`"""
        speed = f" at {self.at_speed(action.at)}" if action.at else ""
        time = f" for {self.quantity(action.for_)}" if action.for_ else ""
        return phrase("Run ", self.all_of(action.things), f"{speed}{time}.")

    def say_turn(self, action: Turn, tools: Tools) -> Phrase:
        """`Turn the crankshaft two turns clockwise by hand.`"""
        way = f" {self.own(action.way.name)}" if action.way else ""
        whence = action.seen_from or seen_from(action.things[0].name if action.things else "", self.things)
        seen = f", seen from {self.place(whence)}," if whence and action.way else ""
        names = [self.library.tools[ref.name].name if ref.name in self.library.tools else ref.name for ref in tools]
        means = f" with {joined([f'the {name}' for name in names])}" if names else " by hand"
        far = f" {self.turned(action.by)}" if action.by else ""
        end = f"{',' if far else ''} until {action.until}" if action.until else ""
        return phrase("Turn ", self.all_of(action.things), f"{far}{way}{seen}{means}{end}.")

    def say_lift(self, action: Lift, _tools: Tools) -> Phrase:
        """`Lift the cylinder head with the hoist, two people. It weighs 24 kg (53 lb).`"""
        means = f" with {self.other(action.with_.name)}" if action.with_ else ""
        people = ""
        if action.people:
            people = f", {number(action.people)} {'person' if action.people == 1 else 'people'}"
        masses = [
            self.quantity(part.mass)
            for ref in action.things
            if isinstance(part := self.things.get(ref.name), Part) and part.mass
        ]
        it = "It weighs" if self.singular(action.things) else "They weigh"
        weight = f" {it} {joined(masses)}." if masses else ""
        return phrase("Lift ", self.all_of(action.things), f"{means}{people}.{weight}")

    # Bits of sentences.

    def how_far(self, things: Sequence[Ref]) -> str:
        """Return how far a fastener goes in at first: ` hand-tight`, ` by hand until it stops`."""
        first = self.things.get(things[0].name) if things else None
        if isinstance(first, Fastener) and first.turned:
            return " hand-tight"
        return f" {self.by_hand(first)}" if isinstance(first, Fastener) and first.by_hand else ""

    def turning(self, way: str) -> str:
        """`clockwise, never anticlockwise`."""
        other = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}.get(way)
        return self.own(f"{way}, never {other}" if other else way)

    def singular(self, things: Sequence[Ref], count: int | None = None) -> bool:
        """Tell whether a step speaks of one piece: `it`, `its mark`, `a new one`."""
        thing = self.things.get(things[0].name) if len(things) == 1 else None
        if count and isinstance(thing, Fastener):
            return count == 1
        return len(things) == 1 and (thing is None or not self.several(thing))

    def renewed_as_one(self, things: Sequence[Ref]) -> int:
        """Return how many pieces a part has at all its places, if they are renewed only together; 0 if not so."""
        thing = self.things.get(things[0].name) if len(things) == 1 else None
        if self.machine is None or not isinstance(thing, Part) or isinstance(thing, Fastener):
            return 0
        together = any(ref.name == thing.key for each in self.machine.together for ref in each)
        return len(self.machine.places_of(thing)) if together else 0

    def _them(self, things: Sequence[Ref], count: int | None, at: Sequence[Ref]) -> str:
        return "it" if self.singular(things, count or len(at)) else "them"

    def end(self, at: Ref | None, word: str) -> Phrase:
        """` to the pump`."""
        return phrase(f" {word} ", self.thing(at)) if at else ()

    def volume(self, things: Sequence[Ref], volume: Quantity | None) -> str | None:
        """Return how much of a fluid there is, from the step, or from the machine."""
        quantity = volume or next(
            (t.volume for ref in things if isinstance(t := self.things.get(ref.name), Fluid) and t.volume), None
        )
        return self.quantity(quantity) if quantity else None
