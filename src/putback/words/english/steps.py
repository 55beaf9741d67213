"""Sentences in English on all other steps: equipment, marks, cleaning, tests, waits, words; what a branch hangs on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence

from putback.model.called import named
from putback.model.good import limit_of, looked_for
from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener
from putback.model.outcomes import shared_ends
from putback.model.readings import readings_of
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.model.verbs.blocks import BackTo, Do, Each, Reverse
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.marking import Align, Mark
from putback.model.verbs.pieces import Tighten
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.source.grammar import plural, unbroken
from putback.units.printing import both
from putback.units.quantity import Form
from putback.words.english.acts import Acts
from putback.words.english.checking import Checking, in_words
from putback.words.english.clauses import apart, is_whereabouts, one_of, stopped
from putback.words.english.holding import Holding
from putback.words.english.things import ended, joined, spaced
from putback.words.english.work import Tools, Work
from putback.words.meeting import meeting_at
from putback.words.pieces import Phrase, as_text, phrase


class Steps(Work, Acts, Holding, Checking):
    """What is said of steps."""

    def generated(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence that verb and facts make."""
        if isinstance(step.action, Tighten):
            body = self.tighten(step.action, step.tools, stays_in)
        else:
            say: Callable[[Action, Tools], Phrase] = getattr(self, f"say_{step.verb.key}")
            body = say(step.action, step.tools)
        return phrase(*body, *self.holding(step.action, step.tools, stays_in), self.hands(step))

    def say_place(self, action: Place, _tools: Tools) -> Phrase:
        """`Put the drain pan under the gearcase.` · `Put the guide stud in the hole of the cover bolt at front.`"""
        place = self.place(action.at) if action.at else ""
        holes = joined([self.hole(hole.ref, hole.at) for hole in action.in_])
        where = f" in {holes}" if holes else "" if is_whereabouts(place) else " in place"
        more = f"{',' if holes else ''} {place}" if is_whereabouts(place) else f": {place}" if place else ""
        return phrase("Put ", self.all_of(action.things), f"{where}{more}.")

    def hole(self, ref: Ref, at: Sequence[Ref]) -> str:
        """Return the hole of a fastener or part: `the hole of the drain plug`, `the holes of two cover bolts at …`."""
        thing = self.things.get(ref.name)
        many = max(1, len(at))
        places = f" at {joined([spaced(place.name) for place in at])}" if at else ""
        if thing is None:
            return f"the hole of {spaced(ref.name)}"
        several = isinstance(thing, Fastener) and thing.count > 1 and not at
        whose = f"a {thing.name}" if several else f"the {named(thing, many)}"
        return f"the {'hole' if many == 1 else 'holes'} of {whose}{places}"

    def say_take_away(self, action: TakeAway, _tools: Tools) -> Phrase:
        """`Take the drain pan away.`"""
        place = self.place(action.at) if action.at else ""
        where = f", {place}" if is_whereabouts(place) else f" from {place}" if place else ""
        return phrase("Take ", self.all_of(action.things), f" away{where}.")

    def say_mark(self, action: Mark, _tools: Tools) -> Phrase:
        """`Mark the position of the trim tab against the gearcase.`"""
        where = f" against {self.place(action.against)}" if action.against else ""
        return phrase("Mark the position of ", self.all_of(action.things), f"{where}.")

    def say_align(self, action: Align, _tools: Tools) -> Phrase:
        """`Align the trim tab with its mark.`"""
        mark = "its mark" if self.singular(action.things) else "their marks"
        where = f" against {self.place(action.against)}" if action.against else ""
        return phrase("Align ", self.all_of(action.things), f" with {mark}{where}.")

    def say_apply(self, action: Apply, _tools: Tools) -> Phrase:
        """`Apply clean engine oil to the six head bolts.` · `Apply thread-locker to the four new screws.`"""
        consumables = joined([self.consumable(ref.name) for ref in action.things])
        onto = self.all_of(action.to, article="the new" if action.to_new else "the")
        return phrase(f"Apply {consumables} to ", onto, ".")

    def say_clean(self, action: Clean, _tools: Tools) -> Phrase:
        """`Clean the crankpin with lint-free rags.`"""
        means = f" with {self.consumable(action.with_.name)}" if action.with_ else ""
        what = self.all_of(action.things)
        return phrase("Clean ", what, self._closing(action.things, what) if means else "", f"{means}.")

    def _closing(self, refs: Sequence[Ref], what: Phrase) -> str:
        """Return the comma that closes what an author adds to a name after a comma."""
        return "," if len(refs) == 1 and refs[0].name not in self.things and apart(as_text(what))[1] else ""

    def say_inspect(self, action: Inspect, _tools: Tools) -> Phrase:
        """`Inspect the lid for cracks or scratches.`"""
        wanted = looked_for(action, self.things)
        what = self.all_of(action.things)
        comma = self._closing(action.things, what)
        seek = f"{comma} for {one_of(wanted)}" if wanted else ""
        return phrase("Inspect ", what, f"{seek}.")

    def say_measure(self, action: Measure, _tools: Tools) -> Phrase:
        """`Measure the height at the peak of the cam: it must be at least 6.4 mm (0.252 in).`"""
        first = self.things.get(action.things[0].name) if action.things else None
        limit = self.good(action)
        what = self.measured_thing(action.things)
        several = len(readings_of(action, self.things)) > 1
        judged = _JUDGED[action.judge] if several else "it"
        good = [self.measured_as(judged, limit)] if limit else []
        good += [self.measured_as("the difference", action.difference)] if action.difference else []
        return phrase("Measure ", what, self.measured(first), f": {', and '.join(good)}." if good else ".")

    def say_adjust(self, action: Adjust, _tools: Tools) -> Phrase:
        """`Adjust the belt deflection to 8–12 mm (0.31–0.47 in), in the middle of the long run.`"""
        limit = self.good(action)
        to = f" to {self.limit(limit)}" if limit else ""
        first = self.things.get(action.things[0].name) if action.things else None
        return phrase("Adjust ", self.all_of(action.things), f"{to}{self.measured(first)}.")

    def each_of(self, places: str, names: Sequence[str]) -> str:
        """Return what stands above the steps for each place: `Cylinders 1, 2 and 3`."""
        return f"{plural(self.option(places)) if len(names) > 1 else self.option(places)} {joined(names)}"

    def measured(self, thing: AnyThing | None) -> str:
        """Return where and how a setting is measured: `, in the middle of the long run`; nothing for other things."""
        return f", {thing.measured.rstrip('.')}" if isinstance(thing, Setting) and thing.measured else ""

    def say_check(self, action: Verify, _tools: Tools) -> Phrase:
        """`Check that the cooling-water outlet gives water within 20 s.`"""
        first = self.things.get(action.things[0].name) if action.things else None
        return self.checked(action.things, self.measured(first), self.good(action))

    def say_wait(self, action: Wait, _tools: Tools) -> Phrase:
        """`Wait 10 min, until the engine is cold.`"""
        end = f" until {action.until}" if action.until else ""
        time = f" {self.quantity(action.duration)}{',' if end else ''}" if action.duration else ""
        return phrase(f"Wait{time}{end}.")

    def say_do(self, action: Do, _tools: Tools) -> Phrase:
        """`Do: Make safe.`"""
        return phrase(f"Do: {joined([self.block(ref.name) for ref in action.things])}.")

    def say_reverse(self, action: Reverse, _tools: Tools) -> Phrase:
        """`In reverse order: Make safe.`"""
        return phrase(f"In reverse order: {joined([self.block(ref.name) for ref in action.things])}.")

    def say_each(self, action: Each, _tools: Tools) -> Phrase:
        """`Do this for each cylinder, one after the other.`"""
        return phrase(f"Do this for each {joined([spaced(ref.name) for ref in action.things])}, one after the other.")

    def say_back_to(self, action: BackTo, _tools: Tools) -> Phrase:
        """`Go back to the step “fill” and continue from there.`"""
        named = joined([spaced(ref.name) for ref in action.things])
        return phrase(f"Go back to the step “{named}” and continue from there.")

    def say_caution(self, action: Caution, _tools: Tools) -> Phrase:
        """Return the hazards alone; a page shows the whole messages."""
        return phrase(joined([self.caution(ref.name) for ref in action.things]))

    def say_note(self, action: Note, _tools: Tools) -> Phrase:
        """Return the author's words."""
        return phrase(action.words)

    def say_stop(self, action: Stop, _tools: Tools) -> Phrase:
        """`Stop here. Call a workshop.` · `Go no further: switch the engine off.`"""
        return phrase(stopped(ended(action.words)))

    def good(self, action: Action) -> Limit | None:
        """Return within what a value is good: what the step says, or else the machine file."""
        return limit_of(action, self.things)

    def go_back(self, number: str) -> Phrase:
        """Return how to go on from an earlier step."""
        return phrase(f"Go back to step {number} and continue from there.")

    def step_named(self, number: str, title: str = "") -> str:
        """Return a step by its number: `step 4`, `step 4 of “Change the oil”`."""
        if not number:
            return "a step for other machines"
        return f"{unbroken(f'step {number}')}{f' of {self.job_named(title)}' if title else ''}"

    def job_named(self, title: str) -> str:
        """Return the title of a job as it stands in a sentence: `“Change the oil”`."""
        return f"“{title}”"

    def figure_named(self, number: str, title: str = "") -> str:
        """Return a picture by the number of its step: `the picture at step 4`."""
        return f"the picture at {self.step_named(number, title)}" if number else "a picture for other machines"

    def otherwise(self, step: Step, places: int = 1) -> str:
        """Return what leads to the steps under `otherwise`: it says of what, since a page may end between."""
        match step.action:
            case Inspect() as action:
                wanted = looked_for(action, self.things)
                if not wanted:
                    return "If it is not good:"
                return "If you find any:" if len(wanted) == 1 else "If you find any of these:"
            case Measure() as action:
                good, value = self.good(action), self.value(action, places)
                bad = [f"{value} is {self.outside(good)}"] if good or not action.difference else []
                bad += [f"the difference is {self.outside(action.difference)}"] if action.difference else []
                return f"If {', or '.join(bad)}:"
            case _:
                return "If not:"

    def outcome(self, step: Step, found: Limit, places: int = 1) -> str:
        """`If the value is more than 0.3 mm (0.012 in):`; what an outcome before it has as well is left to that."""
        value = self.value(step.action, places) if isinstance(step.action, Measure) else "the value"
        good = self.good(step.action) if isinstance(step.action, Measure) else None
        shared = [both(end, self.first, None) for end in shared_ends(found, good, step.outcomes)]
        but = f", but not {joined(shared, 'or')}" if shared else ""
        meeting = [each.found for each in step.outcomes if each.found is not found]
        shown = meeting_at(found, [good, *meeting] if good else meeting, self.first)
        return f"If {value} is {self.limit_in_words(shown)}{but}:"

    def value(self, action: Measure, places: int = 1) -> str:
        """Return what is judged: `the value`, `a reading`, `the largest`; of several places, `either value`."""
        if len(readings_of(action, self.things)) > 1:
            return _VALUES[action.judge]
        return "the value" if places == 1 else "either value" if places == 2 else "any value"

    def reading(self, name: str) -> str:
        """Return what stands before the line for one of several readings: `Along the crankshaft`, `Reading 2`."""
        return f"Reading {name}" if name.isdigit() else f"{name[:1].upper()}{name[1:]}"

    def worked_out(self, action: Measure) -> Iterator[str]:
        """`Largest` · `Difference: largest minus smallest`"""
        wanted = {action.judge} | ({"difference"} if action.difference else set())
        several = len(readings_of(action, self.things)) > 1
        yield from (label for judge, label in _WORKED_OUT.items() if several and judge in wanted)

    def outside(self, good: Limit | None) -> str:
        """`more than 0.3 mm (0.012 in)`"""
        limit = good.quantity if good else None
        if limit is None:
            return "not so" if good else "not good"
        # The numbers are those of the sentence above: the second unit of a limit is not rounded as a plain value is.
        shown = self.quantity(limit)
        match limit.form:
            case Form.AT_MOST | Form.AT_LEAST | Form.LESS_THAN | Form.MORE_THAN:
                return in_words(shown, limit, outside=True)
            case Form.VALUE | Form.SPLIT:
                return f"not {shown}"
            case _:
                return f"outside {shown}"

    def block(self, name: str) -> str:
        """Return the title of a block."""
        entry = self.library.blocks.get(name)
        return entry.title if entry else name

    def caution(self, name: str) -> str:
        """Return the hazard of a safety message."""
        entry = self.library.cautions.get(name)
        return entry.hazard if entry else name

    def said(self, text: str, more: Phrase) -> Phrase:
        """Return an author's text and, after it, what it does not say."""
        return phrase(text if text.endswith((".", "!", "?", ":")) else f"{text}.", " ", more)


_JUDGED = {"each": "each reading"} | {
    judge: f"the {judge}" for judge in ("largest", "smallest", "average", "difference")
}
_VALUES = {**_JUDGED, "each": "a reading"}
"""What a limit is for, of several readings."""

_WORKED_OUT = {
    "largest": "Largest",
    "smallest": "Smallest",
    "average": "Average: all added up, divided by their number",
    "difference": "Difference: largest minus smallest",
}
"""What stands before the line for it."""
