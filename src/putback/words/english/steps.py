"""Sentences in English: the imperative, one action, the thing by its name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import assert_never

from putback.model import job as j
from putback.model.job import Step
from putback.model.machine import Control, Fastener, Fluid, Part
from putback.model.said import Limit
from putback.model.terms import Ref
from putback.source.grammar import number
from putback.units import Form, Quantity
from putback.words.english.things import joined, spaced
from putback.words.english.tightening import Tightening, until
from putback.words.pieces import Phrase, phrase


class Steps(Tightening):
    """What is said of steps."""

    def generated(self, step: Step) -> Phrase:
        """Return the sentence that verb and facts make."""
        action = step.action
        match action:
            case j.Remove(things=things, count=count, at=at):
                gently = self.gently(things)
                how = f". Loosen them {gently}, until all are loose, before the first comes out" if gently else ""
                return phrase("Remove ", self.all_of(things, count, facts=True, at=at), f"{how}.")
            case j.Install():
                return self.install(action)
            case j.Replace():
                return self.replace(action)
            case j.Loosen(things=things, count=count, at=at):
                what = self.all_of(things, count, facts=True, at=at)
                gently = self.gently(things) if count is None else ""
                leave = f". Leave {self._them(things, count, at)} in."
                return phrase("Loosen ", what, f" {gently}" if gently else "", leave)
            case j.Tighten():
                return self.tighten(action, step.tools)
            case j.Disconnect(things=things, at=at):
                return phrase("Disconnect ", self.all_of(things), self.end(at), ".")
            case j.Connect(things=things, at=at):
                return phrase("Connect ", self.all_of(things), self.end(at), ".")
            case j.Drain(things=things, volume=volume):
                return phrase("Let ", self.all_of(things), " run out", self.amount(things, volume), ".")
            case j.Fill(things=things, volume=volume):
                return phrase("Refill ", self.all_of(things), self.grade(things, volume), ".")
            case j.Set(things=things, to=to):
                return self.set(things, to)
            case j.Place(things=things, at=at):
                return phrase("Put ", self.all_of(things), f" in place{f': {self.place(at)}' if at else ''}.")
            case j.Clear(things=things):
                return phrase("Take ", self.all_of(things), " away.")
            case j.Mark(things=things, against=against):
                return phrase(
                    "Mark the position of ", self.all_of(things), f" against {self.place(against)}." if against else "."
                )
            case j.Align(things=things, against=against):
                mark = "its mark" if self.singular(things) else "their marks"
                where = f" against {self.place(against)}" if against else ""
                return phrase("Align ", self.all_of(things), f" with {mark}{where}.")
            case j.Apply(things=things, to=to):
                consumables = joined([self.consumable(ref.name) for ref in things])
                return phrase(f"Apply {consumables} to ", self.all_of(to), ".")
            case j.Clean(things=things, with_=with_):
                means = f" with {self.consumable(with_.name)}" if with_ else ""
                return phrase("Clean ", self.all_of(things), f"{means}.")
            case j.Inspect(things=things, for_=for_):
                seek = f" for {joined(for_, 'or')}" if for_ else ""
                return phrase("Inspect ", self.all_of(things), f"{seek}.")
            case j.Measure():
                return self.measure(action)
            case j.Check(things=things, limit=limit):
                return phrase("Check ", self.all_of(things), f": {self.limit(limit)}." if limit else ".")
            case j.Run(things=things, at=at, for_=for_):
                speed = f" at {self.at_speed(at)}" if at else ""
                time = f" for {self.quantity(for_)}" if for_ else ""
                return phrase("Run ", self.all_of(things), f"{speed}{time}.")
            case j.Lift():
                return self.lift(action)
            case j.Wait(duration=duration, until=end):
                time = f" {self.quantity(duration)}{',' if end else ''}" if duration else ""
                return phrase(f"Wait{time}{f' until {end}' if end else ''}.")
            case j.Do(things=things):
                return phrase(f"Do: {joined([self.block(ref.name) for ref in things])}.")
            case j.Undo(things=things):
                return phrase(f"Undo: {joined([self.block(ref.name) for ref in things])}.")
            case j.Again(things=things):
                named = joined([spaced(ref.name) for ref in things])
                return phrase(f"Go back to the step “{named}” and go on from there.")
            case j.Caution(things=things):
                return phrase(joined([self.caution(ref.name) for ref in things]))
            case j.Note(words=words):
                return phrase(words)
            case j.Stop(words=words):
                return phrase("Stop here. ", words)
            case _:
                assert_never(action)

    def install(self, action: j.Install) -> Phrase:
        """`Install a new impeller (part number TD-3102).` · `Install the six cover screws hand-tight.`"""
        article = "a new" if action.new else "the"
        first = self.things.get(action.things[0].name) if action.things else None
        body = self.all_of(action.things, action.count, article, facts=True, at=action.at, new=action.new)
        end = self.how_far(action.things)
        if action.turn and not isinstance(first, Fastener):
            end = f" while you turn the shaft {self.turning(action.turn.name)}"
        elif action.turn:
            end = f"{end}, turned {self.turning(action.turn.name)}"
        return phrase("Install ", body, f"{end}.")

    def replace(self, action: j.Replace) -> Phrase:
        """`Replace the drain-plug washer with a new one (part number AG-2301).`"""
        things = action.things
        one = self.singular(things, action.count or len(action.at))
        what = self.all_of(things, action.count, facts=True, at=action.at, new=True)
        far = self.how_far(things)
        return phrase("Replace ", what, f" with {'a new one' if one else 'new ones'}{f',{far}' if far else ''}.")

    def how_far(self, things: Sequence[Ref]) -> str:
        """Return how far a fastener goes in at first: ` hand-tight`, ` by hand until it stops`."""
        first = self.things.get(things[0].name) if things else None
        if isinstance(first, Fastener) and first.turned:
            return " hand-tight"
        return f" by hand{until(first.by_hand)}" if isinstance(first, Fastener) and first.by_hand else ""

    def turning(self, way: str) -> str:
        """`clockwise, never anticlockwise`."""
        other = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}.get(way)
        return f"{way}, never {other}" if other else way

    def set(self, things: Sequence[Ref], to: Ref) -> Phrase:
        """`Close the seacock.` · `Pull the lanyard.`; several controls have a sentence each."""
        result: Phrase = ()
        for ref in things:
            control = self.things.get(ref.name)
            words = (
                self.position(control, to.name)
                if isinstance(control, Control)
                else phrase("Set ", self.thing(ref), f" to {spaced(to.name)}.")
            )
            result = phrase(*result, " " if result else None, words)
        return result

    def measure(self, action: j.Measure) -> Phrase:
        """`Measure the height at the peak of the cam: ≥ 6.4 mm (0.252 in).`"""
        first = self.things.get(action.things[0].name) if action.things else None
        limit = self.good(action)
        what = self.all_of(action.things)
        if isinstance(first, Part) and first.wear and first.wear.measure:
            what = phrase(f"{self.other(first.wear.measure)} of ", what)
        return phrase("Measure ", what, f": {self.limit(limit)}." if limit else ".")

    def good(self, action: j.Measure) -> Limit | None:
        """Return within what a measured value is good: what the step says, or else the wear limit of the part."""
        if action.limit:
            return action.limit
        first = self.things.get(action.things[0].name) if action.things else None
        return first.wear.limit if isinstance(first, Part) and first.wear else None

    def lift(self, action: j.Lift) -> Phrase:
        """`Lift the cylinder head with the hoist, two people: 24 kg (53 lb).`"""
        means = f" with {self.other(action.with_.name)}" if action.with_ else ""
        people = ""
        if action.people:
            people = f", {number(action.people)} {'person' if action.people == 1 else 'people'}"
        masses = [
            self.quantity(part.mass)
            for ref in action.things
            if isinstance(part := self.things.get(ref.name), Part) and part.mass
        ]
        return phrase("Lift ", self.all_of(action.things), f"{means}{people}{f': {joined(masses)}' if masses else ''}.")

    def go_back(self, number: str) -> Phrase:
        """Return how to go on from an earlier step."""
        return phrase(f"Go back to step {number} and go on from there.")

    def otherwise(self, step: Step) -> str:
        """Return what leads to the steps under `otherwise`: it says of what, since a page may end between."""
        match step.action:
            case j.Inspect(for_=for_):
                if not for_:
                    return "If it is not good:"
                return "If you find any:" if len(for_) == 1 else "If you find any of these:"
            case j.Measure():
                return self.outside(self.good(step.action))
            case _:
                return "If not:"

    def outside(self, good: Limit | None) -> str:
        """`If the value is more than 0.3 mm (0.012 in):`"""
        limit = good.quantity if good else None
        if limit is None:
            return "If the value is not so:" if good else "If the value is not good:"
        shown = self.quantity(limit)
        for form, words in _BEYOND.items():
            if limit.form is form:
                bare = shown.replace(form.value, "").replace("(\N{NO-BREAK SPACE}", "(").strip()
                return f"If the value is {words} {bare}:"
        return f"If the value is {'not' if limit.form is Form.VALUE else 'outside'} {shown}:"

    # Bits of sentences.

    def singular(self, things: Sequence[Ref], count: int | None = None) -> bool:
        """Tell whether a step speaks of one piece: `it`, `its mark`, `a new one`."""
        thing = self.things.get(things[0].name) if len(things) == 1 else None
        if count and isinstance(thing, Fastener):
            return count == 1
        return len(things) == 1 and (thing is None or not self.several(thing))

    def _them(self, things: Sequence[Ref], count: int | None, at: Sequence[Ref]) -> str:
        return "it" if self.singular(things, count or len(at)) else "them"

    def end(self, at: Ref | None) -> Phrase:
        """` at the pump`."""
        return phrase(" at ", self.thing(at)) if at else ()

    def volume(self, things: Sequence[Ref], volume: Quantity | None) -> str | None:
        """Return how much of a fluid there is, from the step, or from the machine."""
        quantity = volume or next(
            (t.volume for ref in things if isinstance(t := self.things.get(ref.name), Fluid) and t.volume), None
        )
        return self.quantity(quantity) if quantity else None

    def amount(self, things: Sequence[Ref], volume: Quantity | None) -> str:
        """`, about 4.5 l (4.8 US qt)`."""
        shown = self.volume(things, volume)
        return f", about {shown}" if shown else ""

    def grade(self, things: Sequence[Ref], volume: Quantity | None) -> str:
        """`: ethylene glycol 50 %, 4.5 l`."""
        fluid = self.things.get(things[0].name) if things else None
        grade = fluid.grade if isinstance(fluid, Fluid) and fluid.grade else None
        facts = ", ".join(fact for fact in (grade, self.volume(things, volume)) if fact)
        return f": {facts}" if facts else ""

    def block(self, name: str) -> str:
        """Return the title of a block."""
        entry = self.library.blocks.get(name)
        return entry.title if entry else name

    def caution(self, name: str) -> str:
        """Return the hazard of a safety message."""
        entry = self.library.cautions.get(name)
        return entry.hazard if entry else name

    def said(self, text: str, more: Phrase) -> Phrase:
        """Return an author's text and, behind it, what it does not say."""
        return phrase(text if text.endswith((".", "!", "?", ":")) else f"{text}.", " ", more)


_BEYOND = {
    Form.AT_MOST: "more than",
    Form.LESS_THAN: "not less than",
    Form.AT_LEAST: "less than",
    Form.MORE_THAN: "not more than",
}
"""How a value is out of a limit that has one end."""
