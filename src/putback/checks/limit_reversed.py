"""A limit has the end that does not matter: a spring "at most" so long, a bore "at least" so wide.

A spring gets shorter with wear, and a bore wider. A limit on the wrong side lets every worn part pass, and rejects the
new one. Nor can a limit be right that a new part, by its `new`, is outside of.

Turn the sign round (`>= 48.5 mm` for the free length of a spring, `<= 80.05 mm` for a bore), or write both ends. If the
unusual side is intended, give the reason in a `waive`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.judged import judged_in
from putback.ledger.opened import Opened
from putback.model.details import Wear
from putback.model.machine import Part
from putback.model.measurands import DOWN, UP
from putback.source.finding import Level
from putback.source.quoting import quote
from putback.units import QuantityError

LEVEL = Level.WARNING
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: free length of the valve spring
    limit: "<= 48.5 mm"
           ^^^^^^^^^^^^ a free length gets smaller with wear, but '<= 48.5 mm' has no lower limit
    otherwise:
      - stop: Fit a new spring.
"""

PASSES = """
steps:
  - measure: free length of the valve spring
    limit: ">= 48.5 mm"
    otherwise:
      - stop: Fit a new spring.
"""

_WRONG = {UP: ("larger", "upper", "<="), DOWN: ("smaller", "lower", ">=")}
"""By the side on which a thing wears: what becomes of it, what its limit lacks, and the sign for that."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield limits with one end, and that the wrong one for what is measured; and those that a new part fails."""
    turned = set()
    for judged in judged_in(opened):
        side, what = judged.wrong_side, judged.what
        if side is None or what is None:
            continue
        becomes, lacks, sign = _WRONG[side]
        article = "an" if what.term[0] in "aeiou" else "a"
        message = f"{article} {what.term} gets {becomes} with wear, but {quote(judged.limit.text)} has no {lacks} limit"
        turned.add(judged.limit.span)
        yield Fault(judged.limit.span, message, hint=f"was '{sign}' meant? if not, write both ends")
    machine = opened.guide.machine
    for thing in machine.things.values() if machine else ():
        if isinstance(thing, Part) and thing.wear and thing.wear.limit and thing.wear.limit.span not in turned:
            yield from _fails_new(thing.wear)


def _fails_new(wear: Wear) -> Iterator[Fault]:
    """Yield the value of a new part that is of another kind than the limit, or outside it."""
    new, limit = (each.quantity if each else None for each in (wear.new, wear.limit))
    if new is None or limit is None or wear.new is None:
        return
    try:
        exact = new.to(limit.unit)
    except QuantityError:
        message = f"{quote(new.text)} is {new.kind.one}, but the limit {quote(limit.text)} is {limit.kind.one}"
        yield Fault(wear.new.span, message)
        return
    below = limit.low is not None and exact.low is not None and exact.low < limit.low
    above = limit.high is not None and exact.high is not None and exact.high > limit.high
    if below or above:
        yield Fault(wear.new.span, f"a new part has {quote(new.text)}, but the limit is {quote(limit.text)}")
