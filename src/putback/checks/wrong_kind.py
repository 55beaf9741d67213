"""A limit is of another kind than what is measured: a gap in pound-feet.

The number was copied from another line, or its unit was: the trade says pounds for a force and for a pressure, and
pound-feet for anything tight. The gauge in the mechanic's hand does not show that unit.

Look up what was printed, and write its unit: a gap in millimetres or inches, the tension of a belt in newtons or
pounds-force (`lbf`).
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.judged import judged_in
from putback.ledger.opened import Opened
from putback.model.measured import Measured
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.quoting import quote
from putback.units import Kind, Quantity
from putback.units.confused import meant, usual_units
from putback.units.quantity import named

LEVEL = Level.ERROR
GROUP = Group.LIMITS

FAILS = """
steps:
  - measure: tension of the belt
    limit: 90 lbf·ft .. 110 lbf·ft
           ^^^^^^^^^^^^^^^^^^^^^^^ '90 lbf·ft .. 110 lbf·ft' is a torque, but a tension is a force: did you mean lbf?
    otherwise:
      - stop: Tighten the belt first.
"""

PASSES = """
steps:
  - measure: tension of the belt
    limit: 90 lbf .. 110 lbf
    otherwise:
      - stop: Tighten the belt first.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield limits that nothing can be measured against that is called so."""
    for judged in judged_in(opened):
        what = judged.what
        quantity = judged.quantity if what else None
        if quantity is None or what is None or quantity.kind in what.kinds:
            continue
        if judged.differs and quantity.kind in (Kind.SHARE, Kind.DIFFERENCE):
            continue  # by so much of a reading, or so many degrees
        kind = _likeliest(quantity, what)
        units = meant(named(quantity.unit), kind)
        question = f": did you mean {listed(units, 'or')}?" if units else ""
        it = "what is measured" if what.term == kind else _one(what.term)
        message = f"{quote(judged.limit.text)} is {quantity.kind.one}, but {it} is {kind.one}{question}"
        unit = listed(units, "or") or f"a unit of {kind.value}, such as {listed(usual_units(kind), 'or')}"
        yield Fault(judged.limit.span, message, hint=f"look up what was printed, and write it in {unit}")


def _likeliest(quantity: Quantity, what: Measured) -> Kind:
    """Return the kind that was probably meant: one that the unit can be a slip for, or else the most usual."""
    unit = named(quantity.unit)
    return next((kind for kind in what.kinds if meant(unit, kind)), what.kinds[0])


def _one(term: str) -> str:
    return f"{'an' if term[0] in 'aeio' else 'a'} {term}"
