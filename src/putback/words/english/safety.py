"""Sentences on safety in English: what to wear, what becomes of waste, who may do a job, and when to leave it."""

from __future__ import annotations

from collections.abc import Sequence

from putback.model.called import counted
from putback.model.job import Job
from putback.model.library import Hazard
from putback.model.machine import Fastener
from putback.model.screwed import left_handed
from putback.sheet.limits import StepNumber
from putback.source.grammar import number
from putback.units import Kind, Quantity, QuantityError, digits
from putback.words.english.labels import LABELS
from putback.words.english.rows import Rows
from putback.words.english.things import joined
from putback.words.facts import quantity_or_words
from putback.words.pieces import Phrase, Piece, Role, phrase

LEFT_HAND = "Left-hand thread: clockwise to loosen, anticlockwise to tighten."
"""What is said of a left-hand thread where no step turns it."""


class Safety(Rows):
    """What is said of safety."""

    # At a step.

    def wear(self, items: Sequence[str]) -> str:
        """Return what to wear: `Wear: eye protection, heat-resistant gloves`; nothing for nothing."""
        return f"Wear: {', '.join(items)}" if items else ""

    def waste(self, text: str) -> str:
        """Return what to do with what comes out: `Waste: Take used oil to a collection point.`"""
        return f"Waste: {text}"

    # The short form, in the block that opens a job, and the long form, before the first job.

    def skill(self, job: Job) -> str:
        """Return who can do a job."""
        return job.skill or LABELS.safety.any_skill

    def licensed(self, hazards: Sequence[Hazard]) -> str:
        """Return what a licensed professional must do: `Mains electricity: a licensed professional does or …`"""
        names = joined([hazard.name for hazard in hazards])
        return f"{names[:1].upper()}{names[1:]}: a licensed professional does this work, or oversees it."

    def before_licensed(self, hazard: Hazard, titles: Sequence[str]) -> str:
        """Return which jobs need a licensed professional for a hazard."""
        return f"{self.licensed([hazard])} This applies to: {'; '.join(titles)}."

    # After the job.

    def if_led(self, steps: Sequence[str]) -> str:
        """Return on which steps a follow-up hangs: `Only if the steps under step 12 were done.`"""
        numbers = [
            f"{step} ({joined([self.briefly(limit) for limit in step.found], 'or')})"
            if isinstance(step, StepNumber) and step.found
            else step
            for step in steps
        ]
        return f"Only if the steps under step {joined(numbers, 'or')} were done."

    def due_after(self, after: str) -> str:
        """`After 2 running hours:` · `After 500 km (311 mi):` · `After the first run:`"""
        due = quantity_or_words(after)
        if isinstance(due, Quantity):
            after = self.running_hours(due) if due.kind is Kind.TIME else self.quantity(due)
        return f"After {after.rstrip('.:')}:"

    def once_more(
        self,
        thing: Fastener,
        count: int,
        hours: Quantity,
        torque: Quantity | None,
        steps: Sequence[str],
        slacken: Quantity | None = None,
    ) -> Phrase:
        """`Tighten the six head bolts once more after 10 running hours, in the same order as in step 9, to 40 N·m.`

        `After 10 running hours, loosen the six head bolts by 90° and tighten them again, one at a time, in the same …`
        """
        order = "in the same order as in" if (thing.order or thing.sequence) and count > 1 else "as in"
        run = len(steps) > 2 and all(each.isdigit() for each in steps) and int(steps[-1]) - int(steps[0]) < len(steps)
        several = f"{steps[0]} to {steps[-1]}" if run else joined(steps)
        where = f"step{'s' if len(steps) > 1 else ''} {several}"
        some = f"{number(count)} of " if count < thing.count else ""
        group = Piece(f"{some}the {counted(thing)}", Role.THING, thing.key)
        after = f"after {self.running_hours(hours)}"
        if slacken is None:
            begin = phrase("Tighten ", group, f" once more {after}")
        else:
            again = "them again, one at a time" if count > 1 else "it again"
            begin = phrase("A", after[1:], ", loosen ", group, f" by {self.quantity(slacken)} and tighten {again}")
        to = phrase(", to ", Piece(self.quantity(torque), Role.TORQUE)) if torque else None
        return phrase(begin, f", {order} {where}", to, ".", f" {self.own(LEFT_HAND)}" if left_handed(thing) else None)

    def running_hours(self, hours: Quantity) -> str:
        """Return running hours: `10 running hours`, `1 running hour`; a range or another form as it is written."""
        try:
            exact = hours.to("h").nominal
        except QuantityError:
            exact = None
        if exact is None:
            return f"{hours.text} of running"
        return f"{digits(float(exact))} running hour{'' if exact == 1 else 's'}"
