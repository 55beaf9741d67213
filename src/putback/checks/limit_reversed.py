"""A limit has the end that does not matter: a spring "at most" so long, a bore "at least" so wide.

A spring gets shorter with wear, and a bore wider. A limit on the wrong side lets every worn part pass, and rejects the
new one.

Turn the sign round (`>= 48.5 mm` for the free length of a spring, `<= 80.05 mm` for a bore), or write both ends. If the
unusual side is intended, give the reason in a `waive`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.judged import judged_in
from putback.ledger.opened import Opened
from putback.model.measurands import DOWN, UP
from putback.source.finding import Level
from putback.source.quoting import quote

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
    """Yield limits with one end, and that the wrong one for what is measured."""
    for judged in judged_in(opened):
        side, what = judged.wrong_side, judged.what
        if side is None or what is None:
            continue
        becomes, lacks, sign = _WRONG[side]
        article = "an" if what.term[0] in "aeiou" else "a"
        message = f"{article} {what.term} gets {becomes} with wear, but {quote(judged.limit.text)} has no {lacks} limit"
        yield Fault(judged.limit.span, message, hint=f"was '{sign}' meant? if not, write both ends")
