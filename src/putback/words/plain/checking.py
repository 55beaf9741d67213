"""Flat sentences of steps that look, measure, check and adjust, and of what their answers lead to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.good import limit_of, looked_for
from putback.model.job import Step
from putback.model.machine import AnyThing, Part
from putback.model.outcomes import shared_ends
from putback.model.readings import readings_of
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify
from putback.units import Quantity
from putback.units.quantity import Form
from putback.words.meeting import meeting_at
from putback.words.pieces import Phrase, as_text
from putback.words.plain.naming import PlainNames
from putback.words.plain.runs import ended, sentences, upper
from putback.words.plain.working import Tools
from putback.words.telling import Message

JUDGED = {
    # Translators: of several readings, each is judged.
    "each": Message("judged", "each reading"),
    "largest": Message("judged", "the largest reading"),
    "smallest": Message("judged", "the smallest reading"),
    "average": Message("judged", "the average of the readings"),
    "difference": Message("judged", "the difference of the readings"),
}
"""What a limit is for, of several readings."""
VALUES = {**JUDGED, "each": Message("judged", "a reading")}
"""The same after "If": of each, one is enough."""
WORKED_OUT = {
    "largest": Message("worked out", "Largest"),
    "smallest": Message("worked out", "Smallest"),
    "average": Message("worked out", "Average: all added up, divided by their number"),
    "difference": Message("worked out", "Difference: largest minus smallest"),
}
"""What stands before the line for it."""
OUTSIDE = {
    # Translators: a value that a limit does not allow, after "If the value is".
    Form.AT_MOST: Message("outside", "more than {limit}"),
    Form.AT_LEAST: Message("outside", "less than {limit}"),
    Form.LESS_THAN: Message("outside", "{limit} or more"),
    Form.MORE_THAN: Message("outside", "{limit} or less"),
    Form.VALUE: Message("outside", "not {limit}"),
    Form.SPLIT: Message("outside", "not {limit}"),
}
"""What limits do not allow."""
WITHIN = {
    Form.AT_MOST: OUTSIDE[Form.MORE_THAN],
    Form.AT_LEAST: OUTSIDE[Form.LESS_THAN],
    Form.LESS_THAN: OUTSIDE[Form.AT_LEAST],
    Form.MORE_THAN: OUTSIDE[Form.AT_MOST],
}
"""What limits with one end say in words, after "If the value is": what another limit does not allow."""


class PlainChecking(PlainNames):
    """What is said of what is looked at, measured and judged."""

    def good(self, action: Action) -> Limit | None:
        """Return within what a value is good: what the step says, or else the machine file."""
        return limit_of(action, self.things)

    def where_measured(self, thing: AnyThing | None) -> str | None:
        """Return where and how a setting is measured, as a sentence."""
        if not isinstance(thing, Setting) or not thing.measured:
            return None
        # Translators: {measured} are the author's words, such as "in the middle of the long run".
        return self.say("measure", "Where or how: {measured}", measured=ended(thing.measured))

    def say_inspect(self, action: Inspect, _tools: Tools) -> Phrase:
        """`Inspect: lid. Look for: cracks or scratches.`"""
        wanted = looked_for(action, self.things)
        body = self.say_phrase("inspect", "Inspect: {things}.", things=self.all_of(action.things))
        # Translators: {faults} are the author's words, such as "cracks or wear".
        seek = self.say("inspect", "Look for: {faults}.", faults=self.telling.either(wanted)) if wanted else None
        return sentences([body, seek])

    def say_measure(self, action: Measure, _tools: Tools) -> Phrase:
        """`Measure: height at the peak – cam. Good: ≥ 6.4 mm (0.252 in).`"""
        first = self.things.get(action.things[0].name) if action.things else None
        body = self.say_phrase("measure", "Measure: {things}.", things=self.measured_thing(action.things))
        return sentences([body, self.where_measured(first), *self._judged(action)])

    def measured_thing(self, refs: Sequence[Ref]) -> Phrase:
        """Return what is measured: `height at the peak (cam)`."""
        what, first = self.all_of(refs), self.things.get(refs[0].name) if refs else None
        if isinstance(first, Part) and first.wear and first.wear.measure:
            # Translators: what is measured on a part, such as "height at the peak (cam)".
            return self.say_phrase("measure", "{measure} ({thing})", measure=first.wear.measure, thing=what)
        return what

    def _judged(self, action: Measure) -> Iterator[str]:
        limit = self.good(action)
        if limit and len(readings_of(action, self.things)) > 1:
            judged = upper(self.telling.told(JUDGED[action.judge]))
            # Translators: {what} such as "each reading", "the average of the readings".
            yield self.say("good", "{what} – good: {limit}", what=judged, limit=ended(self.limit(limit)))
        elif limit:
            yield self.is_good(limit)
        if action.difference:
            judged = upper(self.telling.told(JUDGED["difference"]))
            yield self.say("good", "{what} – good: {limit}", what=judged, limit=ended(self.limit(action.difference)))

    def is_good(self, limit: Limit) -> str:
        """Return what is good, as a sentence."""
        # Translators: what a check or a measurement must give; {limit} are figures, or an author's words with a stop.
        return self.say("good", "Good: {limit}", limit=ended(self.limit(limit)))

    def say_adjust(self, action: Adjust, _tools: Tools) -> Phrase:
        """`Adjust: belt deflection – 8–12 mm (0.31–0.47 in). Where or how: in the middle of the long run.`"""
        limit, things = self.good(action), self.all_of(action.things)
        if limit:
            body = self.say_phrase(
                "adjust", "Adjust: {things} – to: {limit}", things=things, limit=ended(self.limit(limit))
            )
        else:
            body = self.say_phrase("adjust", "Adjust: {things}.", things=things)
        first = self.things.get(action.things[0].name) if action.things else None
        return sentences([body, self.where_measured(first)])

    def say_check(self, action: Verify, _tools: Tools) -> Phrase:
        """`Check: cooling-water outlet. Good: gives water within 20 s.`"""
        first = self.things.get(action.things[0].name) if action.things else None
        good = self.good(action)
        body = self.say_phrase("check", "Check: {things}.", things=self.all_of(action.things))
        return sentences([body, self.where_measured(first), self.is_good(good) if good else None])

    # What the answers lead to.

    def otherwise(self, step: Step, places: int = 1) -> str:
        """Return what leads to the steps under `otherwise`: it says of what, since a page may end between."""
        match step.action:
            case Inspect() as action:
                wanted = looked_for(action, self.things)
                if not wanted:
                    return self.say("otherwise", "If it is not good:")
                if len(wanted) == 1:
                    # Translators: if what was looked for, such as a crack, is there.
                    return self.say("otherwise", "If you find any:")
                return self.say("otherwise", "If you find any of these:")
            case Measure() as action:
                return self._if_outside(action, places)
            case _:
                return self.say("otherwise", "If not:")

    def _if_outside(self, action: Measure, places: int) -> str:
        good, value = self.good(action), self.value(action, places)
        outside = self._outside(good) if good or not action.difference else ""
        difference = self._outside(action.difference) if action.difference else ""
        if outside and difference:
            # Translators: {outside} and {difference} such as "more than 0.3 mm".
            return self.say(
                "otherwise",
                "If {value} is {outside}, or the difference of the readings is {difference}:",
                value=value,
                outside=outside,
                difference=difference,
            )
        if difference:
            # Translators: {difference} such as "more than 0.3 mm".
            return self.say("otherwise", "If the difference of the readings is {difference}:", difference=difference)
        # Translators: {value} such as "the value", "a reading"; {outside} such as "more than 0.3 mm".
        return self.say("otherwise", "If {value} is {outside}:", value=value, outside=outside)

    def _outside(self, good: Limit | None) -> str:
        limit = good.quantity if good else None
        if limit is None and good is not None:
            # Translators: stands after "is"; what is good was said before, in an author's words.
            return self.say("outside", "not so")
        if limit is None:
            # Translators: stands after "is".
            return self.say("outside", "not good")
        shown = self.quantity(limit)
        if limit.form in OUTSIDE:
            return self.telling.told(OUTSIDE[limit.form], limit=without_sign(shown, limit))
        return self.say("outside", "outside {limit}", limit=shown)

    def outcome(self, step: Step, found: Limit, places: int = 1) -> str:
        """Return what leads to the steps of one outcome; what an outcome before it has as well is left to that."""
        measure = step.action if isinstance(step.action, Measure) else None
        value = self.value(measure, places) if measure else self.say("judged", "the value")
        good = self.good(measure) if measure else None
        shared = [self.telling.quantity(end, self.first, None) for end in shared_ends(found, good, step.outcomes)]
        meeting = [each.found for each in step.outcomes if each.found is not found]
        told = meeting_at(found, [good, *meeting] if good else meeting, self.first)
        shown, limit = self.limit(told), told.quantity
        if shared:
            ends = self.telling.either(shared)
            return self.say("outcome", "If {value} is {limit}, but not {ends}:", value=value, limit=shown, ends=ends)
        if limit is not None and limit.form in WITHIN:
            outside = self.telling.told(WITHIN[limit.form], limit=without_sign(shown, limit))
            return self.say("otherwise", "If {value} is {outside}:", value=value, outside=outside)
        # Translators: {value} such as "the value", "a reading"; {limit} such as "0.3–0.5 mm".
        return self.say("outcome", "If {value} is {limit}:", value=value, limit=shown)

    def value(self, action: Measure, places: int = 1) -> str:
        """Return what is judged; of several places, that of any."""
        if len(readings_of(action, self.things)) > 1:
            return self.telling.told(VALUES[action.judge])
        if places == 1:
            return self.say("judged", "the value")
        # Translators: of two or more measurements, any one.
        return self.say("judged", "any value")

    def reading(self, name: str) -> str:
        """Return what stands before the line for one of several readings."""
        if name.isdigit():
            return self.say("reading", "Reading {number}", number=name)
        return upper(self.word(name))

    def worked_out(self, action: Measure) -> Iterator[str]:
        """Yield what stands before the lines for what is worked out of several readings."""
        wanted = {action.judge} | ({"difference"} if action.difference else set())
        several = len(readings_of(action, self.things)) > 1
        yield from (self.telling.told(label) for judge, label in WORKED_OUT.items() if several and judge in wanted)

    def what_measured(self, things: Sequence[Ref]) -> str:
        """Return what is measured, as words."""
        return as_text(self.measured_thing(things))


def without_sign(shown: str, limit: Quantity) -> str:
    """Return a limit with one end without its signs: `8 mm (0.31 in)` for `≥ 8 mm (≥ 0.31 in)`."""
    sign = limit.form.value
    if not shown.startswith(sign):
        return shown
    return shown.replace(f"{sign}\N{NO-BREAK SPACE}", "").replace(sign, "")
