"""Torques that a text states: in digits or in words, alone, as a range, or in two units.

`torques` finds them with their places: each unit first, and the number in front of it second (`amounts`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from putback.prose.amounts import EVEN, amount_before, amount_in
from putback.source.late import Late
from putback.units import Kind, Quantity, QuantityError, parse


class Statement(NamedTuple):
    """One torque in a text."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    quantity: Quantity
    """What it says; `stated` is the second unit, where there is one in brackets or after a slash."""
    words: str
    """The characters of the text, with single spaces."""


_SEP = r"(?: ?[·*-] ?|\.|[ /])"
_LB = r"(?:lb-?f|lbs?|pounds?(?:[- ]forces?)?)"
_OZ = r"(?:oz-?f?|ounces?(?:[- ]forces?)?)"
_FOOT, _INCH = r"(?:feet|foot|ft)", r"(?:inch(?:es)?|in)"
_METRE = r"(?P<{}>(?:centi|milli)?met(?:re|er)s?|[cm]?m)"
_HINTS = ("newton", "pound", "ounce", "kilo", "lb", "oz", "kg", "nm")
_NEWTON = Late(r"N[\W\d_]{0,3}[cm]?m")
"""Every unit of torque has one of these in it; they are found fast."""
_UNIT = Late(
    rf"(?<![A-Za-z])(?:"
    rf"(?:(?P<prefix>[mk]|(?i:milli|kilo))?(?:N|(?i:newtons?)){_SEP}?{_METRE.format('arm')})|(?P<lower>nm|NM)"
    rf"|(?i:(?P<lbft>{_LB}{_SEP}?{_FOOT}|{_FOOT}\.?{_SEP}?{_LB}(?:[- ]force)?)"
    rf"|(?P<lbin>{_LB}{_SEP}?{_INCH}|{_INCH}\.?{_SEP}?{_LB}(?:[- ]force)?)"
    rf"|(?P<ozin>{_OZ}{_SEP}?{_INCH}|{_INCH}\.?{_SEP}?{_OZ}(?:[- ]force)?)"
    rf"|(?:kgf|kilograms?[- ]force|kilopond){_SEP}?{_METRE.format('arm2')}"
    rf"|kg[·*.-]?(?P<arm3>c?m)|(?P<arm4>c?m)[·*.-]kgf?)"
    rf")(?![A-Za-z0-9²³])"
)
_LOOSE_IN = Late(r"(?:[ ]|\.)in$", re.IGNORECASE)
_BEHIND_LOOSE_IN = Late(r"\s*(?:$|[.,;:()/\[\]|=±+]|(?:and|or|to|then|torque|with|while|when)\b)")
"""What may stand after `20 lb in`, so that `pull with 20 lb in the middle` is no torque."""

_PERCENT = Late(r" ?(?:±|\+/-|\+-) ?([0-9]{1,2}(?:\.[0-9]{1,2})?) ?%")
_SIGN = Late(r"(?:±|\+/-|\+-) ?$")
_SIGNS = ("±", "+/-", "+-")
_LINKS = ("–", "—", "-", "..", "...", "…", "to")
_PAIRED = {"(": (")",), "[": ("]",), "/": (), "=": ()}
"""What opens a second unit, and what closes it."""
_BRACKETS, _CLOSED = ("(", "["), (")", "]")
_NEXT = (",", ";", "/", "=", "or")
"""What parts a third unit from the second in one pair of brackets."""
_MOST = 3
"""Units in which one torque is stated."""


class _One(NamedTuple):
    """A number or two in front of a unit."""

    start: int
    end: int
    amount: str
    unit: str
    single: bool
    """Whether it is one number and nothing else."""
    tail: str = ""
    """A margin in per cent after it."""
    margin: bool = False
    """Whether it stands after ±."""

    @property
    def plain(self) -> str:
        return f"{self.amount} {self.unit}{self.tail}"


def may_state(text: str) -> bool:
    """Tell quickly whether a text may state a torque, so that most need no closer look."""
    if _NEWTON.search(text) is None:
        lower = text.lower()
        for hint in _HINTS:  # in a loop of its own: this is asked of every text of a guide
            if hint in lower:
                break
        else:
            return False
    return _UNIT.search(text.translate(EVEN)) is not None


def unit_in(text: str) -> str | None:
    """Return the only unit of torque that a text names (the head of a column, say), as printed; else None."""
    units = {_symbol(match) for match in _UNIT.finditer(text.translate(EVEN))}
    return units.pop() if len(units) == 1 else None


def torques(text: str) -> list[Statement]:
    """Return the torques that a text states, in order. What cannot be read without a doubt is left out."""
    even = text.translate(EVEN)
    joined: list[tuple[_One, ...]] = []
    for one in _ranges(even, _ones(even)):
        before = joined[-1] if joined else ()
        close = _joins(even, before, one) if before else None
        if close is None:
            joined.append((one,))
        else:
            end = one.end + 1 if even[one.end : one.end + 1] in close else one.end
            joined[-1] = (*before, one._replace(end=end))
    return [statement for parts in joined for statement in _read(even, parts)]


def _joins(even: str, before: tuple[_One, ...], one: _One) -> tuple[str, ...] | None:
    """Return what may close the brackets of a torque that says the same as those before it; None when it does not."""
    last = before[-1]
    if len(before) == _MOST or one.start - last.end >= 6 or one.unit in [other.unit for other in before]:
        return None
    gap = even[last.end : one.start].strip()
    if gap in _PAIRED:
        return _PAIRED[gap]
    inside = len(before) > 1 and gap in _NEXT and even[before[0].end : last.start].strip() in _BRACKETS
    return _CLOSED if inside and even[last.end - 1] not in _CLOSED else None


def states_one(text: str) -> bool:
    """Tell whether a text has a number in front of a unit of torque."""
    return next(_ones(text.translate(EVEN)), None) is not None


def number_with(text: str, unit: str) -> Quantity | None:
    """Return what a cell says that is nothing but a number or a range, in the unit of its column; else None."""
    even = text.translate(EVEN).strip()
    amount = amount_in(even)
    return None if amount is None else _parsed(f"{amount} {unit}")


def _ones(even: str) -> Iterator[_One]:
    last = 0
    for match in _UNIT.finditer(even):
        start, floor, last = match.start(), last, match.end()
        if _LOOSE_IN.search(match[0]) and not _BEHIND_LOOSE_IN.match(even, last):
            continue
        amount = amount_before(even, floor, start)
        if amount is None:
            continue
        percent = _PERCENT.match(even, last)
        if percent:
            last = percent.end()
        yield _One(
            amount.start,
            last,
            amount.text,
            _symbol(match),
            single=amount.single and not percent,
            tail=f" ± {percent[1]} %" if percent else "",
            margin=_SIGN.search(even, max(0, amount.start - 5), amount.start) is not None,
        )


def _ranges(even: str, ones: Iterator[_One]) -> Iterator[_One]:
    """Make one of the two ends of a range, and of a value and its margin, that each have a unit."""
    held: _One | None = None
    for one in ones:
        if held is not None:
            gap = even[held.end : one.start].strip().lower() if one.start - held.end < 8 else "far"
            alike = held.single and one.single and held.unit == one.unit
            link = "±" if one.margin and gap.strip("( ") in _SIGNS else "to" if gap in _LINKS else None
            if link and alike:
                end = one.end + 1 if "(" in gap and even[one.end : one.end + 1] == ")" else one.end
                held = held._replace(end=end, amount=f"{held.amount} {link} {one.amount}", single=False)
                continue
            yield held
        held = None if one.margin else one
    if held is not None:
        yield held


def _read(even: str, parts: tuple[_One, ...]) -> Iterator[Statement]:
    first, *rest = parts
    others = ", ".join(part.plain for part in rest)
    quantity = _parsed(f"{first.plain} ({others})" if rest else first.plain)
    if quantity is None:
        for part in parts if rest else ():
            yield from _read(even, (part,))
        return
    start, end = first.start, parts[-1].end
    yield Statement(start, end, quantity, " ".join(even[start:end].split()))


def _parsed(plain: str) -> Quantity | None:
    try:
        return parse(plain, Kind.TORQUE)
    except QuantityError:
        return None


def _symbol(match: re.Match[str]) -> str:
    """Return the printed symbol of a unit that was found."""
    for group, symbol in (("lower", "N·m"), ("lbft", "lbf·ft"), ("lbin", "lbf·in"), ("ozin", "ozf·in")):
        if match[group]:
            return symbol
    newton = match["arm"]
    arm = (newton or match["arm2"] or match["arm3"] or match["arm4"]).lower()
    length = "cm" if arm[0] == "c" else "mm" if arm.startswith(("mm", "mi")) else "m"
    if newton is None:
        return "kgf·cm" if length == "cm" else "kgf·m"
    prefix = (match["prefix"] or "")[:1].lower()
    return f"{prefix if length == 'm' else ''}N·{length}"
