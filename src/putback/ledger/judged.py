"""What a guide measures, adjusts and tests: each limit with what is judged by it, in the words of the author."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.job import Step
from putback.model.machine import AnyThing, Fastener, Part
from putback.model.measurands import DOWN, UP
from putback.model.measured import Measured, measured
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.spoken import read_spoken
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Measure, Verify
from putback.units import Form, Kind, Quantity, parse_any


class Judged(NamedTuple):
    """One limit."""

    limit: Limit
    """The limit, where it is written: in a step, or in the machine file for a part that wears."""
    words: str
    """What is judged by it, in words: those of the step, or the name of the thing."""
    of: str
    """The name of the thing; empty where a step has words."""
    measures: bool
    """Whether it is measured, so that only numbers can tell; else it is checked, and words may."""
    differs: bool = False
    """Whether it is for the difference between readings, and not for a reading."""
    clicks: bool = False
    """Whether it is the torque at which a fastener is looked at, still tight or not: a wrench is set to one value."""

    @property
    def quantity(self) -> Quantity | None:
        """The limit as a quantity, also where words say one: `no more than 0.3 mm`."""
        if self.limit.quantity is not None or self.limit.unread:
            return self.limit.quantity
        plain = read_spoken(self.limit.text)[1]
        return parse_any(plain) if plain else None

    @property
    def what(self) -> Measured | None:
        """What is measured; None when nobody can tell from the words."""
        return measured(self.words, self.of)

    @property
    def wrong_side(self) -> str | None:
        """The side on which a thing wears, when its limit has one end, and that the other one."""
        what = None if self.differs else self.what
        if what is None or what.side is None:
            return None
        quantity = self.quantity
        worn = quantity is not None and quantity.kind in what.kinds and quantity.form in _ENDS[what.side]
        return what.side if worn else None


_ENDS = {UP: (Form.AT_LEAST, Form.MORE_THAN), DOWN: (Form.AT_MOST, Form.LESS_THAN)}
"""By the side on which a thing wears: forms of limits on the other one."""


def judged_in(opened: Opened) -> Iterator[Judged]:
    """Yield every limit of a guide, once: those of its parts, then those of its steps in the order of the files."""
    machine = opened.guide.machine
    things = machine.things if machine is not None else {}
    for thing in things.values():
        if isinstance(thing, Part) and thing.wear and thing.wear.limit:
            yield Judged(thing.wear.limit, thing.wear.measure or thing.name, thing.name, measures=True)
        elif isinstance(thing, Setting) and thing.limit:
            yield Judged(thing.limit, thing.name, "", measures=True)
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            yield from _in_step(step, things)


def _in_step(step: Step, things: Mapping[str, AnyThing]) -> Iterator[Judged]:
    action = step.action
    if not isinstance(action, Measure | Verify | Adjust):
        return
    words, of = what_is_judged(step, things.get(step.things[0].name) if step.things else None)
    if action.limit:
        differs = isinstance(action, Measure) and action.judge == "difference"
        looks, torque = isinstance(action, Verify), action.limit.quantity
        held = looks and torque is not None and torque.kind is Kind.TORQUE and _are_fasteners(step, things)
        yield Judged(action.limit, words, of, not looks, differs, held)
    if isinstance(action, Measure) and action.difference:
        yield Judged(action.difference, f"difference of {words}", of, measures=True, differs=True)


def _are_fasteners(step: Step, things: Mapping[str, AnyThing]) -> bool:
    return bool(step.things) and all(isinstance(things.get(ref.name), Fastener) for ref in step.things)


def turned_round(step: Step, limit: Limit, things: Mapping[str, AnyThing]) -> bool:
    """Tell whether the limit that a step judges by is the wrong way round for what it measures."""
    words, of = what_is_judged(step, things.get(step.things[0].name) if step.things else None)
    return Judged(limit, words, of, measures=True).wrong_side is not None


def what_is_judged(step: Step, thing: AnyThing | None) -> tuple[str, str]:
    """Return what a step asks about, in words, and the name of the thing, if it is one."""
    if thing is None:
        return (step.things[0].name if step.things else ""), ""
    wear = thing.wear if isinstance(thing, Part) else None
    return (wear.measure if wear and wear.measure else thing.name), thing.name
