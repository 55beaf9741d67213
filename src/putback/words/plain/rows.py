"""Rows of lists and tables in flat words: what, how many, and when not for all."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.terms import When
from putback.model.verbs.pieces import Install
from putback.sheet.limits import StepNumber
from putback.sheet.supply import Over
from putback.words.plain.naming import PlainNames
from putback.words.plain.runs import in_text


class PlainRows(PlainNames):
    """What is said in rows."""

    def row(self, what: str, when: When | None, only_if: Sequence[str] = (), more: int = 0) -> str:
        """Return what a row is about, for which variants and after which steps; with `more`, so many besides others."""
        limits = [self._only_if(only_if, more)] if only_if else []
        limit = self.only(when)
        limits += [limit] if limit else []
        return f"{what} ({'; '.join(limits)})" if limits else what

    def _only_if(self, steps: Sequence[str], more: int) -> str:
        led = self.led(steps, self._asked, self._finds)
        if more:
            # Translators: in brackets, so many more than in the row above; {led} such as "step 12 asks for it".
            return self.say("row", "{count} more, only if: {led}", count=self.telling.number(more), led=led)
        # Translators: in brackets after the name of a part; {led} such as "step 12 asks for it".
        return self.say("row", "only if: {led}", led=led)

    def _asked(self, numbers: str) -> str:
        # Translators: {steps} are numbers of steps, such as "12 or 14".
        return self.say("led", "step {steps} asks for it", steps=numbers)

    def _finds(self, numbers: str, found: str) -> str:
        # Translators: {found} is what was measured or seen, such as "> 0.3 mm".
        return self.say("led", "step {steps} finds {found}", steps=numbers, found=found)

    def led(self, steps: Sequence[str], asks: Callable[[str], str], finds: Callable[[str, str], str]) -> str:
        """Return on what answers something hangs."""
        told: dict[str, list[str]] = {}
        for step in steps:
            found = step.found if isinstance(step, StepNumber) else ()
            told.setdefault(self.telling.either([self.briefly(limit) for limit in found]) if found else "", []).append(
                step
            )
        clauses = [
            finds(self.telling.either(numbers), found) if found else asks(self.telling.either(numbers))
            for found, numbers in told.items()
        ]
        said, *others = clauses
        for other in others:
            # Translators: two reasons, of which one is enough.
            said = self.say("led", "{one}, or {other}", one=said, other=other)
        return said

    def new_if(self, _step: Step, steps: Sequence[str]) -> str:
        """Return on which steps it hangs that a new one goes on, in place of what came off."""
        # Translators: {led} such as "step 4 rejected the old one".
        return self.say("row", "Fit new only if: {led}.", led=self.led(steps, self._rejected, self._finds))

    def _rejected(self, numbers: str) -> str:
        # Translators: a step has looked at a part and found that it must not be used again.
        return self.say("led", "step {steps} rejected the old one", steps=numbers)

    def only_in(self, branches: Sequence[tuple[str, Sequence[str]]]) -> str:
        """Return on which steps of which jobs something hangs, each job by its title; nothing for none."""
        return "; ".join(self._only_in(self.telling.quoted(title), steps) for title, steps in branches)

    def _only_in(self, job: str, steps: Sequence[str]) -> str:
        return self.led(
            steps,
            # Translators: something hangs on a step of another job; {job} is its title in quotation marks.
            lambda numbers: self.say("led", "step {steps} of {job}", steps=numbers, job=job),
            # Translators: something hangs on what a step of another job finds.
            lambda numbers, found: self.say(
                "led", "step {steps} of {job} finds {found}", steps=numbers, job=job, found=found
            ),
        )

    def if_led(self, steps: Sequence[str]) -> str:
        """Return on which steps a follow-up hangs."""
        numbers = [
            f"{step} ({self.telling.either([self.briefly(limit) for limit in step.found])})"
            if isinstance(step, StepNumber) and step.found
            else step
            for step in steps
        ]
        # Translators: something is due later only then; {steps} such as "12 or 14".
        return self.say("row", "Only if the steps under step {steps} were done.", steps=self.telling.either(numbers))

    def uses(self, step: Step) -> Iterator[str]:
        """Yield what stands before the lines for which use of its things it is."""
        for ref in step.things if isinstance(step.action, Install) and not step.action.new else ():
            thing = self.things.get(ref.name)
            if not isinstance(thing, Part | Fastener) or not thing.uses:
                continue
            name = self.title_of(thing)
            if isinstance(thing.uses, int):
                # Translators: before a blank: the how manieth time a part is fitted that may be fitted a few times.
                yield self.say(
                    "uses",
                    "{thing}: which use (of {count}); after that, fit new",
                    thing=name,
                    count=self.telling.number(thing.uses),
                )
            else:
                # Translators: before a blank: which of its sides is used, such as "this side or other side".
                yield self.say(
                    "uses", "{thing}: {uses}; after that, fit new", thing=name, uses=self.telling.either(thing.uses)
                )

    def how_often(self, thing: Part | Fastener) -> str:
        """Return how often something may be fitted, as a sentence."""
        many = thing.uses if isinstance(thing.uses, int) else len(thing.uses)
        if isinstance(thing.uses, int):
            return self.say_count(
                "uses", "May be fitted {count} time, then fit new.", "May be fitted {count} times, then fit new.", many
            )
        return self.say_count(
            "uses",
            "May be fitted {count} time, then fit new: {uses}.",
            "May be fitted {count} times, then fit new: {uses}.",
            many,
            uses=self.telling.listed(thing.uses),
        )

    def renewed_with(self, thing: AnyThing) -> Iterator[str]:
        """Yield what is renewed only together with a thing, a sentence each."""
        for together in self.machine.together if self.machine else ():
            if any(ref.name == thing.key for ref in together):
                others = [other for ref in together if ref.name != thing.key and (other := self.things.get(ref.name))]
                if others:
                    names = in_text(self.called(other) for other in others)
                    yield self.say("remark", "Fit new only together with: {things}.", things=names)
                else:
                    yield self.say("remark", "Fit new only all together.")

    def left_over(self, over: Sequence[Over]) -> str:
        """Return what a kit leaves over."""
        return in_text(self.row(self._pieces(each), each.when) for each in over)

    def _pieces(self, over: Over) -> str:
        count = self.telling.number(over.pieces)
        if over.pieces != 1 and over.thing.plural:
            return self.say("thing", "{count} {things}", count=count, things=over.thing.plural)
        return self.say("thing", "{count} × {thing}", count=count, thing=over.thing.name)

    def count(self, pieces: int, *, varies: bool = False) -> str:
        """Return a number of pieces; the most of them where it depends on the machine."""
        if not pieces:
            return "–"
        number = self.telling.number(pieces)
        return self.say("row", "up to {count}", count=number) if varies else number
