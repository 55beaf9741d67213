"""The outcomes of a measurement leave out some values, or cover one value twice.

A mechanic reads 0.31 mm and finds no line for it, or two. Of several readings, it must be clear which counts.

Let the limit and each `found` start where another ends: 0.2 mm .. 0.3 mm, then `> 0.3 mm` (the first has the end).
"""

from collections.abc import Iterator, Mapping

from putback.checks import Fault, Group
from putback.ledger.judged import turned_round
from putback.ledger.opened import Opened
from putback.model.good import limit_of
from putback.model.job import Step
from putback.model.machine import AnyThing
from putback.model.outcomes import ValueSpan, comparable, left_out, overlap, reach_of
from putback.model.readings import readings_of
from putback.model.said import Limit, Said
from putback.model.verbs.asking import Measure
from putback.source.finding import Also, Level
from putback.source.quoting import quote
from putback.units import Quantity
from putback.units.symbols import number

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: gap of the guard
    ^^^^^^^ no outcome covers values above 5 mm and up to 6 mm
    limit: 2 mm .. 5 mm
    outcomes:
      - found: "> 6 mm"
        steps: [{stop: Fit a new guard.}]
      - found: "<= 2 mm"
               ^^^^^^^^^ 2 mm is in the limit as well, '2 mm .. 5 mm'
        steps: [{stop: Bend the guard.}]
"""

PASSES = """
steps:
  - measure: gap of the guard
    limit: 2 mm .. 5 mm
    outcomes:
      - found: "> 5 mm"
        steps: [{stop: Fit a new guard.}]
      - found: "< 2 mm"
        steps: [{stop: Bend the guard.}]
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what cannot be judged of readings, and outcomes that do not part all values among them."""
    things = opened.guide.machine.things if opened.guide.machine else {}
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if isinstance(step.action, Measure):
                yield from _of_readings(step, step.action, things)
                good = limit_of(step.action, things)
                if step.outcomes and good and good.quantity and not turned_round(step, good, things):
                    yield from _of_outcomes(step, good, good.quantity)


def _of_readings(step: Step, action: Measure, things: Mapping[str, AnyThing]) -> Iterator[Fault]:
    first: dict[str, Said] = {}
    for each in action.readings if isinstance(action.readings, tuple) else ():
        if (before := first.setdefault(each.casefold(), each)) is not each:
            hint, also = "give each a name of its own", (Also(before.span, "the first of them"),)
            yield Fault(each.span, f"two readings are called '{each}'", also, hint)
    several, more = len(readings_of(action, things)) > 1, "add 'readings: …', how many there are or what each is called"
    if not several and isinstance(action.judge, Said) and action.judge != "each":
        yield Fault(action.judge.span, f"there is only one reading, so there is no {action.judge} of them", (), more)
    elif action.difference and not several:
        yield Fault(action.difference.span, "there is only one reading, so there is no difference", (), more)
    elif action.difference and action.judge == "difference" and action.limit:
        also = (Also(action.limit.span, "the other one"),)
        yield Fault(action.difference.span, "the difference has two limits", also, "keep one of them")
    elif action.difference and step.outcomes:
        message = "no outcome says what to do when the readings differ by more"
        yield Fault(action.difference.span, message, (), "measure it in a step of its own, with an 'otherwise'")


def _of_outcomes(step: Step, good: Limit, quantity: Quantity) -> Iterator[Fault]:
    """Yield outcomes that have something in common with those before, then the values that are left out."""
    unit, known = quantity.unit, list[tuple[Limit, ValueSpan]]([(good, reach_of(quantity, quantity.unit))])
    for found in (outcome.found for outcome in step.outcomes):
        values = found.quantity
        if values is None:
            return  # told by `bad-quantity`
        if not comparable(values, quantity):
            also = (Also(good.span, f"the limit, {quantity.kind.one} in {quantity.unit}"),)
            message = f"{quote(found.text)} cannot be compared with the limit"
            yield Fault(found.span, message, also, "write both in units of the same kind")
            return
        if values.at and values.at != quantity.at:
            also, hint = (Also(good.span, "the limit"),), "delete it here, or write the same"
            yield Fault(found.span, f"{quote(found.text)} is stated under other conditions than the limit", also, hint)
        reach = reach_of(values, unit)
        for other, before in known:
            both = overlap(reach, before)
            if both and not _only_meet(values, both):
                yield _twice(found, reach, other, before, both, unit, is_limit=other is good)
                break
        known.append((found, reach))
    for missed in left_out((reach for _, reach in known), quantity.kind):
        message = f"no outcome covers {_values(missed, unit)}"
        yield Fault(step.key, message, (), f"add an outcome 'found: {_to_add(missed, unit)}' with what to do then")


def _only_meet(values: Quantity, both: ValueSpan) -> bool:
    """Tell whether a range only begins or ends where another ends or begins: that end is the other's."""
    return values.low is not None and values.high is not None and values.low != values.high and both.low == both.high


def _twice(
    found: Limit, reach: ValueSpan, other: Limit, before: ValueSpan, both: ValueSpan, unit: str, *, is_limit: bool
) -> Fault:
    low, high = number(both.low.value), number(both.high.value)
    values = f"{low} {unit} is" if both.low.value == both.high.value else f"{low} {unit} to {high} {unit} are"
    if not both.high.value.is_finite():
        values = f"everything from {low} {unit} up is"
    elif not both.low.value.is_finite():
        values = f"everything up to {high} {unit} is"
    where = f"the limit as well, {quote(other.text)}" if is_limit else f"{quote(other.text)} as well"
    hint = "give each value one outcome only"
    if reach.high > before.high and reach.high.value.is_finite() is False:
        hint = f"write '{'>' if not before.high.side else '>='} {number(before.high.value)} {unit}'"
    elif reach.low < before.low and reach.low.value.is_finite() is False:
        hint = f"write '{'<' if not before.low.side else '<='} {number(before.low.value)} {unit}'"
    return Fault(found.span, f"{values} in {where}", (Also(other.span, "here"),), hint)


def _values(missed: ValueSpan, unit: str) -> str:
    """`values below 2 mm` · `values above 5 mm and up to 6 mm` · `a value of 2 mm`."""
    (low, beyond), (high, until) = missed
    if low == high:
        return f"a value of {number(low)} {unit}"
    parts = [f"{'above' if beyond else 'from'} {number(low)} {unit}"] if low.is_finite() else []
    parts += [f"{'up to' if until else 'below'} {number(high)} {unit}"] if high.is_finite() else []
    return f"values {' and '.join(parts)}{' on' if parts[-1].startswith('from') else ''}"


def _to_add(missed: ValueSpan, unit: str) -> str:
    (low, beyond), (high, until) = missed
    if low.is_finite() and high.is_finite():
        return f"{number(low)} {unit}" + (f" .. {number(high)} {unit}" if low != high else "")
    if high.is_finite():
        return f'"{"<=" if until else "<"} {number(high)} {unit}"'
    return f'"{">" if beyond else ">="} {number(low)} {unit}"'
