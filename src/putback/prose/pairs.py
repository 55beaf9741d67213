"""One quantity in two units or three, wherever a text says it: 0.011 in (0.28 mm), 100 °C / 212 °F.

What opens the second unit is looked for first, then the number with its unit on either side of it. What is no
quantity, or one of another kind, is left alone: `M8 (13 mm)`, `12 V (5 A)`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.prose.amounts import EVEN, amount_before, may_end_amount
from putback.source.late import Late
from putback.units import Kind, Quantity, QuantityError, disagreement, parse_any
from putback.units.agreeing import as_difference, same_form
from putback.units.kinds import Unit
from putback.units.mixed import mixed_up
from putback.units.quantity import named
from putback.units.table import find


class StatedPair(NamedTuple):
    """One quantity that a text states in more units than one."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    quantity: Quantity
    """What it says."""


_OPENED = Late(
    r"(?P<open>[(\[=]|(?<![0-9])/) ?(?P<words>(?:about|approx(?:imately|\.)?|ca\.?|roughly|i\.e\.,?|that is,?|or) )?"
    r"(?=[<>≤≥~≈±-]{0,2} ?\.?[0-9½⅓⅔¼¾⅛⅜⅝⅞])"
)
_CLOSED = Late(r"(?P<inside>[^()\[\]]{1,80}?)(?: (?:max|min|approx)\.?| maximum| minimum)?[)\]]")
_BEHIND = Late(r"(?P<inside>(?:(?! ?/ )(?:[^()\[\]=,;:!?]|(?<=[0-9]),(?=[0-9]))){1,40})")
_NUMBER = Late(r"[0-9]+")
_PERCENT = Late(r" ?(?:±|\+/-|\+-) ?[0-9]{1,2}(?:\.[0-9]{1,2})? ?% ?$")
_FROM = Late(r"(?<![0-9.,/A-Za-z])(-?[0-9][0-9.,/ ]{0,10}?) ?([^\d\s()][^\d()]{0,20}?) ?(to|and|–|—|-|\.\.+|±|\+/-) ?$")
_CHANGE = Late(
    r"\b(?:within|differences?|differs?|above|below|rise|rises|drops?|falls?|each other|one another|warmer|colder|"
    r"hotter|cooler|higher|lower|by|per|change|changes)\b"
)
_LONGEST_UNIT = 28
_AROUND = 48
"""Characters on either side of a pair in which a word tells that it is a difference."""
_OF_ONE_SYSTEM = frozenset({Kind.LENGTH, Kind.VOLUME, Kind.MASS, Kind.TIME, Kind.ANGLE, Kind.DISTANCE})
"""Kinds of which a text may name two amounts side by side in units of one system: 4 l (500 ml)."""


class WrongPair(NamedTuple):
    """Two statements of one quantity that disagree, or that are of two kinds."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    message: str
    """What is wrong with it."""
    hint: str | None = None
    """What was probably meant."""


def wrong_pairs(text: str) -> Iterator[WrongPair]:
    """Yield what a text states in units that disagree."""
    if "(" in text or "/" in text or "[" in text or "=" in text:
        even = text.translate(EVEN)
        for pair in _pairs(even):
            if isinstance(pair, WrongPair):
                yield pair
                continue
            wrong = disagreement(pair.quantity)
            if wrong and not _means_other(even, pair):
                yield WrongPair(pair.start, pair.end, wrong)


def pairs(text: str) -> list[StatedPair]:
    """Return all that a text states in more units than one, in order."""
    return [pair for pair in _pairs(text.translate(EVEN)) if isinstance(pair, StatedPair)]


def _pairs(even: str) -> Iterator[StatedPair | WrongPair]:
    reached = 0
    for opened in _OPENED.finditer(even):
        if opened.start() < reached:
            continue
        bracket = opened["open"] in "(["
        behind = (_CLOSED if bracket else _BEHIND).match(even, opened.end())
        first = _before(even, reached, opened.start()) if behind else None
        if behind is None or first is None:
            continue
        start, words, unit = first
        inside = behind["inside"]
        for said in [inside] if bracket else _beginnings(inside, unit):
            quantity = _parsed(words, said.replace(" and ", " to ") if " to " in words else said)
            end = behind.end() if bracket else behind.start() + len(said)
            mixed = mixed_up(words, said) if quantity is None and bracket else None
            if quantity is not None:
                yield StatedPair(start, end, quantity)
            elif mixed is not None:
                yield WrongPair(start, end, *mixed)
            else:
                continue
            reached = end
            break


def _beginnings(words: str, other: Unit) -> Iterator[str]:
    """Yield as many words as end with a unit, the most first: with no bracket, nothing says where a quantity ends.

    What ends with the other unit is two things.
    """
    for place in range(len(words), 0, -1):
        if place == len(words) or words[place] == " ":
            said = words[:place].rstrip(". ")
            numbers = list(_NUMBER.finditer(said))[-2:]  # a unit may have a number in it: lb/in2
            units = (find(said[number.end() :]) for number in numbers if number.end() < len(said))
            if any(unit is not None and unit != other for unit in units):
                yield said


def _before(even: str, floor: int, end: int) -> tuple[int, str, Unit] | None:
    """Return where the quantity begins that ends in front of a place, words of it that can be parsed, and its unit."""
    percent = _PERCENT.search(even, max(floor, end - 16), end)
    tail = percent[0].strip() if percent else ""
    stop = percent.start() if percent else end
    while stop > floor and even[stop - 1] == " ":
        stop -= 1
    cut = max(even.rfind(sign, floor, stop) for sign in "()[],;:!?")
    for begin in range(max(floor, stop - _LONGEST_UNIT, cut + 1), stop):
        if (begin and even[begin - 1].isalpha()) or even[begin] == " " or even[begin].isdigit():
            continue
        unit = find(even[begin:stop]) if may_end_amount(even, floor, begin) else None
        amount = amount_before(even, floor, begin) if unit else None
        if unit is None or amount is None:
            continue
        start, words = amount.start, amount.text
        if start > floor and even[start - 1] == "-" and (start < 2 or even[start - 2] in " ("):
            start, words = start - 1, f"-{words}"
        lower = _FROM.search(even, max(floor, start - 40), start) if amount.single else None
        if lower is not None and find(lower[2].strip()) == unit:
            start, link = lower.start(), "±" if lower[3] in ("±", "+/-") else "to"
            words = f"{lower[1]} {link} {words}"
        return start, f"{words} {unit.symbol}{f' {tail}' if tail else ''}", unit
    return None


def _parsed(words: str, inside: str) -> Quantity | None:
    try:
        quantity = parse_any(f"{words} ({inside.lstrip('~≈ ')})")
    except QuantityError:
        return None
    return quantity if quantity.also else None


def _means_other(even: str, pair: StatedPair) -> bool:
    """Tell whether two statements that disagree can be meant for two things, or for a difference."""
    quantity = pair.quantity
    systems = {named(each.unit).system for each in (quantity, *quantity.also)}
    if quantity.kind in _OF_ONE_SYSTEM and len(systems) == 1:
        return True
    if quantity.kind is not Kind.TORQUE and not all(same_form(quantity, other) for other in quantity.also):
        return True
    if quantity.kind is Kind.TEMPERATURE:
        near = f"{even[max(0, pair.start - _AROUND) : pair.start]} {even[pair.end : pair.end + _AROUND]}"
        return _CHANGE.search(near) is not None and disagreement(as_difference(quantity)) is None
    return False
