"""A quantity: one value, a range, a tolerance or a limit, in the unit in which it was written."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Context, Decimal, localcontext
from enum import StrEnum
from functools import cache

from putback.units.kinds import Kind, Unit
from putback.units.table import find

WIDE = Context(prec=60)
"""For arithmetic between exact factors."""
KEPT = Context(prec=28)
"""For results that are kept."""


class QuantityError(ValueError):
    """A text that is no quantity of the kind wanted. Its message is fit for the author."""

    def __init__(self, message: str, hint: str, *, bare: bool = False) -> None:
        super().__init__(message)
        self.hint = hint
        """What would be right."""
        self.bare = bare
        """Whether it was a number without a unit, and no other fault."""


class Form(StrEnum):
    """How a quantity is stated."""

    VALUE = "value"
    """18 N·m"""
    SPLIT = "split"
    """1 h 30 min: one value over several units, kept in the smallest"""
    RANGE = "range"
    """22–28 lbf·ft"""
    MARGIN = "margin"
    """445 ± 22 N"""
    PERCENT = "percent"
    """20 N·m ± 10 %"""
    DEVIATIONS = "deviations"
    """20 +5 −0 N·m"""
    AT_LEAST = "≥"
    MORE_THAN = ">"
    AT_MOST = "≤"
    LESS_THAN = "<"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number or a span of numbers with a unit. Equal means the same, however spaced or spelt."""

    low: Decimal | None
    """The least value, in `unit`; None when open (at most, less than)."""
    high: Decimal | None
    """The greatest value, in `unit`; None when open (at least, more than)."""
    unit: str
    """The symbol of the unit, as printed."""
    kind: Kind
    """What is measured."""
    text: str = field(compare=False)
    """As the author wrote it."""
    digits: int
    """Significant digits stated, of the number with most; zeros at the end count, a fraction has 3."""
    step: Decimal
    """One unit of the last digit stated, in `unit`."""
    form: Form = Form.VALUE
    """How it is stated."""
    nominal: Decimal | None = None
    """The value aimed at, in `unit`: of a single value and of a tolerance."""
    margin: Decimal | None = None
    """What stands after ±: in `unit` for MARGIN, in % of the nominal for PERCENT; the upper one for DEVIATIONS."""
    below: Decimal | None = None
    """The lower of two deviations, with its sign, in `unit`."""
    fraction: bool = False
    """Whether it was written with fractions (5/16 in)."""
    also: tuple[Quantity, ...] = ()
    """The same in other units, where the author gave more than one: 10 N·m (1.0 kgf·m, 7.2 lbf·ft)."""
    at: Quantity | None = None
    """What it holds at: 10 mm at 30 N. It may be stated in other units as well."""

    @property
    def stated(self) -> Quantity | None:
        """The same in a second unit; None when the author gave one."""
        return self.also[0] if self.also else None

    def to(self, unit: str) -> Quantity:
        """Return the same span in another unit, to 28 digits, without the other stated units.

        `unit` is any spelling that `parse` takes. Raises QuantityError when it is unknown or measures another
        thing. What it holds at stays as it is. For print, use `rounded_to`.
        """
        here, there = named(self.unit), find(unit)
        if there is None:
            raise QuantityError(f"'{unit}' is not a unit", f"name a unit of {self.kind.value}, such as '{self.unit}'")
        if there.kind is not here.kind or there.si != here.si:
            raise QuantityError(
                f"{self.unit} cannot be converted into {there.symbol}",
                f"name a unit of the same kind as {self.unit}",
            )
        if there.symbol == here.symbol:
            return self

        def over(value: Decimal | None) -> Decimal | None:
            return None if value is None else convert(value, here, there)

        margin = self.margin
        if margin is not None and self.form is not Form.PERCENT:
            margin = scale(margin, here, there)
        return Quantity(
            low=over(self.low),
            high=over(self.high),
            unit=there.symbol,
            kind=self.kind,
            text=self.text,
            digits=self.digits,
            step=scale(self.step, here, there),
            form=Form.VALUE if self.form is Form.SPLIT else self.form,
            nominal=over(self.nominal),
            margin=margin,
            below=None if self.below is None else scale(self.below, here, there),
            at=self.at,
        )


def named(symbol: str) -> Unit:
    """Return the unit of a symbol that is known to exist."""
    unit = find(symbol)
    if unit is None:
        raise QuantityError(f"'{symbol}' is not a unit", "name a known unit")
    return unit


@cache
def _numbers(unit: Unit) -> tuple[Decimal, Decimal, Decimal]:
    return Decimal(unit.over), Decimal(unit.under), Decimal(unit.offset)


def scale(difference: Decimal, here: Unit, there: Unit) -> Decimal:
    """Return a difference in `here` as a difference in `there`: 10 °C is 18 °F."""
    (over, under, _), (over_there, under_there, _) = _numbers(here), _numbers(there)
    with localcontext(WIDE):
        wide = difference * over * under_there / (under * over_there)
    return _kept(wide)


def convert(value: Decimal, here: Unit, there: Unit) -> Decimal:
    """Return a value in `here` as a value in `there`: 10 °C is 50 °F."""
    (over, under, offset), (over_there, under_there, offset_there) = _numbers(here), _numbers(there)
    with localcontext(WIDE):
        wide = (value + offset) * over * under_there / (under * over_there) - offset_there
    return _kept(wide)


def _kept(wide: Decimal) -> Decimal:
    return KEPT.plus(wide).normalize(KEPT)


@cache
def _si_unit(unit: Unit) -> Unit:
    return Unit(unit.si, unit.kind, None, unit.si, "1")


def si(quantity: Quantity) -> tuple[float | None, float | None]:
    """Return the least and the greatest value in SI units; None for an open end.

    N·m, m, m², m³, kg, Pa, K, s, rad, m/s (rad/s for rpm), N, N/m, m³/s, W, kg/m³, m²/s (Pa·s for mPa·s), V, A, Ω,
    F, C, Hz; a percentage and a ratio as a plain number (10 % is 0.1, 12:1 is 12); a hardness as it is.
    """
    here = named(quantity.unit)
    low, high = (
        None if value is None else float(convert(value, here, _si_unit(here)))
        for value in (quantity.low, quantity.high)
    )
    return low, high


def least(quantity: Quantity) -> float:
    """Return the least value in SI units; 0 when that end is open."""
    return si(quantity)[0] or 0.0


def most(quantity: Quantity) -> float:
    """Return the greatest value in SI units; 0 when that end is open."""
    return si(quantity)[1] or 0.0
