"""The deflection of a belt is given, but not the force that deflects it.

A belt gives 5 mm under a finger and 15 mm under a thumb. Without a force, each mechanic sets a different tension: a
slack belt slips and burns, a tight one ruins bearings.

Write the force with the limit, `8 mm .. 12 mm at 30 N`, as the maker states it; or measure the tension with a gauge.
"""

import re
from collections.abc import Iterator, Mapping, Sequence

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.details import Wear
from putback.model.job import Step
from putback.model.machine import AnyThing, Part
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.verbs.asking import Measure, Verify
from putback.source.finding import Level
from putback.source.late import Late
from putback.source.span import Span
from putback.units import Kind, Quantity

LEVEL = Level.WARNING
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: deflection of the belt
    limit: 8 mm .. 12 mm
           ^^^^^^^^^^^^^ no force is given for the pull on the belt
    otherwise:
      - stop: Call a workshop.
"""

PASSES = """
steps:
  - measure: deflection of the belt
    limit: 8 mm .. 12 mm at 30 N
    otherwise:
      - stop: Call a workshop.
"""

_BELT = Late(r"\bbelts?\b", re.IGNORECASE)
_GIVES = Late(r"\b(?:deflects?|deflection|gives?|sags?|slack|slackness|depression)\b", re.IGNORECASE)
_FORCE = Late(r"\d\s*(?:N|kN|daN|lbf?|lbs|pounds?|kgf?|kp|newtons?|ozf?)\b|\bown weight\b")
_GAUGE = Late(r"\bgau?ge|\btester\b|\bscale\b|\btension", re.IGNORECASE)


def find(opened: Opened) -> Iterator[Fault]:
    """Yield limits on the deflection of a belt without a force, of the machine file and of steps."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for thing in things.values():
        words, limit = _of_thing(thing)
        if limit is not None and limit.quantity is not None and _is_half(words, limit.quantity):
            yield _fault(limit.text.span)
    for sequence in opened.nesting.sequences():
        for section in sequence.sections:
            yield from _in(section.steps, things, said=False)


def _of_thing(thing: AnyThing) -> tuple[str, Limit | None]:
    """Return what the machine file says of the wear of a part, or of a setting, and its limit."""
    match thing:
        case Part(wear=Wear(measure=measure, limit=limit)):
            return f"{measure or ''} of {thing.name}. {thing.note or ''}", limit
        case Setting():
            return f"{thing.name} {thing.measured or ''}. {thing.note or ''}", thing.limit
        case _:
            return "", None


def _in(steps: Sequence[Step], things: Mapping[str, AnyThing], *, said: bool) -> Iterator[Fault]:
    """Yield those of some steps; under an `otherwise`, when it is `said`, the belt is pulled as it was before."""
    for step in steps:
        limit = step.action.limit if isinstance(step.action, Measure | Verify) else None
        words = _words(step, things) if limit and limit.quantity and limit.quantity.kind is Kind.LENGTH else ""
        half = limit is not None and limit.quantity is not None and _is_half(words, limit.quantity)
        if half and limit is not None and not said:
            yield _fault(limit.text.span)
        yield from _in((*step.otherwise, *step.steps), things, said=said or half or _gives(words))


def _words(step: Step, things: Mapping[str, AnyThing]) -> str:
    named = [f"{ref.name} {things[ref.name].name if ref.name in things else ''}" for ref in step.things]
    tools = [ref.name for ref in step.tools]
    return " ".join([*named, *tools, step.text or "", step.note or "", step.because or ""])


def _gives(words: str) -> bool:
    return "belt" in words.lower() and _BELT.search(words) is not None and _GIVES.search(words) is not None


def _is_half(words: str, limit: Quantity) -> bool:
    """Tell whether a length is the limit of how far a belt gives, and no force is stated for it."""
    if limit.kind is not Kind.LENGTH or (limit.at is not None and limit.at.kind in (Kind.FORCE, Kind.MASS)):
        return False
    return _gives(words) and not _FORCE.search(words) and not _GAUGE.search(words)


def _fault(span: Span) -> Fault:
    hint = "write it with the limit, as the maker states it: '… .. … mm at … N'"
    return Fault(span, "no force is given for the pull on the belt", hint=hint)
