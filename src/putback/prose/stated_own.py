"""Quantities that the text of a step states of its own step, and the feeler gauge that a text names."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.good import limit_of
from putback.model.job import Sequence, Step
from putback.model.machine import Machine
from putback.model.setting import Setting
from putback.model.verbs.controls import Run
from putback.model.verbs.fluids import Drain, Fill
from putback.model.verbs.telling import Wait
from putback.prose.aims import is_aim
from putback.prose.contexts import Context, Contradiction
from putback.prose.stated_amounts import StatedAmount, amounts_in, is_near, plain, says
from putback.source.late import Late
from putback.source.quoting import quote
from putback.units import Kind, Quantity

_FEELER = Late(r"\bfeelers?(?: gauges?| gages?| blades?)? of $")
_NO_FEELER = Late(r"\b(?:not|never|no)\b")
_MOSTLY_NOT = frozenset({Kind.TORQUE, Kind.RATIO})


class Own:
    """What steps say of themselves."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        limits = [thing.limit for thing in machine.things.values() if isinstance(thing, Setting)]
        self.settled = [each.quantity for each in limits if each and each.quantity]

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield what a text says of its own step, and that the step says otherwise."""
        if context.field not in ("text", "note") or context.within is None:
            return
        feeler = "feeler" in context.text
        amounts = list(amounts_in(context.text)) if feeler or context.field == "text" else []
        for amount in amounts if feeler else ():
            if _FEELER.search(context.text, 0, amount.start) and not _NO_FEELER.search(context.text):
                yield from self._feeler(context, amount, context.within)
        step = context.step if amounts and context.field == "text" else None
        for own in self._of(step) if step else ():
            alike = [each for each in amounts if each.quantity.kind is own.kind and own.kind not in _MOSTLY_NOT]
            if len(alike) == 1 and not says(alike[0].quantity, own) and is_near(alike[0].quantity, own):
                amount = alike[0]
                if is_aim(context.text, amount.start, amount.end):
                    said = quote(context.text[amount.start : amount.end])
                    message = f"{said} here, but the step itself says {plain(own)}"
                    yield Contradiction(context, amount.start, amount.end, message, f"write {quote(plain(own))}")

    def _feeler(self, context: Context, amount: StatedAmount, within: Sequence) -> Iterator[Contradiction]:
        found = [limit_of(step.action, self.machine.things) for step in within.steps()]
        known = [*self.settled, *(limit.quantity for limit in found if limit and limit.quantity)]
        closed = (each for each in known if each.low is not None and each.high is not None)
        lengths = [each for each in closed if each.kind is Kind.LENGTH and is_near(amount.quantity, each)]
        if lengths and not any(says(amount.quantity, each) for each in lengths):
            said = quote(context.text[amount.start : amount.end])
            yield Contradiction(context, amount.start, amount.end, f"{said} here, but it is within no limit")

    def _of(self, step: Step) -> Iterator[Quantity]:
        """Yield the quantities of a step that its sentence says."""
        action = step.action
        match action:
            case Run(for_=Quantity() as time) | Wait(duration=Quantity() as time):
                yield time
            case Drain(volume=Quantity() as volume) | Fill(volume=Quantity() as volume):
                yield volume
        limit = limit_of(action, self.machine.things)
        if limit and limit.quantity:
            yield limit.quantity
