"""What a job costs, in the author's words: nobody adds prices of different places and years."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from putback.model.reading import Reader
from putback.model.said import Said
from putback.source.finding import Finding, Level
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.tree import Mapping

_WORD = Late(r"[^\W\d_]+")
_BESIDE = frozenset(
    """a about above add all and approximately around at between by c ca circa day days each excluding extra for from
    hour hours in including is it just labor labour less material materials more most of only oil or over part parts
    per piece pieces plus roughly say some tax than the then to under up upwards vat with without work""".split()  # noqa: SIM905
)
"""Words beside a number that name no currency."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What a job costs."""

    parts: Said | None = None
    """What its parts and fluids cost, with the currency: `about 40 EUR`."""
    workshop: Said | None = None
    """What a workshop asks for it, parts and work together."""


def read_cost(reader: Reader, root: Mapping) -> Cost | None:
    """Return what a job says of its cost; None when it says nothing."""
    value = root.get("cost")
    if not isinstance(value, Mapping):
        return None
    said = {key: reader.text(value.get(key)) for key in ("parts", "workshop")}
    for text in said.values():
        if text and _has_no_currency(text):
            message, hint = f"{quote(text)} has no currency", "write the currency beside the number, as in '40 EUR'"
            reader.faults.append(Finding("bare-number", Level.ERROR, text.span, message, hint=hint))
    return Cost(said["parts"], said["workshop"])


def _has_no_currency(text: str) -> bool:
    """Tell whether a text has numbers, and no word or sign beside them that could be of money."""
    if not any(sign.isdecimal() for sign in text) or any(unicodedata.category(sign) == "Sc" for sign in text):
        return False
    return all(word in _BESIDE for word in (found[0] for found in _WORD.finditer(text.casefold())))
