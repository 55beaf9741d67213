"""Torques that a text states: in digits or in words, alone, as a range, or in two units.

`torques` finds them with their places. Each unit is looked for first and the number in front of it second, within a
few dozen characters: the cost grows with the length of the text and no faster, whatever stands in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from putback.source.late import Late
from putback.units import Kind, Quantity, QuantityError, parse
from putback.units.numerals import NUMBER


class Statement(NamedTuple):
    """One torque in a text."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset behind its last."""
    quantity: Quantity
    """What it says; `stated` is the second unit, where there is one in brackets or behind a slash."""
    words: str
    """The characters of the text, with single spaces."""


_EVEN = str.maketrans(
    dict.fromkeys("\t\n\r\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u200b", " ")
    | dict.fromkeys("\u202f\u205f\u2060\u3000", " ")
    | dict.fromkeys("⋅•∙×", "·")
    | dict.fromkeys("−‐‑", "-")
    | {"⁄": "/"}
)
"""One character for one, so that places stay."""

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
"""What may stand behind `20 lb in`, so that `pull with 20 lb in the middle` is no torque."""

_SMALL = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_VALUES = {word: index for index, word in enumerate(_SMALL)} | {word: 10 * index for index, word in enumerate(_TENS, 2)}
_PARTS = {"half": Decimal("0.5"), "quarter": Decimal("0.25")}
_WORD = rf"(?:{'|'.join(sorted([*_VALUES, 'hundred', 'thousand'], key=len, reverse=True))})"
_WORDS = (
    rf"(?:\ba )?\b{_WORD}(?:[ -]{{1,3}}(?:(?:(?<=hundred[ -])|(?<=thousand[ -]))and[ -])?{_WORD}){{0,7}}\b"
    rf"(?:[ -]point(?:[ -]{_WORD}){{1,4}}\b| and a (?:half|quarter)\b)?|\bhalf(?: an?)?\b"
)
_FRACTION = r"(?:[0-9]{1,4} ?)?[½⅓⅔¼¾⅛⅜⅝⅞]"
_DIGITS = NUMBER.removeprefix("[-+]?")
_LEFT = rf"(?<![0-9.,/A-Za-z])(?:{_FRACTION}|{_DIGITS})|(?i:{_WORDS})"
_TO = r" ?(?:\.\.+|…|–|—|-| to ) ?"
_AMOUNT = Late(
    rf"(?:(?P<low>{_LEFT})(?:(?P<to>{_TO})|(?P<between> and )| ?(?P<margin>±|\+/-|\+-) ?))?(?P<number>{_LEFT})[ -]?$"
)
_ALONE = Late(rf"(?P<low>(?!))?(?P<between>(?!))?(?P<margin>(?!))?(?P<number>{_LEFT})[ -]?$")
_LOOK_BACK = 90
"""Characters in front of a unit in which its number begins."""
_NO_END = Late(
    r"(?:[0-9] ?(?:to|–|-)|[x·]|\b(?:M|class|grade|all|the|these|those|both|bolts?|nuts?|screws?|studs?|plugs?|pieces?|"
    r"numbers?|no\.?|nos\.?|steps?|stages?|from stage))\s*$",
    re.IGNORECASE,
)
"""Words behind which `6 to 9 N·m` is a count or a number of a piece, and then a torque."""
_PERCENT = Late(r" ?(?:±|\+/-|\+-) ?([0-9]{1,2}(?:\.[0-9]{1,2})?) ?%")
_SIGN = Late(r"(?:±|\+/-|\+-) ?$")
_SIGNS = ("±", "+/-", "+-")
_LINKS = ("–", "—", "-", "..", "...", "…", "to")
_PAIRED = {"(": ")", "[": "]", "/": "", "=": ""}
"""What opens a second unit, and what closes it."""


class _One(NamedTuple):
    """A number or two in front of a unit."""

    start: int
    end: int
    amount: str
    unit: str
    single: bool
    """Whether it is one number and nothing else."""
    tail: str = ""
    """A margin in per cent behind it."""
    margin: bool = False
    """Whether it stands behind ±."""

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
    return _UNIT.search(text.translate(_EVEN)) is not None


def unit_in(text: str) -> str | None:
    """Return the only unit of torque that a text names (the head of a column, say), as printed; else None."""
    units = {_symbol(match) for match in _UNIT.finditer(text.translate(_EVEN))}
    return units.pop() if len(units) == 1 else None


def torques(text: str) -> list[Statement]:
    """Return the torques that a text states, in order. What cannot be read without a doubt is left out."""
    even = text.translate(_EVEN)
    joined: list[tuple[_One, ...]] = []
    for one in _ranges(even, _ones(even)):
        before = joined[-1] if joined else ()
        if len(before) == 1 and before[0].unit != one.unit and one.start - before[0].end < 6:
            gap = even[before[0].end : one.start].strip()
            if gap in _PAIRED:
                close = _PAIRED[gap]
                end = one.end + 1 if close and even[one.end : one.end + 1] == close else one.end
                joined[-1] = (before[0], one._replace(end=end))
                continue
        joined.append((one,))
    return [statement for parts in joined for statement in _read(even, parts)]


def states_one(text: str) -> bool:
    """Tell whether a text has a number in front of a unit of torque."""
    return next(_ones(text.translate(_EVEN)), None) is not None


def number_with(text: str, unit: str) -> Quantity | None:
    """Return what a cell says that is nothing but a number or a range, in the unit of its column; else None."""
    even = text.translate(_EVEN).strip()
    match = _ALONE.fullmatch(even) or _AMOUNT.fullmatch(even) if len(even) < _LOOK_BACK else None
    amount = _amount(match) if match and not match["between"] else None
    return None if amount is None else _parsed(f"{amount} {unit}")


def _ones(even: str) -> Iterator[_One]:
    last = 0
    for match in _UNIT.finditer(even):
        start, floor, last = match.start(), last, match.end()
        if _LOOSE_IN.search(match[0]) and not _BEHIND_LOOSE_IN.match(even, last):
            continue
        # The search sees what stands before its first place, so it does not begin within a number.
        begin = max(floor, start - _LOOK_BACK)
        alone, found = _ALONE.search(even, begin, start), _AMOUNT.search(even, begin, start)
        if alone and found and found["low"] and alone.start() <= found.start():
            # `twenty-five` is no range, and `one hundred and ten` are not two numbers.
            found = alone
        if found and found["low"] and not found["margin"]:
            before = even[max(0, found.start() - 24) : found.start()]
            alike = found["low"][0].isalpha() == found["number"][0].isalpha()
            between = not found["between"] or before.lower().endswith("between ")
            if not (alike and between) or _NO_END.search(before):
                found = _ALONE.search(even, found.start("number"), start)
        amount = _amount(found) if found else None
        if found is None or amount is None:
            continue
        percent = _PERCENT.match(even, last)
        if percent:
            last = percent.end()
        place = found.start()
        yield _One(
            place,
            last,
            amount,
            _symbol(match),
            single=found["low"] is None and not percent,
            tail=f" ± {percent[1]} %" if percent else "",
            margin=_SIGN.search(even, max(0, place - 5), place) is not None,
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
    quantity = _parsed(f"{first.plain} ({rest[0].plain})" if rest else first.plain)
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


def _amount(match: re.Match[str]) -> str | None:
    number = _digits(match["number"])
    if match["low"] is None or number is None:
        return number
    low = _digits(match["low"])
    return None if low is None else f"{low} {'±' if match['margin'] else 'to'} {number}"


def _digits(words: str) -> str | None:
    """Return a number in digits: `twenty-five` is 25, `one hundred and ten` 110, `two and a half` 2.5."""
    if not words[0].isalpha():
        return words.strip()
    whole, _, point = words.lower().replace("-", " ").partition(" point ")
    total = group = Decimal(0)
    low = 1000
    for word in whole.split():
        value = _VALUES.get(word)
        if value is not None:
            if value >= low:
                return None  # six nine
            group += value
            low = 10 if value >= 20 else 0
        elif word == "hundred":
            group *= 100
            group = group or Decimal(100)
            low = 100
        elif word == "thousand":
            total = group * 1000 or Decimal(1000)
            group = Decimal(0)
            low = 1000
        elif word in _PARTS:
            group += _PARTS[word]
    digits = [_VALUES.get(word, 10) for word in point.split()]
    if any(digit > 9 for digit in digits):
        return None
    return f"{total + group:f}{'.' if digits else ''}{''.join(map(str, digits))}"
