"""What a translation must keep of a text: numbers with their units, part numbers, references, links; the signal word.

What a text means, nobody can check but who speaks both languages. But a number that is not there any more, or another
one, is wrong in every language.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from itertools import zip_longest
from typing import NamedTuple

from putback.model.terms import Signal
from putback.prose.contexts import NUMBERS
from putback.prose.markdown import inline_marks
from putback.prose.references import references
from putback.source.late import Late
from putback.source.quoting import quote
from putback.telling import Message, told_in
from putback.translation.wording import GuideText
from putback.units.table import find

_NUMBER = Late(
    r"(?<![\w.,'’])[−-]?([0-9]+(?:[.,'’\u00a0\u202f][0-9]+)*)"
    r"(?:[ \u00a0\u202f]?([^\W\d_][^\s\d,;:()!?]*|[°%\"µΩ][^\s\d,;:()!?]*))?"
)
_DIGIT = Late(r"[0-9]")
_CODE = Late(
    r"(?<![\w-])(?:[A-Z][A-Za-z]*[-/.]?[0-9][A-Z0-9/.-]*|[0-9]+[A-Z]+(?:[-/][A-Z0-9]+)+|[A-Z]{2,}(?:-[A-Z0-9]+)+)"
)
_ROLE = Late(r"\{([a-z][\w:+.-]{0,40})\}`([^`\n]{0,200})`")
_PER = Late(r"(?<![0-9])1/(?:min|s|h)\b")
"""How a rate is written where `rpm` is no word."""
_BRACES = Late(r"\{[^{}]*\}")
_SYMBOLS = frozenset({
    "mm", "cm", "m", "km", "µm", "kg", "g", "N", "kN", "N·m", "kPa", "MPa", "Pa", "bar", "mbar", "V", "mV", "kV", "A",
    "mA", "W", "kW", "Ω", "kΩ", "MΩ", "°C", "K", "°", "%", "Hz", "l", "L", "ml", "mL", "cm³", "ft", "lbf·ft", "lbf·in",
    "psi", "°F", "lb", "Nm", "N.m", "lb-ft", "lb·ft", "ft-lb", "in-lb", "lb-in", "cc",
})  # fmt: skip
"""Units that are written alike in all languages."""
_SIGNALS = tuple(Signal)
_FEW = Late(r"[^\W\d_]+")


class SaidNumber(NamedTuple):
    """A number in a text."""

    written: str
    """As it is written, with its unit."""
    values: frozenset[Decimal]
    """What it may mean: `1.500` is more, or less, than two."""
    unit: str
    """Its unit, where that is written alike in all languages."""


def lost_in(wording: GuideText, told: str, tag: str) -> Iterator[str]:
    """Yield what is wrong with a translation of a text, each as a message."""
    yield from _amounts(wording.text, told)
    yield from _codes(wording.text, told)
    yield from _marks(wording, told)
    if wording.signal is not None:
        yield from _signals(wording, told, tag)


def amounts(text: str) -> list[SaidNumber]:
    """Return the numbers of a text."""
    found = list[SaidNumber]()
    if not _DIGIT.search(text):
        return found
    for match in _NUMBER.finditer(_PER.sub(" ", _ROLE.sub(" ", _CODE.sub(" ", text)))):
        unit = find(match[2]) if match[2] and match[2].rstrip(".") in _SYMBOLS else None
        symbol = unit.symbol if unit else ""
        written = f"{match[1]} {match[2].rstrip('.')}" if symbol else match[1]
        found.append(SaidNumber(written, _values(match[1]), symbol))
    return found


def _values(written: str) -> frozenset[Decimal]:
    marks = re.findall(r"[^0-9]", written)
    whole = re.sub(r"[^0-9]", "", written)
    last = re.split(r"[^0-9]", written)[-1]
    decimal = f"{whole[: len(whole) - len(last)]}.{last}"
    found = set[str]()
    if not marks or len(set(marks)) < len(marks) or (len(last) == 3 and len(set(marks)) == 1 and written[0] != "0"):
        found.add(whole)
    if marks and marks[-1] in ".," and marks.count(marks[-1]) == 1:
        found.add(decimal)
    try:
        return frozenset(Decimal(each) for each in found or {whole})
    except InvalidOperation:
        return frozenset()


def _amounts(text: str, told: str) -> Iterator[str]:
    left, lost = amounts(told), list[SaidNumber]()
    for amount in amounts(text):
        alike = [other for other in left if other.values & amount.values]
        same = next((other for other in alike if other.unit == amount.unit), None)
        if not alike:
            lost.append(amount)
        elif same is None and amount.unit:
            yield f"the text says {quote(amount.written)}, but the translation {quote(alike[0].written)}"
        if alike:
            left.remove(same or alike[0])
    words = {word.casefold() for word in _FEW.findall(text)}
    strange = [amount for amount in left if words.isdisjoint(_spelled(amount))]
    yield from _exchanged([each.written for each in lost], [each.written for each in strange])


def _exchanged(lost: list[str], strange: list[str]) -> Iterator[str]:
    """Yield what is lost with what is there instead: one slip is told once."""
    for one, other in zip_longest(lost, strange):
        if one and other:
            yield f"the text says {quote(one)}, but the translation {quote(other)}"
        elif one:
            yield f"the translation does not say {quote(one)}"
        else:
            yield f"the translation says {quote(other)}, but the text does not"


def _spelled(amount: SaidNumber) -> set[str]:
    """Return how a small number is written as a word."""
    small = (int(value) for value in amount.values if value == int(value) and 0 < value <= len(NUMBERS))
    return {NUMBERS[number - 1] for number in small}


def _codes(text: str, told: str) -> Iterator[str]:
    here, there = (Counter(code.rstrip(".-/") for code in _CODE.findall(_ROLE.sub(" ", each))) for each in (text, told))
    for code in here - there:
        if code not in told:
            yield f"the translation does not say {quote(code)}"


def _marks(wording: GuideText, told: str) -> Iterator[str]:
    """Yield references, links and other marks that are lost, or come from nowhere."""
    if wording.is_page:
        here, there = _of_page(wording.text), _of_page(told)
    else:
        here, there = (Counter(_referred(each)) for each in (wording.text, told))
    yield from _exchanged(list((here - there).elements()), list((there - here).elements()))


def _referred(text: str) -> Iterator[str]:
    for each in references(text):
        yield f"{{{each.kind} {each.name}{f' of {each.of}' if each.of else ''}}}"


def _of_page(text: str) -> Counter[str]:
    found = Counter(f"{{{name}}}`{_target(content)}`" for name, content in _ROLE.findall(text))
    rest = _ROLE.sub(" ", text)
    found.update(_BRACES.findall(rest))
    found.update(inline_marks(rest))
    return found


def _target(content: str) -> str:
    """Return what a role means, without the words that stand for it."""
    _, opened, target = content.partition("<")
    return target.removesuffix(">") if opened else content


def _signals(wording: GuideText, told: str, tag: str) -> Iterator[str]:
    """Yield another signal word than that of the safety message."""
    teller = told_in(tag)
    for signal in _SIGNALS:
        names = {signal.value, teller.told(Message(f"label.safety.signals.{signal.value}", signal.value.capitalize()))}
        for name in names:
            opens = re.match(rf"{re.escape(name)}\s*[:!]", told, re.IGNORECASE)
            if signal is not wording.signal and (opens or re.search(rf"\b{re.escape(name.upper())}\b", told)):
                yield f"the translation says {quote(name.upper())}, but the signal word is {wording.signal}"
