"""Text to a quantity."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from putback.source.late import Late
from putback.units.numerals import NUMBER, PLAIN, Numeral, read
from putback.units.quantity import KEPT, Form, Quantity, QuantityError, convert, named
from putback.units.table import LADDERS, Kind, Unit, find, nearest, usual

_LONGEST = 200
_BREAK = Late(r"\s*[\t\n]\s*")
_ONE = Late(rf"({NUMBER})\s*(.*)")
_SPAN = Late(rf"({NUMBER})\s*(.*?)\s*(?:\.\.+|–|—|-|\bto\b)\s*({NUMBER})\s*(.*)")
_OPEN = Late(r".*[0-9].*(?:\.\.+|–|—|-|\bto)|(?:\.\.+|–|—|to\b).*[0-9].*")
_MARGIN = Late(r"(.*?)\s*(?:±|\+/-|\+-)\s*(.*)")
_BOTH = Late(r"(.*?)\s*\(([^()]*)\)")
_LIMIT = Late(
    r"(>=|=>|≥|<=|=<|≤|>|<|at least\b|at most\b|up to\b|more than\b|less than\b|min\b\.?|max\b\.?)\s*(.*)",
    re.IGNORECASE,
)
_FEW = Late(r"[1-9]")
_MIXED = Late(r"([^0-9]+?)\s*([0-9].*)")
_LIMITS = {
    **dict.fromkeys((">=", "=>", "≥", "at least", "min", "min."), Form.AT_LEAST),
    **dict.fromkeys(("<=", "=<", "≤", "at most", "up to", "max", "max."), Form.AT_MOST),
    **dict.fromkeys((">", "more than"), Form.MORE_THAN),
    **dict.fromkeys(("<", "less than"), Form.LESS_THAN),
}
_SIGNED = frozenset({Kind.TEMPERATURE, Kind.ANGLE, Kind.VOLTAGE, Kind.CURRENT, Kind.PRESSURE})
"""Kinds that have values below zero; a pressure has when it is read on a gauge."""


def parse(text: str, kind: Kind) -> Quantity:
    """Read a quantity of one kind as a person writes it.

    Raises QuantityError; its `bare` says that only the unit is missing.
    """
    return _read(text, kind)


def parse_any(text: str) -> Quantity:
    """Read a quantity whose kind is told by its unit. Raises QuantityError."""
    return _read(text, None)


@lru_cache(maxsize=4096)
def _read(text: str, kind: Kind | None) -> Quantity:
    if len(text) > _LONGEST:
        raise QuantityError(
            f"the text is too long for a quantity ({len(text)} characters)", "write a number and a unit"
        )
    written = _BREAK.sub(" ", text.strip())
    plain = " ".join(written.translate(PLAIN).split())
    if not plain:
        what = kind.one if kind else "a quantity"
        raise QuantityError(f"the text is empty, and {what} is expected", f"write it as in '{_example(kind)}'")
    pair = _BOTH.fullmatch(plain)
    if pair is None or not pair[1]:
        return _Reader(written, kind).quantity(plain)
    first = _read(pair[1], kind)
    return _Reader(written, kind).with_second(first, _read(pair[2], first.kind))


def _example(kind: Kind | None) -> str:
    if kind is None:
        return "18 N·m"
    if kind is Kind.ANGLE:
        return "90°"
    unit = usual(kind)
    return f"18{'' if unit.symbol == '°' else ' '}{unit.symbol}"


class _Reader:
    """Reads one text; keeps it for the messages."""

    def __init__(self, text: str, kind: Kind | None) -> None:
        self.text = text
        self.kind = kind

    def fault(self, message: str, hint: str, *, bare: bool = False) -> QuantityError:
        return QuantityError(f"'{self.text}' {message}", hint, bare=bare)

    def quantity(self, plain: str) -> Quantity:
        if _OPEN.fullmatch(plain):
            raise self.fault("has one end of a range", "write both ends, or '>=' or '<=' before the one")
        limit = _LIMIT.fullmatch(plain)
        if limit is not None:
            return self.limit(_LIMITS[limit[1].lower()], limit[2])
        margin = _MARGIN.fullmatch(plain)
        if margin is not None:
            return self.margin(margin[1], margin[2])
        span = _SPAN.fullmatch(plain)
        if span is not None:
            return self.span(span[1], span[2], span[3], span[4])
        return self.single(plain)

    def split(self, plain: str) -> tuple[Numeral, str]:
        match = _ONE.fullmatch(plain)
        if match is None:
            raise self.fault(
                "is not a quantity: a number and then a unit are expected",
                f"write it as in '{_example(self.kind)}'",
            )
        return read(match[1], self.text), match[2]

    def unit(self, name: str) -> Unit:
        if not name:
            unit = usual(self.kind) if self.kind else None
            symbol = unit.symbol if unit else "N·m"
            examples = [f"{self.text}{'' if symbol == '°' else ' '}{symbol}"]
            if self.kind is Kind.ANGLE and _FEW.fullmatch(self.text):  # degrees, as a rule, are more
                examples.insert(0, f"{self.text} turn{'' if self.text == '1' else 's'}")
            hint = " or ".join(f"'{example}'" for example in examples)
            raise self.fault("has no unit", f"write the unit, as in {hint}", bare=True)
        found = find(name)
        if found is None:
            near = nearest(name, self.kind, 0.5) or (usual(self.kind) if self.kind else None)
            hint = f"did you mean '{near.symbol}'?" if near else "write a known unit, as in '18 N·m'"
            kind = f" of {self.kind.value}" if self.kind else ""
            raise self.fault(f"has the unknown unit{kind} '{name}'", hint)
        if self.kind is not None and found.kind is not self.kind:
            # No other unit as a hint: a unit that is known was meant, and the number belongs to it.
            hint = f"write it as in '{_example(self.kind)}'"
            raise self.fault(f"is {found.kind.one}, and {self.kind.one} is expected", hint)
        return found

    def checked(self, low: Decimal | None, unit: Unit, high: Decimal | None = None) -> None:
        least = high if low is None else low
        if least is None or least >= 0:
            return
        if unit.kind not in _SIGNED:
            raise self.fault(f"is a negative {unit.kind.value}", "write a value of zero or more")
        if unit.kind is Kind.TEMPERATURE and least + Decimal(unit.offset) < 0:
            raise self.fault("is below absolute zero (0 K, -273.15 °C, -459.67 °F)", "write a temperature that exists")

    def made(self, unit: Unit, *numbers: Numeral, low: Decimal | None, high: Decimal | None, form: Form,
             nominal: Decimal | None = None, margin: Decimal | None = None) -> Quantity:  # fmt: skip
        self.checked(low, unit, high)
        fraction = any(number.fraction for number in numbers)
        if fraction and any(not number.fraction and number.step < 1 for number in numbers):
            raise self.fault("mixes a fraction and a decimal", "write both as decimals")
        return Quantity(
            low=low,
            high=high,
            unit=unit.symbol,
            kind=unit.kind,
            text=self.text,
            digits=max(number.digits for number in numbers),
            step=min(number.step for number in numbers),
            form=form,
            nominal=nominal,
            margin=margin,
            fraction=fraction,
        )

    def single(self, plain: str) -> Quantity:
        number, name = self.split(plain)
        mixed = None if find(name) else _MIXED.fullmatch(name)
        if mixed is not None and find(mixed[1]):
            return self.parts(number, self.unit(mixed[1]), mixed[2])
        unit = self.unit(name)
        value = number.value
        return self.made(unit, number, low=value, high=value, form=Form.VALUE, nominal=value)

    def parts(self, number: Numeral, unit: Unit, rest: str) -> Quantity:
        """Read the smaller parts behind `1 h`: each of the same kind, smaller than one of the unit before."""
        total = number.value
        while True:
            whole = number.value == number.value.to_integral_value() and not number.fraction
            number, name = self.split(rest)
            mixed = None if find(name) else _MIXED.fullmatch(name)
            smaller = self.unit(mixed[1] if mixed else name)
            together = any(unit.symbol in ladder and smaller.symbol in ladder for ladder in LADDERS)
            one = convert(Decimal(1), unit, smaller) if together else None
            if one is None or not 0 <= number.value < one or not whole or total < 0:
                raise self.fault("does not run from larger units to smaller ones", "write it as in '1 h 30 min'")
            total = total * one + number.value
            unit = smaller
            if mixed is None:
                break
            rest = mixed[2]
        count = len(str(abs(total)).replace(".", "").lstrip("0")) or 1
        number = number._replace(digits=count)
        return self.made(unit, number, low=total, high=total, form=Form.SPLIT, nominal=total)

    def limit(self, form: Form, plain: str) -> Quantity:
        number, name = self.split(plain)
        unit = self.unit(name)
        if form is Form.LESS_THAN and not number.value and unit.kind not in _SIGNED:
            raise self.fault(f"leaves no {unit.kind.value} that is less", "write a value above zero")
        if form in (Form.AT_LEAST, Form.MORE_THAN):
            return self.made(unit, number, low=number.value, high=None, form=form)
        return self.made(unit, number, low=None, high=number.value, form=form)

    def span(self, first: str, first_unit: str, second: str, second_unit: str) -> Quantity:
        low, high = read(first, self.text), read(second, self.text)
        unit = self.unit(second_unit)
        if first_unit and self.unit(first_unit) != unit:
            raise self.fault("has its two ends in different units", f"write both ends in {unit.symbol}")
        if low.value >= high.value:
            raise self.fault("is not a range: its first end must be the smaller", "write the smaller value first")
        return self.made(unit, low, high, low=low.value, high=high.value, form=Form.RANGE)

    def margin(self, left: str, right: str) -> Quantity:
        nominal, name = self.split(left)
        margin, margin_name = self.split(right)
        behind = self.unit(margin_name) if margin_name and margin_name != "%" else None
        percent = margin_name == "%"
        if percent and not name and self.kind in (None, Kind.RATIO):
            name = "%"
        if not name and behind is None and percent:
            raise self.fault(
                "has no unit before the '±'",
                f"write the unit, as in '{_example(self.kind)} ± 10 %'",
                bare=True,
            )
        unit = self.unit(name) if name or behind is None else behind
        if behind is not None and behind != unit:
            raise self.fault("has its margin in another unit", f"write the margin in {unit.symbol}")
        if margin.value <= 0:
            raise self.fault("has no margin behind the '±'", "write a margin above zero")
        size = margin.value
        form = Form.MARGIN
        numbers = (nominal, margin)
        if percent and unit.kind is not Kind.RATIO:
            if unit.kind is Kind.TEMPERATURE:
                raise self.fault("gives a temperature a margin in %", f"write the margin in {unit.symbol}")
            form = Form.PERCENT
            size = KEPT.divide(KEPT.multiply(abs(nominal.value), margin.value), Decimal(100))
            numbers = (nominal, nominal)
        low, high = KEPT.subtract(nominal.value, size), KEPT.add(nominal.value, size)
        if low < 0 and unit.kind not in _SIGNED and nominal.value >= 0:
            raise self.fault("reaches below zero", "write a margin that is smaller than the value")
        return self.made(unit, *numbers, low=low, high=high, form=form, nominal=nominal.value, margin=margin.value)

    def with_second(self, first: Quantity, second: Quantity) -> Quantity:
        if first.stated is not None:
            raise self.fault("gives more than two units", "write one unit, and one more in brackets")
        here, there = named(first.unit), named(second.unit)
        if here == there:
            raise self.fault(f"gives {first.unit} twice", "write the value in brackets in another unit")
        if here.si != there.si:
            raise self.fault(f"gives {there.symbol} for {here.symbol}, which do not convert", "leave out one of them")
        if second.form is Form.VALUE and first.form in _LIMITS.values():
            # ">= 6.4 mm (0.252 in)": the sign is meant for both.
            low, high = (second.low, None) if first.high is None else (None, second.high)
            second = replace(second, low=low, high=high, form=first.form, nominal=None)
        return replace(first, text=self.text, stated=second)
