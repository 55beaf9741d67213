"""Numbers as people write them."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

from putback.units.quantity import KEPT, QuantityError

_SPACES = "\t\n\r\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
PLAIN = str.maketrans(
    dict.fromkeys(_SPACES, " ")
    | {"−": "-", "‐": "-", "‑": "-", "⁄": "/", "…": "..", "\u200b": "", "\u2060": ""}
    | {"½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4"}
    | {"⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
NUMBER = (
    r"[-+]?(?>[0-9]{1,6}[ -]+[0-9]{1,4}/[0-9]{1,4}|[0-9]{1,4}/[0-9]{1,4}"
    r"|[0-9]{1,3}(?: [0-9]{3})+(?![0-9/])(?:[.,][0-9]+)?|[0-9]+(?:[.,][0-9]+)*|\.[0-9]+)"
)
"""In order: 1 1/2 (also 1-1/2), 5/16, 1 500 (digits in threes), 18 or 1.8 or 1,8, .5"""


class Numeral(NamedTuple):
    """One number that was read."""

    value: Decimal
    """Its value; of a fraction, to 28 digits."""
    digits: int
    """Significant digits; 3 for a fraction."""
    step: Decimal
    """One unit of the last digit."""
    fraction: bool
    """Whether it was a fraction."""


def read(text: str, whole_text: str) -> Numeral:
    """Read a text that matches `NUMBER`. Raises QuantityError, which quotes `whole_text`."""
    if "/" in text:
        return _fraction(text, whole_text)
    plain = text.replace(" ", "")
    marks = re.sub(r"[^.,]", "", plain)
    if len(marks) > 1:
        raise _fault(
            whole_text,
            f"has the number '{text}', which has more than one decimal sign",
            "write it as in '1234.5'",
        )
    if "," in plain:
        whole, _, rest = plain.partition(",")
        if len(rest) == 3 and whole.lstrip("+-0"):
            raise _fault(
                whole_text,
                f"is ambiguous: '{text}' can be {whole + rest} or {whole}.{rest}",
                f"write '{whole + rest}' or '{whole}.{rest}'",
            )
        plain = f"{whole}.{rest}"
    value = Decimal(plain)
    shown = re.sub(r"[^0-9]", "", plain).lstrip("0")
    if len(shown) > 28:
        raise _fault(whole_text, f"has a number with {len(shown)} digits", "write at most 28 digits")
    exponent = value.as_tuple().exponent
    return Numeral(value, max(len(shown), 1), Decimal(1).scaleb(int(exponent)), False)


def _fraction(text: str, whole_text: str) -> Numeral:
    sign = -1 if text.startswith("-") else 1
    parts = [int(part) for part in re.findall(r"[0-9]+", text)]
    whole = parts[0] if len(parts) == 3 else 0
    top, bottom = parts[-2:]
    if not 2 <= bottom <= 128:
        raise _fault(
            whole_text,
            f"has the fraction '{top}/{bottom}'",
            "write a denominator from 2 to 128, or a decimal",
        )
    if top % bottom == 0:
        return read(str(sign * (whole + top // bottom)), whole_text)
    value = KEPT.divide(Decimal(sign * (whole * bottom + top)), Decimal(bottom))
    return Numeral(value, 3, Decimal(1).scaleb(value.adjusted() - 2), True)


def _fault(whole_text: str, message: str, hint: str) -> QuantityError:
    return QuantityError(f"'{whole_text}' {message}", hint)
