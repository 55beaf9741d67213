"""What is said of a step below its sentence, in English: each fact that an author gave, once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.job import Step
from putback.model.machine import Fastener, Part
from putback.model.terms import Ref
from putback.model.verbs.asking import Measure, Verify
from putback.model.verbs.controls import Run
from putback.model.verbs.lifting import Lift
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.units import Quantity
from putback.words.english.remarks import Remarks
from putback.words.english.several import to_own_places
from putback.words.english.things import ended, joined


class Beside(Remarks):
    """What a catalogue of words says of a step that no sentence has."""

    def reason(self, text: str) -> str:
        """Return why a step is done: a sentence of the author as it is, and `Why: the thread is old.`"""
        return ended(text) if text[:1].isupper() else f"Why: {ended(text)}"

    def step_facts(self, step: Step) -> Iterator[str]:
        """Yield what a step's sentence has no place for: masses, engaged threads, how it is lifted, its time."""
        if isinstance(step.action, Remove | Install | Replace):
            yield from self._masses(step.action.things)
        if isinstance(step.action, Lift):
            yield from self._masses(step.action.things if len(step.action.things) > 1 else ())
            yield from self._lift(step.action)
        if isinstance(step.action, Install | Replace):
            yield from self._engagements(step.action.things)
        yield from to_own_places(step, self.things, self.own)
        if isinstance(step.action, Install) and step.action.without:
            yield f"Leave out the {self._listed(step.action.without)} for now."
        if isinstance(step.action, Verify | Measure | Run) and step.action.proves:
            yield f"This tests the {self._listed(step.action.proves)}."
        if step.time:
            yield f"Time: {self.quantity(step.time)}."

    def _masses(self, things: Sequence[Ref]) -> Iterator[str]:
        parts = [part for ref in things if isinstance(part := self.things.get(ref.name), Part) and part.mass]
        masses = [(part, self.quantity(part.mass)) for part in parts if part.mass]
        if len(things) == 1 and masses:
            yield f"{'They weigh' if self.several(masses[0][0]) else 'It weighs'} {masses[0][1]}."
        elif masses:
            yield f"Weight: {joined([f'{part.name} {mass}' for part, mass in masses])}."

    def _engagements(self, things: Sequence[Ref]) -> Iterator[str]:
        for ref in things:
            thing = self.things.get(ref.name)
            if isinstance(thing, Fastener) and thing.engagement:
                yield self.engaged(thing.engagement)

    def _lift(self, lift: Lift) -> Iterator[str]:
        """Yield who lifts, and from where to where: what the lifting equation was asked."""
        start = self._hands(lift.reach, lift.height)
        end = self._hands(lift.to_reach, lift.to_height)
        if start:
            yield f"Hands at the start: {start}."
        if end:
            yield f"Hands where it is put down: {end}."
        if lift.twist:
            yield f"The body turns by {self.quantity(lift.twist)}."
        if lift.grip:
            yield f"Grip: {lift.grip}."

    def _hands(self, reach: Quantity | None, height: Quantity | None) -> str:
        facts = [f"{self.quantity(reach)} in front of the ankles"] if reach else []
        facts += [f"{self.quantity(height)} above the floor"] if height else []
        return ", ".join(facts)
