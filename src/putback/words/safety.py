"""Sentences on safety, in English: what to wear, what becomes of waste, who may do a job, and when to leave it."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence

from putback.model.called import counted
from putback.model.job import Job
from putback.model.library import Hazard
from putback.model.machine import Fastener
from putback.source.grammar import listed
from putback.units import Quantity, QuantityError, digits
from putback.words.pieces import Phrase, Piece, Role, phrase


class Safety:
    """What a catalogue of sentences says on safety."""

    @abstractmethod
    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units."""

    # At a step.

    def wear(self, items: Sequence[str]) -> str:
        """Return what to wear: `Wear: eye protection, heat-resistant gloves`; nothing for nothing."""
        return f"Wear: {', '.join(items)}" if items else ""

    def waste(self, text: str) -> str:
        """Return what to do with what comes out: `Waste: Take used oil to a collection point.`"""
        return f"Waste: {text}"

    # The short form, in the block that opens a job.

    skill_label = "Who can do it"
    stop_label = "Stop and call"
    first_label = "Before this book"
    licensed_label = "Licensed work"
    any_skill = "Somebody who has used these tools before."
    stop_and_call = (
        "Stop, and call a licensed professional, when a step cannot be done as it is written, when something breaks or "
        "looks wrong, or when you are not sure."
    )
    goes_first = "Local codes and the data of the machine's maker go before this book."

    def skill(self, job: Job) -> str:
        """Return who can do a job."""
        return job.skill or self.any_skill

    def licensed(self, hazards: Sequence[Hazard]) -> str:
        """Return what a licensed professional must do: `Mains electricity: a licensed professional does or …`"""
        names = listed([hazard.name for hazard in hazards])
        return f"{names[:1].upper()}{names[1:]}: a licensed professional does this work, or oversees it."

    # The long form, before the first job.

    before = "Before you start"
    before_lead = "Read this before the first job. Each job says in its first block what of it matters most there."
    before_who = "Who can do the jobs"
    before_first = "What goes before this book"
    before_first_lead = "These go before this book, in this order. Where one of them says otherwise, do what it says."
    before_first_list = (
        "The law and the codes of the place where you work.",
        "The data of the maker of your machine.",
        "The data sheets of fuels, fluids and other consumables.",
    )
    before_stop = "When to stop and call a licensed professional"
    before_stop_lead = "Stop, and call a licensed professional, when"
    before_stop_list = (
        "local codes ask for one;",
        "a step cannot be done as it is written, or the machine in front of you looks different;",
        "a thread strips, or a part breaks, that the job does not renew;",
        "a leak stays, or a test fails twice;",
        "you do not have the tools or the protective equipment that the job lists;",
        "you are not sure.",
    )
    before_often = (
        "Work on fuel gas, mains electricity, refrigerant and brakes needs a licence in many places. Ask before you "
        "begin."
    )
    before_leave = (
        "A job that is left half done must not hurt the next person. Make the machine so that nobody can start it, and "
        "hang a note on it that says what is open."
    )
    job_head = "Job"
    who_head = "Who"

    def before_licensed(self, hazard: Hazard, titles: Sequence[str]) -> str:
        """Return which jobs need a licensed professional for a hazard."""
        return f"{self.licensed([hazard])} It is so in: {'; '.join(titles)}."

    # After the job.

    follow_up = "Follow-up"
    follow_up_lead = "This is due later. Tick it when it is done, and write down the running hours."
    follow_up_blank = "Done at running hours"
    hours_unit = "h"

    def if_led(self, steps: Sequence[str]) -> str:
        """Return on which steps a follow-up hangs: `Only if the steps under step 12 were done.`"""
        return f"Only if the steps under step {listed(steps, 'or')} were done."

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
        where = f"step {steps[0]}" if len(steps) == 1 else f"steps {steps[0]} to {steps[-1]}"
        group = Piece(f"the {counted(thing, count)}", Role.THING, thing.key)
        after = f"after {self.running_hours(hours)}"
        if slacken is None:
            begin = phrase("Tighten ", group, f" once more {after}")
        else:
            again = "them again, one at a time" if count > 1 else "it again"
            begin = phrase("A", after[1:], ", loosen ", group, f" by {self.quantity(slacken)} and tighten {again}")
        to = phrase(", to ", Piece(self.quantity(torque), Role.TORQUE)) if torque else None
        return phrase(begin, f", {order} {where}", to, ".")

    def running_hours(self, hours: Quantity) -> str:
        """Return running hours: `10 running hours`, `1 running hour`; a range or another form as it is written."""
        try:
            exact = hours.to("h").nominal
        except QuantityError:
            exact = None
        if exact is None:
            return f"{hours.text} of running"
        return f"{digits(float(exact))} running hour{'' if exact == 1 else 's'}"
