"""Limits that are said in words and mean numbers: `no more than 0.3 mm`, `within 3 °C of 82 °C`, `about 5 mm`."""

from __future__ import annotations

import re
from enum import Enum, auto

from putback.model.said import source_of
from putback.source.late import Late
from putback.units import Form, QuantityError, parse_any
from putback.units.table import find


class Bound(Enum):
    """What words about a number say."""

    RANGE = auto()
    """How far it may go: `no more than 0.3 mm`, `within 10 % of the highest`."""
    POINT = auto()
    """A number, and not how far off is still good: `about 5 mm`."""
    WORDS = auto()
    """No number at all."""


_MORE = r"(?:more|greater|larger|higher|longer|wider|thicker|later)"
_LESS = r"(?:less|lower|smaller|fewer|shorter|thinner|earlier)"
_BE = r"(?:(?:it |must |may |should |shall |is |be |to |stays? )*)"
_FORMS: tuple[tuple[Late, str], ...] = tuple(
    (Late(_BE + pattern, re.IGNORECASE), written)
    for pattern, written in (
        (r"within (?P<off>.+?) (?:of|from|either side of) (?P<a>.+)", "{a} ± {off}"),
        (r"(?:anywhere |somewhere )?(?:between|from) (?P<a>.+?) (?:and|to) (?P<b>.+)", "{a} .. {b}"),
        (rf"(?:not|no|never) (?:{_MORE} than|over|above|to exceed|exceed|exceeding|past) (?P<a>.+)", "<= {a}"),
        (r"(?:under|below|at the most|a maximum of|maximum(?: of)?:?|max\.? of|limited to) (?P<a>.+)", "<= {a}"),
        (r"(?P<a>.+?),? (?:or|and) (?:less|under|below|smaller|lower)", "<= {a}"),
        (r"(?P<a>.+?),? (?:maximum|max\.?|at most|at the most)", "<= {a}"),
        (rf"(?:not|no|never) (?:{_LESS} than|under|below) (?P<a>.+)", ">= {a}"),
        (
            r"(?:over|above|exceeds?|exceeding|at the least|a minimum of|minimum(?: of)?:?|min\.? of) (?P<a>.+)",
            ">= {a}",
        ),
        (r"(?P<a>.+?),? (?:or|and) (?:more|over|above|greater|higher|longer|better)", ">= {a}"),
        (r"(?P<a>.+?),? (?:minimum|min\.?|at least|at the least)", ">= {a}"),
    )
)
_BOUND = Late(
    rf"\b(?:within|between|at (?:the )?(?:most|least)|{_MORE} than|{_LESS} than|up to|max|maximum|min|minimum|limit"
    r"|exceed\w*|or (?:less|more)|not (?:over|above|under|below)|to)\b|\.\.|±|\+/-|[<>≤≥–—]|[0-9] ?- ?[0-9]"
    r"|^(?:over|under|above|below)\b",
    re.IGNORECASE,
)
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBER = Late(rf"\b({'|'.join(_NUMBERS)}) ([a-z]+)", re.IGNORECASE)
_SAME = Late(r"^(?:the )?(?:same|equal)\b", re.IGNORECASE)


def read_spoken(text: str) -> tuple[Bound, str | None]:
    """Return what words say, and how a limit is written that says just that; None when none does."""
    text = source_of(text)
    if any(number in text.lower() for number in _NUMBERS):
        text = _NUMBER.sub(_in_digits, text)
    if not any(letter.isdigit() for letter in text):
        return Bound.WORDS, None
    for form, written in _FORMS:
        found = form.fullmatch(text)
        plain = written.format(**found.groupdict()) if found else ""
        if plain and _is_a_span(plain):
            return Bound.RANGE, plain
    if _BOUND.search(text) and not _SAME.search(text):
        return Bound.RANGE, None
    return Bound.POINT, None


def _in_digits(found: re.Match[str]) -> str:
    """Return `1 inch` of `one inch`; `one side` stays as it is."""
    return f"{_NUMBERS.index(found[1].lower()) + 1} {found[2]}" if find(found[2]) else found[0]


def _is_a_span(text: str) -> bool:
    try:
        return parse_any(text).form not in (Form.VALUE, Form.SPLIT)
    except QuantityError:
        return False
