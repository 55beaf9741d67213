"""What is said of a step below its sentence, in flat sentences: each fact that an author gave, once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.called import has_own_places, is_one_of_a_kind
from putback.model.job import Step
from putback.model.machine import Fastener, Part
from putback.model.said import source_of
from putback.model.terms import Ref
from putback.model.verbs.asking import Measure, Verify
from putback.model.verbs.controls import Run
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.units import Quantity
from putback.words.plain.remarks import PlainRemarks
from putback.words.plain.runs import ended, in_text, sentence
from putback.words.telling import Message

GRIPS = {
    # Translators: how well hands can hold a load.
    "good": Message("grip", "good"),
    "fair": Message("grip", "fair"),
    "poor": Message("grip", "poor"),
}
"""How a load can be held."""


class PlainBeside(PlainRemarks):
    """What is said of a step that no sentence has."""

    def reason(self, text: str) -> str:
        """Return why a step is done, as the author says it."""
        if source_of(text)[:1].isupper():
            return sentence(text)
        # Translators: why a step is done; {reason} are the author's words.
        return self.say("beside", "Why: {reason}", reason=ended(text))

    def step_facts(self, step: Step) -> Iterator[str]:
        """Yield what a step's sentence has no place for: masses, engaged threads, how it is lifted, its time."""
        if isinstance(step.action, Remove | Install | Replace):
            yield from self._masses(step.action.things)
        if isinstance(step.action, Lift):
            yield from self._masses(step.action.things if len(step.action.things) > 1 else ())
            yield from self._lift(step.action)
        if isinstance(step.action, Install | Replace):
            for ref in step.action.things:
                thing = self.things.get(ref.name)
                if isinstance(thing, Fastener) and thing.engagement:
                    yield self.engaged(thing.engagement)
        yield from self._to_own_places(step)
        if isinstance(step.action, Install) and step.action.without:
            # Translators: a part goes on, but a smaller one that belongs to it does not yet.
            yield self.say("beside", "Leave out for now: {things}.", things=self.listed(step.action.without))
        if isinstance(step.action, Verify | Measure | Run) and step.action.proves:
            # Translators: what a test is for, such as a hose that was off.
            yield self.say("beside", "This tests: {things}.", things=self.listed(step.action.proves))
        if step.time:
            yield self.say("beside", "Time: {time}.", time=self.quantity(step.time))

    def _masses(self, things: Sequence[Ref]) -> Iterator[str]:
        parts = [part for ref in things if isinstance(part := self.things.get(ref.name), Part) and part.mass]
        masses = [(part.name, self.quantity(part.mass)) for part in parts if part.mass]
        if len(things) == 1 and masses:
            yield self.say("beside", "Weight: {mass}.", mass=masses[0][1])
        elif masses:
            told = in_text(f"{name} {mass}" for name, mass in masses)
            yield self.say("beside", "Weight: {mass}.", mass=told)

    def _to_own_places(self, step: Step) -> Iterator[str]:
        """Yield what is said of pieces with places of their own where they come off and go back."""
        named = [self.things.get(ref.name) for ref in step.things]
        if not any(has_own_places(thing) for thing in named):
            return
        back = isinstance(step.action, Install) and not step.action.new
        if all(is_one_of_a_kind(thing) for thing in named):
            if back:
                yield self.say("beside", "Put it back the same way round.")
        elif isinstance(step.action, Remove):
            yield self.say("beside", "Keep each one marked with its place.")
        elif back:
            yield self.say("beside", "Each goes back where it came from.")

    def _lift(self, lift: Lift) -> Iterator[str]:
        """Yield who lifts, and from where to where: what the lifting equation was asked."""
        start = self._hands_at(lift.reach, lift.height)
        end = self._hands_at(lift.to_reach, lift.to_height)
        if start:
            # Translators: where the hands of who lifts are; {where} such as "300 mm in front of the ankles".
            yield self.say("lift", "Hands at the start: {where}.", where=start)
        if end:
            yield self.say("lift", "Hands where it is put down: {where}.", where=end)
        if lift.twist:
            yield self.say("lift", "The body turns by {angle}.", angle=self.quantity(lift.twist))
        if lift.grip:
            # Translators: how well the hands can hold a load; {grip} such as "good", "fair", "poor".
            grip = self.telling.told(GRIPS[lift.grip]) if lift.grip in GRIPS else lift.grip
            yield self.say("lift", "Grip: {grip}.", grip=grip)

    def _hands_at(self, reach: Quantity | None, height: Quantity | None) -> str:
        facts = []
        if reach:
            facts.append(self.say("lift", "{length} in front of the ankles", length=self.quantity(reach)))
        if height:
            facts.append(self.say("lift", "{length} above the floor", length=self.quantity(height)))
        return ", ".join(facts)
