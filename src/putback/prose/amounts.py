"""Numbers in front of a unit, in digits or in words: alone, as a range, or with a margin.

The unit is looked for first and its number second, within a few dozen characters: the cost grows with the length of
the text and no faster, whatever stands in it.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

from putback.source.late import Late
from putback.units.numerals import NUMBER

EVEN = str.maketrans(
    dict.fromkeys("\t\n\r\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u200b", " ")
    | dict.fromkeys("\u202f\u205f\u2060\u3000", " ")
    | dict.fromkeys("⋅•∙×", "·")
    | dict.fromkeys("−‐‑", "-")
    | {"⁄": "/"}
)
"""One character for one, so that places stay."""

_SMALL = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_VALUES = {word: index for index, word in enumerate(_SMALL)} | {word: 10 * index for index, word in enumerate(_TENS, 2)}
_PARTS = {"half": Decimal("0.5"), "quarter": Decimal("0.25")}
_LAST_WORDS = frozenset((*_VALUES, *_PARTS, "hundred", "thousand", "a", "an"))
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
"""Words after which `6 to 9 N·m` is a count or a number of a piece, and then a torque."""


class Amount(NamedTuple):
    """A number or two in front of a unit."""

    start: int
    """Offset of its first character."""
    text: str
    """In digits: `6 to 9`, `20 ± 2`."""
    single: bool
    """Whether it is one number."""


def may_end_amount(even: str, floor: int, start: int) -> bool:
    """Tell quickly whether a number, in digits or in words, can end right in front of a place."""
    end = start - 1 if start > floor and even[start - 1] in " -" else start
    if end <= floor:
        return False
    sign = even[end - 1]
    if sign.isascii() and not sign.isalpha():
        return sign.isdigit()
    word = end
    while word > floor and end - word < 10 and even[word - 1].isalpha():
        word -= 1
    return even[word:end].lower() in _LAST_WORDS or not sign.isalpha()


def amount_before(even: str, floor: int, start: int) -> Amount | None:
    """Return the number, or the two numbers, that stand in an even text right in front of a place, after `floor`."""
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
    text = _amount(found) if found else None
    return None if found is None or text is None else Amount(found.start(), text, found["low"] is None)


def amount_in(even: str) -> str | None:
    """Return the number or the range that an even text is, and nothing else; None when it is none."""
    match = _ALONE.fullmatch(even) or _AMOUNT.fullmatch(even) if len(even) < _LOOK_BACK else None
    return _amount(match) if match and not match["between"] else None


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
