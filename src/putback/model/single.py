"""Where one value is meant: how long a bolt is, how wide a washer, what a stand carries, how wide a ring is drawn."""

from __future__ import annotations

from decimal import Decimal

from putback.model.reading import Reader
from putback.source.finding import Finding, Level
from putback.source.quoting import quote
from putback.source.tree import Node
from putback.units import Form, Kind, Quantity

_MOST = {"picture": (Decimal(500), "mm")}
_OTHERWISE = (Decimal(10), "m")
"""What nothing that is taken off a machine is longer than, from memory; a picture is on a page. More is a slip."""


def one_value(
    reader: Reader, node: Node | None, kind: Kind, of: str = "fastener", *, nought: bool = False
) -> Quantity | None:
    """Return a quantity that is one value above nought, with or without a tolerance; anything else is a finding.

    `of` is what it is a quantity of. With `nought`, it may be nothing as well.
    """
    quantity = reader.quantity(node, kind) if nought else reader.positive(node, kind, of)
    if node is None or quantity is None:
        return None
    fault = _fault(quantity, of)
    if fault is None:
        return quantity
    reader.faults.append(Finding("bad-quantity", Level.ERROR, node.span, fault[0], hint=fault[1]))
    return None


def _fault(quantity: Quantity, of: str) -> tuple[str, str] | None:
    """Return what is wrong, and what would be right."""
    said, value = quote(quantity.text), quantity.nominal
    if value is not None:
        most, unit = _MOST.get(of, _OTHERWISE)
        if quantity.kind is not Kind.LENGTH or (quantity.to(unit).nominal or 0) <= most:
            return None
        return f"{said} is more than {most} {unit}, and no {of} is that long", "look at the number and its unit"
    end = quantity.low if quantity.high is None else quantity.high
    if quantity.form is Form.RANGE:
        # Which of them holds is for the author to find out: the middle of a range may be more than a stand carries.
        return f"{said} is a range, but one value is expected", "look it up, or measure it, and write one value"
    return f"{said} is a limit, but one value is expected", f"write '{_written(end or Decimal(0), quantity.unit)}'"


def _written(value: Decimal, unit: str) -> str:
    plain = f"{value.normalize():f}"
    return f"{plain}{'' if unit == '°' else ' '}{unit}"
