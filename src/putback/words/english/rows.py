"""Rows of lists and tables, in English: what, how many, and when not for all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from putback.model.called import counted, named
from putback.model.details import Kit
from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.terms import When
from putback.model.verbs.pieces import Install
from putback.sheet.limits import StepNumber
from putback.sheet.supply import Over
from putback.source.grammar import number
from putback.words.english.things import Things, joined


class Rows(Things):
    """What a catalogue of sentences says in rows."""

    def row(self, what: str, when: When | None, only_if: Sequence[str] = (), more: int = 0) -> str:
        """Return what a row is about: `cam (only if step 12 asks for it; only with pump drive: belt)`.

        With `more`, it is about so many of what a row above has: `gasket (one more, only if step 12 asks for it)`.
        """
        before = f"{number(more)} more, " if more else ""
        limits = [f"{before}only if {self.led(only_if, 'asks for it', 'finds')}"] if only_if else []
        limit = self.only(when)
        limits += [limit] if limit else []
        return f"{what} ({'; '.join(limits)})" if limits else what

    def led(self, steps: Sequence[str], asking: str, finding: str) -> str:
        """Return on what answers something hangs: `step 12 or 14 asks for it, or step 15 finds > 0.3 mm (0.012 in)`."""
        told: dict[str, list[str]] = {}
        for step in steps:
            found = step.found if isinstance(step, StepNumber) else ()
            what = f"{finding} {joined([self.briefly(limit) for limit in found], 'or')}" if found else asking
            told.setdefault(what, []).append(step)
        return ", or ".join(f"step {joined(numbers, 'or')} {what}" for what, numbers in told.items())

    def new_if(self, step: Step, steps: Sequence[str]) -> str:
        """Return when a new one goes on in place of what came off: `Fit a new one if step 4 condemned it.`"""
        thing = self.things.get(step.things[0].name) if len(step.things) == 1 else None
        one = thing is not None and not (isinstance(thing, Fastener) and thing.count > 1)
        new, condemned = ("a new one", "condemned it") if one else ("new ones", "condemned them")
        return f"Fit {new} if {self.led(steps, self.own(condemned), 'found')}."

    def how_often(self, thing: Part | Fastener) -> str:
        """Return how often something may be fitted: `twice`, `twice, this side and other side,`."""
        many = thing.uses if isinstance(thing.uses, int) else len(thing.uses)
        often = "twice" if many == 2 else f"{number(many)} times"
        return often if isinstance(thing.uses, int) else f"{often}, {joined(thing.uses)},"

    def uses(self, step: Step) -> Iterator[str]:
        """Yield what stands before the line for which use it is: `Blade, which use (of two)`."""
        for ref in step.things if isinstance(step.action, Install) and not step.action.new else ():
            thing = self.things.get(ref.name)
            if isinstance(thing, Part | Fastener) and thing.uses:
                name = self.title_of(thing)
                if isinstance(thing.uses, int):
                    yield f"{name}: which use (of {number(thing.uses)}); after that, fit a new one"
                else:
                    yield f"{name}: {joined(thing.uses, 'or')}; after that, fit a new one"

    def renewed_with(self, thing: AnyThing) -> Iterator[str]:
        """Yield what is renewed only together with a thing."""
        for together in self.machine.together if self.machine else ():
            if any(ref.name == thing.key for ref in together):
                others = [ref for ref in together if ref.name != thing.key]
                names = joined([counted(other) for ref in others if (other := self.things.get(ref.name))])
                yield self.own(f"Renew it together with the {names}." if names else "Renew them all together.")

    def kit(self, kit: Kit | None) -> str:
        """Return a kit with its number, when it is known: `water-pump kit (HN-2200)`."""
        if kit is None:
            return "–"
        return f"{kit.name} ({kit.number})" if kit.number else kit.name

    def only_for(self, when: When | None) -> str:
        """Return for which variants something is: `only with a long shaft`; nothing for all."""
        return self.only(when) or ""

    def only_in(self, branches: Sequence[tuple[str, Sequence[str]]]) -> str:
        """Return on which steps of which jobs something hangs: `step 8 of “Spark plugs”; step 3 or 4 of “Oil”`."""
        return "; ".join(self.led(steps, f"of “{title}”", f"of “{title}”, if it finds") for title, steps in branches)

    def left_over(self, over: Sequence[Over]) -> str:
        """Return what a kit leaves over: `one plate gasket and two bolts (only with a long shaft)`."""
        pieces = [f"{number(each.pieces)} {named(each.thing, each.pieces)}" for each in over]
        return joined([self.row(name, each.when) for name, each in zip(pieces, over, strict=True)])

    def count(self, pieces: int, *, varies: bool = False) -> str:
        """Return a number of pieces; the most of them where it depends on the machine in a way that no row can say."""
        if not pieces:
            return "–"
        return f"up to {pieces}" if varies else str(pieces)
