"""Sentences in English: the imperative, one action, the thing by its name.

Each verb has a method, found by its language key.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from decimal import Decimal
from typing import TypeAlias

from putback.model.job import Step
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.aids import Clear, Place
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import Again, Do, Undo
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.controls import Run, Set
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.lifting import Lift
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.marking import Align, Mark
from putback.model.verbs.pieces import Install, Loosen, Remove, Replace, Tighten
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.model.verbs.turning import Turn
from putback.prose.statements import may_state
from putback.source.grammar import listed, number
from putback.units import Quantity
from putback.words.pieces import Phrase, phrase
from putback.words.things import Things, one, spaced, them

Tools: TypeAlias = Sequence[Ref]
"""The tools that a step names."""


class English(Things):
    """Makes the sentence of a step from its verb and the machine's facts."""

    def step(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence of a step: the author's own text, or one made from verb and facts.

        Of fasteners that stay in, the state of the threads is not said: nobody sees them.
        """
        if not step.text:
            return self.generated(step, stays_in)
        if isinstance(step.action, Tighten) and not may_state(step.text):
            # An author's own words must not lose the torque.
            return phrase(step.text, " ", self.generated(step, stays_in))
        return phrase(step.text)

    def generated(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence that verb and facts make."""
        if isinstance(step.action, Tighten):
            return self.tighten(step.action, step.tools, stays_in)
        say: Callable[[Action, Tools], Phrase] = getattr(self, f"say_{step.verb.key}")
        return say(step.action, step.tools)

    def say_remove(self, action: Remove, _tools: Tools) -> Phrase:
        """Return the sentence of `remove`."""
        things, count, at = action.things, action.count, action.at
        gently = self.gently(things)
        how = f". Loosen them {gently}, until all are loose, before the first comes out" if gently else ""
        return phrase("Remove ", self.all_of(things, count, facts=True, at=at), f"{how}.")

    def say_install(self, action: Install, _tools: Tools) -> Phrase:
        """Return the sentence of `install`."""
        return self.install(action)

    def say_replace(self, action: Replace, _tools: Tools) -> Phrase:
        """Return the sentence of `replace`."""
        things, count, at = action.things, action.count, action.at
        return phrase(
            "Replace ",
            self.all_of(things, count, at=at),
            f" with {'a new one' if one(things) else 'new ones'}.",
        )

    def say_loosen(self, action: Loosen, _tools: Tools) -> Phrase:
        """Return the sentence of `loosen`."""
        things, count, at = action.things, action.count, action.at
        return phrase(
            "Loosen ",
            self.all_of(things, count, facts=True, at=at),
            f" {gently}" if (gently := self.gently(things)) and count is None else "",
            ". Leave ",
            them(self, things, count),
            " in.",
        )

    def say_tighten(self, action: Tighten, tools: Tools) -> Phrase:
        """Return the sentence of `tighten`."""
        return self.tighten(action, tools)

    def say_disconnect(self, action: Disconnect, _tools: Tools) -> Phrase:
        """Return the sentence of `disconnect`."""
        things, at = action.things, action.at
        return phrase("Disconnect ", self.all_of(things), self.end(at), ".")

    def say_connect(self, action: Connect, _tools: Tools) -> Phrase:
        """Return the sentence of `connect`."""
        things, at = action.things, action.at
        return phrase("Connect ", self.all_of(things), self.end(at), ".")

    def say_drain(self, action: Drain, _tools: Tools) -> Phrase:
        """Return the sentence of `drain`."""
        things, volume = action.things, action.volume
        return phrase("Let ", self.all_of(things), " run out", self.amount(things, volume, "about "), ".")

    def say_fill(self, action: Fill, _tools: Tools) -> Phrase:
        """Return the sentence of `fill`."""
        things, volume = action.things, action.volume
        return phrase("Fill in ", self.all_of(things), self.grade(things, volume), ".")

    def say_set(self, action: Set, _tools: Tools) -> Phrase:
        """Return the sentence of `set`."""
        things, to = action.things, action.to
        return phrase("Set ", self.all_of(things), f" to {spaced(to.name)}.")

    def say_place(self, action: Place, _tools: Tools) -> Phrase:
        """Return the sentence of `place`."""
        things, at = action.things, action.at
        return phrase("Put ", self.all_of(things), f" in place{f': {at}' if at else ''}.")

    def say_clear(self, action: Clear, _tools: Tools) -> Phrase:
        """Return the sentence of `clear`."""
        return phrase("Take ", self.all_of(action.things), f" away{f': {action.at}' if action.at else ''}.")

    def say_mark(self, action: Mark, _tools: Tools) -> Phrase:
        """Return the sentence of `mark`."""
        things, against = action.things, action.against
        return phrase("Mark the position of ", self.all_of(things), f" against {against}." if against else ".")

    def say_align(self, action: Align, _tools: Tools) -> Phrase:
        """Return the sentence of `align`."""
        things, against = action.things, action.against
        mark = f"{'its mark' if one(things) else 'their marks'}{f' against {against}' if against else ''}"
        return phrase("Align ", self.all_of(things), f" with {mark}.")

    def say_apply(self, action: Apply, _tools: Tools) -> Phrase:
        """Return the sentence of `apply`."""
        things, to = action.things, action.to
        what = listed([self.consumable(ref.name) for ref in things])
        return phrase(f"Apply {what} to ", self.all_of(to), ".")

    def say_clean(self, action: Clean, _tools: Tools) -> Phrase:
        """Return the sentence of `clean`."""
        things, with_ = action.things, action.with_
        means = f" with {self.consumable(with_.name)}" if with_ else ""
        return phrase("Clean ", self.all_of(things), f"{means}.")

    def say_inspect(self, action: Inspect, _tools: Tools) -> Phrase:
        """Return the sentence of `inspect`."""
        things, for_ = action.things, action.for_
        seek = f" for {listed(for_, 'or')}" if for_ else ""
        return phrase("Inspect ", self.all_of(things), f"{seek}.")

    def say_measure(self, action: Measure, _tools: Tools) -> Phrase:
        """Return the sentence of `measure`."""
        return self.measure(action)

    def say_check(self, action: Verify, _tools: Tools) -> Phrase:
        """Return the sentence of `check`."""
        things, limit = action.things, action.limit
        return phrase("Check ", self.all_of(things), f": {self.limit(limit)}." if limit else ".")

    def say_run(self, action: Run, _tools: Tools) -> Phrase:
        """Return the sentence of `run`."""
        things, at, for_ = action.things, action.at, action.for_
        speed = f" at {at}" if at else ""
        time = f" for {self.quantity(for_)}" if for_ else ""
        return phrase("Run ", self.all_of(things), f"{speed}{time}.")

    def say_lift(self, action: Lift, _tools: Tools) -> Phrase:
        """Return the sentence of `lift`."""
        things, with_ = action.things, action.with_
        means = f" with {self.other(with_.name)}" if with_ else ""
        return phrase("Lift ", self.all_of(things), f"{means}{self.mass(things)}.")

    def say_wait(self, action: Wait, _tools: Tools) -> Phrase:
        """Return the sentence of `wait`."""
        duration, until = action.duration, action.until
        time = f" {self.quantity(duration)}" if duration else ""
        return phrase(f"Wait{time}{f', until {until}' if until else ''}.")

    def say_do(self, action: Do, _tools: Tools) -> Phrase:
        """Return the sentence of `do`."""
        return phrase(f"Do: {listed([self.block(ref.name) for ref in action.things])}.")

    def say_undo(self, action: Undo, _tools: Tools) -> Phrase:
        """Return the sentence of `undo`."""
        return phrase(f"Undo: {listed([self.block(ref.name) for ref in action.things])}.")

    def say_again(self, action: Again, _tools: Tools) -> Phrase:
        """Return the sentence of `again`."""
        return phrase(
            f"Go back to the step “{listed([spaced(ref.name) for ref in action.things])}” and go on from there."
        )

    def say_caution(self, action: Caution, _tools: Tools) -> Phrase:
        """Return the sentence of `caution`."""
        return phrase(listed([self.caution(ref.name) for ref in action.things]))

    def say_note(self, action: Note, _tools: Tools) -> Phrase:
        """Return the sentence of `note`."""
        return phrase(action.words)

    def say_stop(self, action: Stop, _tools: Tools) -> Phrase:
        """Return the sentence of `stop`."""
        return phrase("Stop here. ", action.words)

    def say_turn(self, action: Turn, tools: Tools) -> Phrase:
        """`Turn the crankshaft clockwise by hand, two turns.`"""
        way = f" {action.way.name}" if action.way else ""
        seen = f", seen from {action.seen_from}," if action.seen_from and action.way else ""
        names = [self.library.tools[ref.name].name if ref.name in self.library.tools else ref.name for ref in tools]
        means = f" with {listed([f'the {name}' for name in names])}" if names else " by hand"
        far = f", {self.turned(action.by)}" if action.by else ""
        until = f"{',' if far else ''} until {action.until}" if action.until else ""
        return phrase("Turn ", self.all_of(action.things), f"{way}{seen}{means}{far}{until}.")

    def turned(self, angle: Quantity) -> str:
        """`two turns` · `half a turn` · `90°`."""
        if angle.unit != "turn" or angle.nominal is None:
            return self.quantity(angle)
        if angle.nominal in _PARTS_OF_A_TURN:
            return _PARTS_OF_A_TURN[angle.nominal]
        whole = angle.nominal == angle.nominal.to_integral_value()
        count = number(int(angle.nominal)) if whole else self.quantity(angle).split("\N{NO-BREAK SPACE}")[0]
        return f"{count} turn{'' if angle.nominal == 1 else 's'}"


_PARTS_OF_A_TURN = {
    Decimal("0.25"): "a quarter of a turn",
    Decimal("0.5"): "half a turn",
    Decimal("0.75"): "three quarters of a turn",
}
