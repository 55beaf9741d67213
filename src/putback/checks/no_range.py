"""The limit of a measurement is one number, or words, with no tolerance.

Nobody ever reads exactly 0.50 mm. One reader accepts 0.46 mm, another sets it again; on "snug" a third tightens it. An
instrument gives a number, and only numbers can be compared with it.

Write both ends (`0.45 mm .. 0.55 mm`), a tolerance (`0.50 mm ± 0.05 mm`), or the one end that counts (`<= 0.55 mm`), as
the maker states it. What is seen, heard or felt is a `check`, and may be in words.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.judged import Judged, judged_in
from putback.ledger.opened import Opened
from putback.model.spoken import Bound, read_spoken
from putback.model.vague import says_nothing
from putback.source.finding import Level
from putback.source.quoting import quote
from putback.units import Form, Kind, Quantity

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: gap between the belt and its guard
    limit: 3 mm
           ^^^^ '3 mm' is a single value with no tolerance
    otherwise:
      - stop: Fit a new guard.
"""

PASSES = """
steps:
  - measure: gap between the belt and its guard
    limit: 2 mm .. 5 mm
    otherwise:
      - stop: Fit a new guard.
"""

_HINT = "write both ends ('… .. …'), a tolerance ('… ± …'), or one end with '>=' or '<=', as the maker states it"
_NATURAL = {"zero", "none", "nil", "tdc", "bdc", "at tdc", "at bdc", "top dead centre", "top dead center"}
"""Points that are ends by nature, in words."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield limits that are a single value, and limits of measurements that are words."""
    for judged in judged_in(opened):
        limit = judged.limit
        if limit.quantity is not None:
            if _is_point(limit.quantity) and not judged.clicks:
                hint = f"write '<= {limit.text}', if they may differ by up to that" if judged.differs else _HINT
                yield Fault(limit.span, _one_value(limit.text), hint=hint)
        elif judged.measures and not limit.unread:
            yield from _words(judged)


def _is_point(quantity: Quantity) -> bool:
    if quantity.form not in (Form.VALUE, Form.SPLIT) or quantity.kind is Kind.COUNT:
        return False
    if quantity.kind is Kind.SHARE and quantity.low == 100:
        return False
    return quantity.low != 0 or quantity.kind is Kind.TEMPERATURE


def _one_value(text: str) -> str:
    return f"{quote(text)} is a single value with no tolerance"


def _words(judged: Judged) -> Iterator[Fault]:
    limit = judged.limit
    if limit.text.lower() in _NATURAL:
        return
    spoken, plain = read_spoken(limit.text)
    match spoken:
        case Bound.RANGE if plain is not None:
            message = f"{quote(limit.text)} is in words, so no reading can be compared with it"
            yield Fault(limit.span, message, hint=f"write '{plain}'")
        case Bound.RANGE:
            return  # a bound on another reading, such as: within 10 % of the highest
        case Bound.POINT:
            yield Fault(limit.span, _one_value(limit.text), hint=_HINT)
        case Bound.WORDS:
            message = f"{quote(limit.text)} is in words, but a measurement needs numbers"
            hint = "write a range, a tolerance or one end, with its unit"
            if not says_nothing(limit.text, (judged.words,)):
                hint += ", or make it a 'check'"
            yield Fault(limit.span, message, hint=hint)
