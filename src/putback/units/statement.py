"""One statement to a quantity: a number or two, and a unit."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from putback.source.late import Late
from putback.units.confused import asked
from putback.units.kinds import Kind, Unit
from putback.units.numerals import NUMBER, Numeral, read
from putback.units.quantity import KEPT, Form, Quantity, QuantityError, convert
from putback.units.table import LADDERS, find, nearest, of_kind, usual

_SIZE = r"(?:[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)"
_ONE = Late(rf"({NUMBER})\s*(.*)")
_SPAN = Late(rf"({NUMBER})\s*(.*?)\s*(?:\.\.+|–|—|-|\bto\b)\s*({NUMBER})\s*(.*)")
_SIGNED_END = Late(r"[<>=≤≥].*[0-9].*(?:\.\.+|–|—|\bto\b).*|.*[0-9].*(?:\.\.+|–|—|\bto\b)\s*[<>=≤≥].*")
_OPEN = Late(r".*[0-9].*(?:\.\.+|–|—|-|\bto)|(?:\.\.+|–|—|to\b).*[0-9].*")
_MARGIN = Late(r"(.*?)\s*(?:±|\+/-|\+-)\s*(.*)")
_DEVIATIONS = Late(
    rf"({NUMBER.removeprefix('[-+]?')})(?:\s+|\s*([^0-9+\s-][^0-9+-]*?)\s*)([+-] ?{_SIZE}|0(?= ?/? ?[+-]))"
    rf"\s*([^0-9+/\s-][^0-9+/-]*?)?(?:\s+|\s*/\s*)([+-] ?{_SIZE}|0)(?![0-9./])\s*(.*)"
)
_MARKED = Late(
    r"(?P<sign>[<>=≤≥]*)\s*(?P<mark>Ra|Rz|Rq|Rt|HRC|HRB|HRA|HBW?|HV|BHN|Shore ?[AD]|Δ ?T?)"
    r"\s*(?P<rest>[<>=≤≥]*\s*[0-9].*)"
)
"""A designation in front of its number: Ra 0.8 µm, HRC 50, Δ 3 °C."""
_GRADE = Late(r"(?:SAE |ISO |NLGI |API |VG |ISO ?VG )[\w -]+|[0-9]{1,2} ?W ?[-/] ?[0-9]{2,3}", re.IGNORECASE)
"""Names of oils and greases, which look like numbers with a unit."""
_LIMIT = Late(
    r"(>=|=>|≥|<=|=<|≤|>|<|at least\b|at most\b|up to\b|more than\b|less than\b|no(?:t)? (?:more|less) than\b"
    r"|min(?:imum\b|\b\.?)|max(?:imum\b|\b\.?)|not (?:over|under)\b|over\b|under\b|above\b|below\b)\s*(.*)",
    re.IGNORECASE,
)
_SIGNS = frozenset("<>=≤≥")
_FEW = Late(r"[1-9]")
_MIXED = Late(r"([^0-9]+?)\s*([0-9].*)")
_LIMITS = {
    **dict.fromkeys((">=", "=>", "≥", "at least", "min", "min.", "minimum"), Form.AT_LEAST),
    **dict.fromkeys(("not less than", "no less than", "not under"), Form.AT_LEAST),
    **dict.fromkeys(("<=", "=<", "≤", "at most", "up to", "max", "max.", "maximum"), Form.AT_MOST),
    **dict.fromkeys(("not more than", "no more than", "not over"), Form.AT_MOST),
    **dict.fromkeys((">", "more than", "over", "above"), Form.MORE_THAN),
    **dict.fromkeys(("<", "less than", "under", "below"), Form.LESS_THAN),
}
SIGNED = frozenset({Kind.TEMPERATURE, Kind.DIFFERENCE, Kind.ANGLE, Kind.VOLTAGE, Kind.CURRENT, Kind.PRESSURE})
"""Kinds that have values below zero; a pressure has when it is read on a gauge."""


def as_in(kind: Kind | None) -> str:
    """Return how a quantity of a kind is written, for a hint: `as in '18 N·m'`."""
    if kind is None:
        return "as in '18 mm', '18 N·m' or '2 bar'"
    unit = usual(kind)
    return "as in '90°'" if kind is Kind.ANGLE else f"as in '18{unit.joined and ' '}{unit.symbol}'"


def read_statement(plain: str, written: str, kind: Kind | None, designation: str = "") -> Quantity:
    """Read one statement from an even text. Raises QuantityError, which quotes what was written.

    `designation` is that of another statement of the same quantity, which need not be written twice: Ra, BTDC.
    """
    return _Reader(written, kind, designation).quantity(plain)


class _Reader:
    """Reads one text; keeps it for the messages."""

    def __init__(self, text: str, kind: Kind | None, designation: str = "") -> None:
        self.text = text
        self.kind = kind
        self.designation = designation

    def fault(self, message: str, hint: str, *, bare: bool = False) -> QuantityError:
        return QuantityError(f"'{self.text}' {message}", hint, bare=bare)

    def quantity(self, plain: str) -> Quantity:
        # Looked for only where its signs are: most statements are a number and a unit.
        if not _SIGNS.isdisjoint(plain) and _SIGNED_END.fullmatch(plain):
            raise self.fault("has a sign at one end of a range", "write both ends without it, or one limit with it")
        if (plain[0] in ".–—-t" or plain[-1] in ".–—-o") and _OPEN.fullmatch(plain):
            raise self.fault("has one end of a range", "write both ends, or '>=' or '<=' before the one")
        named = plain.lstrip("<>=≤≥ ")[:1].isalpha()
        marked = _MARKED.fullmatch(plain) if named else None
        if marked is not None:
            return self.marked(marked["mark"], marked["sign"] + marked["rest"])
        if (named or "w" in plain.lower()) and _GRADE.fullmatch(plain):
            what = f", but {self.kind.one} is expected" if self.kind else ""
            raise self.fault(f"is the name of a grade{what}", f"write it {as_in(self.kind)}")
        limit = _LIMIT.fullmatch(plain)
        if limit is not None:
            return self.limit(_LIMITS[limit[1].lower()], limit[2])
        margin = _MARGIN.fullmatch(plain) if "±" in plain or "+" in plain else None
        if margin is not None:
            return self.margin(margin[1], margin[2])
        signed = "+" in plain or plain.count("-") > 1 or (" 0" in plain and "-" in plain)
        deviations = _DEVIATIONS.fullmatch(plain) if signed else None
        if deviations is not None:
            return self.deviations(*deviations.groups())
        span = _SPAN.fullmatch(plain)
        if span is not None:
            return self.span(span[1], span[2], span[3], span[4])
        return self.single(plain)

    def marked(self, mark: str, rest: str) -> Quantity:
        """Read a number that its designation stands in front of."""
        if mark.startswith("Δ"):
            if self.kind not in (None, Kind.DIFFERENCE):
                raise self.fault(f"is {Kind.DIFFERENCE.one}, but {self.kind.one} is expected", self.as_expected())
            return _Reader(self.text, Kind.DIFFERENCE).quantity(rest)
        return self.quantity(f"{rest} {mark}")

    def as_expected(self) -> str:
        if self.kind is Kind.ANGLE and "turn" in self.text.lower():
            return "write it as in '1 turn'"
        return f"write it {as_in(self.kind)}"

    def split(self, plain: str) -> tuple[Numeral, str]:
        match = _ONE.fullmatch(plain)
        if match is None:
            raise self.fault(
                "is not a quantity: a number and then a unit are expected",
                self.as_expected(),
            )
        return read(match[1], self.text), match[2]

    def unit(self, name: str) -> Unit:
        if not name:
            unit = usual(self.kind) if self.kind else None
            examples = [f"{self.text}{' ' if unit is None or unit.joined else ''}{unit.symbol if unit else 'mm'}"]
            if self.kind is Kind.ANGLE and _FEW.fullmatch(self.text):  # degrees, as a rule, are more
                examples.insert(0, f"{self.text} turn{'' if self.text == '1' else 's'}")
            hint = " or ".join(f"'{example}'" for example in examples)
            counted = "" if self.kind else f", or what is counted, as in '{self.text} drops'"
            raise self.fault("has no unit", f"write the unit, as in {hint}{counted}", bare=True)
        found = find(name)
        if found is None:
            near = nearest(name, self.kind)
            some = f"a unit of {self.kind.value}" if self.kind else "a known unit"
            hint = (
                f"did you mean '{self.with_unit(name, near.symbol)}'?" if near else f"write {some}, {as_in(self.kind)}"
            )
            kind = f" of {self.kind.value}" if self.kind else ""
            raise self.fault(f"has the unknown unit{kind} '{name}'", hint)
        if self.kind is not None and found.kind is not self.kind:
            meant = of_kind(found, self.kind, self.designation)
            if meant is not None:
                return meant
            hint = asked(found, self.kind, lambda symbol: self.with_unit(name, symbol)) or self.as_expected()
            raise self.fault(f"is {found.kind.one}, but {self.kind.one} is expected", hint)
        return found

    def with_unit(self, name: str, symbol: str) -> str:
        """Return the text with another unit in the place of one."""
        head, found, tail = self.text.rpartition(name)
        return f"{head}{symbol}{tail}" if found else symbol

    def alike(self, name: str, unit: Unit) -> bool:
        """Tell whether a unit in front of another one is the same: the ° of 8° to 12° BTDC is."""
        first = find(name) or self.unit(name)
        return first == unit or unit.symbol.startswith(f"{first.symbol} ") or of_kind(first, unit.kind) == unit

    def checked(self, low: Decimal | None, unit: Unit, high: Decimal | None = None) -> None:
        least = high if low is None else low
        if least is None or least >= 0:
            return
        if unit.kind not in SIGNED:
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
        """Read the smaller parts after `1 h`: each of the same kind, smaller than one of the unit before."""
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
        if form is Form.LESS_THAN and not number.value and unit.kind not in SIGNED:
            raise self.fault(f"leaves no smaller {unit.kind.value}", "write a value above zero")
        if form in (Form.AT_LEAST, Form.MORE_THAN):
            return self.made(unit, number, low=number.value, high=None, form=form)
        return self.made(unit, number, low=None, high=number.value, form=form)

    def span(self, first: str, first_unit: str, second: str, second_unit: str) -> Quantity:
        low, high = read(first, self.text), read(second, self.text)
        unit = self.unit(second_unit)
        if first_unit and not self.alike(first_unit, unit):
            raise self.fault("has its two ends in different units", f"write both ends in {unit.symbol}")
        if low.value >= high.value:
            raise self.fault("is not a range: its first end must be the smaller", "write the smaller value first")
        return self.made(unit, low, high, low=low.value, high=high.value, form=Form.RANGE)

    def deviations(self, first: str, *parts: str | None) -> Quantity:
        """Read a value and how far it may be off either way: 20 +5 −0 N·m, 20 mm +0.1 −0.2."""
        names = [name.strip() for name in parts[::2] if name]
        unit = self.unit(names[-1] if names else "")
        if not all(self.alike(name, unit) for name in names):
            raise self.fault("has its deviations in another unit", f"write all of it in {unit.symbol}")
        numbers = [read(text.replace(" ", ""), self.text) for text in (first, *parts[1::2]) if text]
        value, upper, lower = (number.value for number in numbers)
        if upper < lower:
            upper, lower = lower, upper
        if upper == lower:
            raise self.fault("has two deviations that are the same", "write the upper one and the lower one")
        low, high = KEPT.add(value, lower), KEPT.add(value, upper)
        if low < 0 and unit.kind not in SIGNED:
            raise self.fault("reaches below zero", "write a deviation that is smaller than the value")
        made = self.made(unit, *numbers, low=low, high=high, form=Form.DEVIATIONS, nominal=value, margin=upper)
        return replace(made, below=lower)

    def margin(self, left: str, right: str) -> Quantity:
        nominal, name = self.split(left)
        margin, margin_name = self.split(right)
        behind = self.unit(margin_name) if margin_name and margin_name != "%" else None
        if behind is not None and name and self.alike(name, behind):
            name = ""
        percent = margin_name == "%"
        if percent and not name and self.kind in (None, Kind.SHARE):
            name = "%"
        if not name and behind is None and percent:
            raise self.fault(
                "has no unit before the '±'",
                f"write the unit before it, {as_in(self.kind)}",
                bare=True,
            )
        unit = self.unit(name) if name or behind is None else behind
        if behind is not None and behind != unit:
            raise self.fault("has its margin in another unit", f"write the margin in {unit.symbol}")
        if margin.value <= 0:
            raise self.fault("has no margin after the '±'", "write a margin above zero")
        size = margin.value
        form = Form.MARGIN
        numbers = (nominal, margin)
        if percent and unit.kind is not Kind.SHARE:
            if unit.kind is Kind.TEMPERATURE:
                raise self.fault("gives a temperature a margin in %", f"write the margin in {unit.symbol}")
            form = Form.PERCENT
            size = KEPT.divide(KEPT.multiply(abs(nominal.value), margin.value), Decimal(100))
            numbers = (nominal, nominal)
        low, high = KEPT.subtract(nominal.value, size), KEPT.add(nominal.value, size)
        if low < 0 and unit.kind not in SIGNED and nominal.value >= 0:
            raise self.fault("reaches below zero", "write a margin that is smaller than the value")
        return self.made(unit, *numbers, low=low, high=high, form=form, nominal=nominal.value, margin=margin.value)
