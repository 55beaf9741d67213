"""Text to a quantity: one statement, the same in other units, and what it holds at."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from putback.source.late import Late
from putback.units.agreeing import agree
from putback.units.kinds import SCALES_APART, Kind
from putback.units.numerals import PLAIN
from putback.units.quantity import Form, Quantity, QuantityError, named
from putback.units.statement import SIGNED, as_in, read_statement
from putback.units.table import AS_A_FORCE, designation

_LONGEST = 200
_MOST = 3
"""Units in which one value may be stated."""
_BREAK = Late(r"\s*[\t\n]\s*")
_PER_MINUTE = Late(r"\bmin ?-1(?![0-9.,]| ?[a-z])")
_LAST = Late(r"(.*?)\s*[(\[]([^()\[\]]*)[)\]]")
_TURN_ABOUT = Late(
    r"([^()\[\]]+?)\s*[(\[]([^()\[\]]*)[)\]]\s*(\.\.+|–|—|-|to\b|±|\+/-|\+-)\s*([^()\[\]]+?)(?:\s*[(\[]([^()\[\]]*)[)\]])?"
)
"""22 lbf·ft (30 N·m) to 28 lbf·ft (38 N·m): each end with its second unit."""
_THOUSANDS = Late(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))")
_BEHIND = Late(
    r"([^<>=≤≥]*[0-9][^<>=≤≥]*[^0-9\s])\s+(max|maximum|or less|at most|min|minimum|or more|at least)\.?", re.IGNORECASE
)
"""0.3 mm (0.012 in) max.: a limit whose sign stands after it."""
_MOST_WORDS = ("max", "maximum", "or less", "at most")
_MORE = Late(r"\s*(?:,\s|;|\s/\s|(?<![<>])=|\bor\b)\s*")
_SLASHED = Late(r"([^()]*[^0-9 /<>=]) ?(?:/|=) ?([<>≤≥]*\s*\.?[0-9][^()]*)")
_AT = Late(
    r"(?<=\S)\s*(?:@|\b(?:at|under|with)\b(?! (?:least|most)\b))\s*"
    r"(?:(?:an?|the) (?:load|force|length|height|pull|push|pressure|speed|temperature) of )?(?=[0-9.<>≤≥~-])"
)
_ALONE = frozenset({Kind.MASS, Kind.TIME, Kind.DISTANCE})
"""Kinds that hold whatever else is."""
_CONDITIONS = frozenset(
    {Kind.FORCE, Kind.LENGTH, Kind.SPEED, Kind.TEMPERATURE, Kind.PRESSURE, Kind.VOLTAGE, Kind.CURRENT, Kind.ANGLE}
    | {Kind.CRANK_ANGLE, Kind.TORQUE, Kind.FLOW}
)
"""Kinds that another quantity may hold at."""
_OPEN = (Form.AT_LEAST, Form.MORE_THAN, Form.AT_MOST, Form.LESS_THAN)


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
    if "min" in plain:
        plain = _PER_MINUTE.sub("1/min", plain)
    if not plain:
        what = kind.one if kind else "a quantity"
        raise QuantityError(f"the text is empty, but {what} is expected", f"write it {as_in(kind)}")
    parts = _at(plain)
    if parts is None:
        return _stated(plain, written, kind)
    quantity = _stated(parts[0], parts[0], kind)
    where = _stated(parts[1], parts[1], None)
    if quantity.kind in _ALONE or where.kind not in _CONDITIONS or where.kind is quantity.kind:
        meant = {"kg": "kgf", "g": "N", "lb": "lbf", "oz": "ozf"}.get(where.unit)
        hint = f"did you mean '{meant}'?" if meant else "write what is applied, as in '10 mm at 30 N'"
        raise QuantityError(f"'{written}' is {quantity.kind.one} at {where.kind.one}", hint)
    return replace(quantity, text=written, at=where)


def _at(plain: str) -> tuple[str, str] | None:
    """Return what is stated, and what it holds at, each with its other units; None when it holds anyhow."""
    if not any(word in plain for word in ("@", "at", "under", "with")):
        return None
    for found in _AT.finditer(plain):
        left, right = plain[: found.start()], plain[found.end() :]
        if left.count("(") != left.count(")"):
            continue
        last = _LAST.fullmatch(right)
        inner = _at(last[2]) if last else None
        if last is not None and inner is not None:  # 10 mm at 30 N (0.4 in at 7 lbf)
            return f"{left} ({inner[0]})", f"{last[1]} ({inner[1]})"
        return left, right
    return None


def _stated(plain: str, written: str, kind: Kind | None) -> Quantity:
    """Read what is stated in one unit, or in up to three. What `1,500` means, a second unit tells."""
    plain = _sign_in_front(plain)
    try:
        return _as_stated(plain, written, kind)
    except QuantityError:
        if _THOUSANDS.search(plain):
            for sign in ("", "."):
                try:
                    quantity = _as_stated(_THOUSANDS.sub(sign, plain), written, kind)
                except QuantityError:
                    continue
                if quantity.also and all(agree(quantity, other) for other in quantity.also):
                    return quantity
        raise


def _as_stated(plain: str, written: str, kind: Kind | None) -> Quantity:
    bracketed = "(" in plain or "[" in plain
    about = _TURN_ABOUT.fullmatch(plain) if bracketed else None
    if about is not None:
        link = about[3] if about[3].strip(".–—-") else ".."
        again = about[5] or (about[4] if "%" in about[4] else None)
        second = f"{about[2]} {link} {again}" if again else about[2]
        plain = f"{about[1]} {link} {about[4]} ({second})"
    others: list[str] = []
    while bracketed and (last := _LAST.fullmatch(plain)) and last[1] and last[2]:
        plain, others = last[1], [*_split(last[2]), *others]
    if not others and ("/" in plain or "=" in plain) and (slashed := _SLASHED.fullmatch(plain)):
        plain, others = slashed[1], [slashed[2]]
    if not others:
        return read_statement(plain, written, kind)
    if not all(other.strip() for other in others):
        raise _fault(written, "gives nothing where a second unit is expected", "write a number and a unit there")
    first = _first(plain, others, kind)
    if len(others) >= _MOST:
        raise _fault(written, f"gives {len(others) + 1} units", f"write at most {_MOST}, the others in brackets")
    also: list[Quantity] = []
    for other in others:
        first, second = _second(first, other, written)
        also.append(second)
    if len({quantity.unit for quantity in (first, *also)}) <= len(also):
        raise _fault(written, f"gives {also[-1].unit} twice", "write the value in brackets in another unit")
    return replace(first, text=written, also=tuple(also))


def _first(plain: str, others: list[str], kind: Kind | None) -> Quantity:
    """Return the first of several statements. What is stated in pounds and in newtons is a force."""
    if kind is None or kind is Kind.FORCE:
        try:
            force = read_statement(plain, plain, Kind.FORCE, AS_A_FORCE)
            if any(read_statement(other, other, None).kind is Kind.FORCE for other in others):
                return force
        except QuantityError:
            pass
    return read_statement(plain, plain, kind)


def _fault(written: str, message: str, hint: str) -> QuantityError:
    return QuantityError(f"'{written}' {message}", hint)


def _sign_in_front(plain: str) -> str:
    behind = _BEHIND.fullmatch(plain)
    return f"{'<=' if behind[2].lower() in _MOST_WORDS else '>='} {behind[1]}" if behind else plain


def _split(inside: str) -> list[str]:
    """Return the statements that stand in one pair of brackets."""
    parts: list[str] = []
    rest = inside.strip().removeprefix("=").lstrip()  # 25.4 mm (= 1 in)
    while found := _MORE.search(rest):
        parts.append(rest[: found.start()])
        rest = rest[found.end() :]
    return [*parts, rest]


def _second(first: Quantity, text: str, written: str) -> tuple[Quantity, Quantity]:
    """Return a quantity, and the same as it is stated in another unit."""
    second = read_statement(_sign_in_front(text), text, first.kind, designation(named(first.unit)))
    first, second = _gallons(first, second)
    here, there = named(first.unit), named(second.unit)
    if here == there:
        raise _fault(written, f"gives {first.unit} twice", "write the value in brackets in another unit")
    if here.si != there.si and first.kind not in SCALES_APART:
        raise _fault(written, f"gives {there.symbol} for {here.symbol}, which do not convert", "delete one of them")
    # ">= 6.4 mm (0.252 in)": the sign is meant for both.
    return _opened_like(first, second), _opened_like(second, first)


def _opened_like(quantity: Quantity, other: Quantity) -> Quantity:
    """Return a value as the limit that the other statement of it is."""
    if quantity.form is not Form.VALUE or other.form not in _OPEN:
        return quantity
    low, high = (quantity.low, None) if other.high is None else (None, quantity.high)
    if other.form is Form.LESS_THAN and not high and quantity.kind not in SIGNED:
        raise _fault(quantity.text, f"leaves no smaller {quantity.kind.value}", "write a value above zero")
    return replace(quantity, low=low, high=high, form=other.form, nominal=None)


def _gallons(first: Quantity, second: Quantity) -> tuple[Quantity, Quantity]:
    """Return a pair as it is meant: a gallon that is only called gallon is the imperial one when only that agrees."""
    if first.kind is Kind.VOLUME and not agree(first, second):
        for one, other, swap in ((first, second, False), (second, first, True)):
            if one.unit.startswith("US ") and "us" not in one.text.lower().replace(".", ""):
                imperial = replace(one, unit=one.unit.replace("US", "imp"))
                if agree(imperial, other):
                    return (other, imperial) if swap else (imperial, other)
    return first, second
