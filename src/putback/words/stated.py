"""Whether a text says a fact: values are compared, and not the words around them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from putback.prose.settled import same
from putback.prose.statements import torques
from putback.units import Kind, Quantity, QuantityError, parse_any, show

_NUMBER = r"[0-9]+(?:[.,][0-9]+)?(?: [0-9]+/[0-9]+|/[0-9]+)?"
_AMOUNT = re.compile(
    rf"(?<![\w.,])(?P<low>[−-]?{_NUMBER})(?:\s?(?P<first>[^\W\d_]{{1,3}})?\s?(?:-|–|—|\.\.+|…|to|and|bis)\s?(?P<high>{_NUMBER}))?"
    r"\s?(?P<unit>[^\s\d.,;:()]+(?:[./·][^\s\d.,;:()]+)?(?:\s[a-z]{1,4}(?![\w]))?)"
)
"""A number or two, the first of them below zero perhaps, and the words after in which a unit may be."""
_INNER = {"socket", "allen"}
"""Words for a hexagon into which a key goes: `5 mm hex socket` for `inner hex 5 mm`."""
_BLANKS = str.maketrans(dict.fromkeys("\u00a0\u202f\u2009", " "))


def quantities(text: str) -> Iterator[Quantity]:
    """Yield the quantities of a text, each end of a range alone; what is none is left out."""
    for statement in torques(text):
        yield statement.quantity
    for match in _AMOUNT.finditer(text.translate(_BLANKS)):
        words = match["unit"]
        for unit in dict.fromkeys((words, words.split()[0])):
            ends = [end for end in (match["low"], match["high"]) if end]
            found = [quantity for end in ends if (quantity := _read(f"{end} {unit}")) is not None]
            if found:
                yield from found
                break


def states_quantity(text: str, wanted: Quantity) -> bool:
    """Tell whether a text states a quantity: its value, or both ends of its range, in any of its units."""
    said = [each for each in quantities(text) if each.kind is wanted.kind]
    if any(_alike(one, other) for each in said for one in _forms(each) for other in _forms(wanted)):
        return True
    # `between 8 and 11 mm`, `no more than 0.3 mm`; a tolerance is not told by its ends.
    if wanted.margin is not None or wanted.kind is Kind.TORQUE:
        return False
    for form in _forms(wanted):
        ends = [_read(f"{value:f} {form.unit}") for value in dict.fromkeys((form.low, form.high)) if value is not None]
        told = [{place for place, one in enumerate(said) if end is not None and _alike(one, end)} for end in ends]
        # One value between two ends that lie close is not both of them.
        if all(told) and len(set[int]().union(*told)) >= len(ends):
            return True
    return False


def _forms(quantity: Quantity) -> list[Quantity]:
    return [quantity, *quantity.also]


def _alike(one: Quantity, other: Quantity) -> bool:
    """Tell whether two statements say the same, the same spread included: a value within a range is not the range."""
    spread = (one.low is None, one.high is None, one.low != one.high)
    return spread == (other.low is None, other.high is None, other.low != other.high) and same(one, other)


def states_words(text: str, wanted: str) -> bool:
    """Tell whether a text has certain words in it, whatever their capitals, blanks and stops."""
    return _even(wanted).replace("-", " ") in _even(text).replace("-", " ")


def states_size(text: str, wanted: str) -> bool:
    """Tell whether a text has all marks of a size in it, in any order: `10 mm hex` for `hex 10 mm`."""
    marks = set(_even(text).split())
    if marks & _INNER:
        marks.add("inner")
    return set(_even(wanted).split()) <= marks


def as_words(value: Quantity | int | str) -> str:
    """Return a value as it is written in a file."""
    return show(value) if isinstance(value, Quantity) else str(value)


def _even(text: str) -> str:
    words = re.sub(r"[^\w\s./°%#+<>=≤≥±-]", " ", text.translate(_BLANKS).replace("×", "x").lower())
    words = re.sub(r"(?<=[0-9])(?=[a-wyz°%])", " ", words)
    return " ".join(word for part in words.split() if (word := part.strip(".")))


def _read(text: str) -> Quantity | None:
    try:
        return parse_any(text)
    except QuantityError:
        return None
