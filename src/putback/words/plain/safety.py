"""Flat sentences on safety: what to wear, what becomes of waste, who may do a job; and what is due after one."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.job import Job
from putback.model.library import Hazard
from putback.model.machine import Fastener
from putback.model.screwed import left_handed
from putback.units import Kind, Quantity, QuantityError
from putback.words.facts import quantity_or_words
from putback.words.pieces import Phrase, Piece, Role
from putback.words.plain.rows import PlainRows
from putback.words.plain.runs import sentences, upper
from putback.words.plain.turning import PlainTurning


class PlainSafety(PlainRows, PlainTurning):
    """What is said of safety."""

    def wear(self, items: Sequence[str]) -> str:
        """Return what to wear; nothing for nothing."""
        # Translators: protective equipment to wear.
        return self.say("safety", "Wear: {items}", items=", ".join(items)) if items else ""

    def waste(self, text: str) -> str:
        """Return what to do with what comes out."""
        # Translators: {what} is the author's sentence, such as "Take used oil to a collection point."
        return self.say("safety", "Waste: {what}", what=text)

    def skill(self, job: Job) -> str:
        """Return who can do a job."""
        return job.skill or self.labels.safety.any_skill

    def licensed(self, hazards: Sequence[Hazard]) -> str:
        """Return what a licensed professional must do."""
        names = upper(self.telling.listed([hazard.name for hazard in hazards]))
        # Translators: {hazards} such as "Mains electricity".
        return self.say("safety", "{hazards}: a licensed professional does this work, or oversees it.", hazards=names)

    def before_licensed(self, hazard: Hazard, titles: Sequence[str]) -> str:
        """Return which jobs need a licensed professional for a hazard."""
        # Translators: {jobs} are titles of jobs.
        applies = self.say("safety", "This applies to: {jobs}.", jobs="; ".join(titles))
        return f"{self.licensed([hazard])} {applies}"

    # After the job.

    def due_after(self, after: str) -> str:
        """Return after what a follow-up is due, as a heading: running hours, a distance, or the author's words."""
        due = quantity_or_words(after)
        if isinstance(due, Quantity):
            said = self.running_hours(due) if due.kind is Kind.TIME else self.quantity(due)
        else:
            said = after.rstrip(".:")
        # Translators: a heading; {what} such as "2 running hours", or an author's words such as "the first run".
        return self.say("due", "Due after: {what}", what=said)

    def once_more(
        self,
        thing: Fastener,
        count: int,
        hours: Quantity,
        torque: Quantity | None,
        steps: Sequence[str],
        slacken: Quantity | None = None,
    ) -> Phrase:
        """Return what is tightened once more, when, and how."""
        group = (Piece(self.some_of(thing, count), Role.THING, thing.key),)
        # Translators: {hours} such as "10 running hours".
        begin = self.say_phrase(
            "once more", "Tighten once more after {hours}: {things}.", hours=self.running_hours(hours), things=group
        )
        ordered = bool(thing.order or thing.sequence) and count > 1
        return sentences(
            [
                begin,
                self._loosened_first(slacken, count) if slacken else None,
                self._as_before(self._steps(steps), ordered=ordered),
                self.say_phrase("once more", "Torque: {torque}.", torque=self.stands_out(torque)) if torque else None,
                self.both_hands() if left_handed(thing) else None,
            ]
        )

    def _loosened_first(self, slacken: Quantity, count: int) -> str:
        angle = self.quantity(slacken)
        if count > 1:
            return self.say("once more", "One at a time: first loosen by {angle}, then tighten.", angle=angle)
        return self.say("once more", "First loosen by {angle}, then tighten.", angle=angle)

    def _as_before(self, steps: str, *, ordered: bool) -> str:
        if ordered:
            # Translators: {steps} are numbers of steps, such as "9" or "9 and 10".
            return self.say("once more", "In the same order as in step {steps}.", steps=steps)
        # Translators: {steps} are numbers of steps, such as "9" or "9 and 10".
        return self.say("once more", "As in step {steps}.", steps=steps)

    def _steps(self, steps: Sequence[str]) -> str:
        run = len(steps) > 2 and all(each.isdigit() for each in steps) and int(steps[-1]) - int(steps[0]) < len(steps)
        return f"{steps[0]}–{steps[-1]}" if run else self.telling.listed(steps)

    def running_hours(self, hours: Quantity) -> str:
        """Return running hours; a range or another form as it is written."""
        try:
            exact = hours.to("h").nominal
        except QuantityError:
            exact = None
        if exact is None or exact != exact.to_integral_value():
            # Translators: {time} such as "2–3 h": how long a machine has run.
            return self.say("due", "{time} of running", time=self.quantity(hours))
        return self.say_count("due", "{count} running hour", "{count} running hours", int(exact))
