"""`python -m tests.published.printed_pairs`: how well a slip in a second unit is told from rounding."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from decimal import ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from pathlib import Path
from typing import NamedTuple

from ruamel.yaml import YAML

from putback.units import Kind, Quantity, QuantityError, disagreement, parse
from putback.units.quantity import Form, convert, named
from putback.units.symbols import core

FOLDER = Path(__file__).parent / "pairs"
TUNED, LATER = "pairs that the rule was tuned on", "pairs found afterwards"


class Printed(NamedTuple):
    """One pair as it is printed."""

    source: str
    text: str
    kind: Kind
    later: bool
    """Whether it was looked for after the rule was set, and so had no part in it."""
    wrong: bool = False
    """Whether the print itself is wrong."""

    @property
    def quantity(self) -> Quantity:
        """What it says."""
        return parse(self.text, self.kind)

    @property
    def found(self) -> bool:
        """Whether its units are said to disagree."""
        return disagreement(self.quantity) is not None


def read_all() -> list[Printed]:
    """Return all printed pairs, in the order of their files."""
    printed: list[Printed] = []
    for path in sorted(FOLDER.glob("*.yaml"), reverse=True):
        for entry in YAML(typ="safe").load(path):
            source, later = entry.pop("source"), path.stem != "tuned"
            for wrong, kinds in ((True, entry.pop("wrong", {})), (False, entry)):
                for kind, texts in kinds.items():
                    printed += [Printed(source, text, Kind(kind), later, wrong) for text in texts]
    return printed


class Slip(NamedTuple):
    """One slip in the second unit of a printed pair."""

    kind: str
    text: str
    """The pair with the slip in it."""
    printed: Printed

    @property
    def found(self) -> bool:
        """Whether the units are said to disagree; a text that is no quantity any more is found as well."""
        try:
            return disagreement(parse(self.text, self.printed.kind)) is not None
        except QuantityError:
            return True


_FLOOR = Decimal("0.035")
_NUMBER = re.compile(r"[0-9]*\.?[0-9]+")


def _numbers(text: str, change: Callable[[str], str | None], *, last: bool = False) -> str | None:
    """Return a text with all its numbers changed, or only the last; None when that cannot be."""
    found = list(_NUMBER.finditer(text))
    for match in reversed(found[-1:] if last else found):
        number = change(match[0])
        if number is None:
            return None
        text = text[: match.start()] + number + text[match.end() :]
    return text


def _moved(places: int) -> Callable[[str], str]:
    return lambda number: f"{Decimal(number).scaleb(places):f}"


def _swapped(*, front: bool) -> Callable[[str], str | None]:
    def swap(number: str) -> str | None:
        digits = [place for place, sign in enumerate(number) if sign.isdigit()]
        while digits and number[digits[0]] == "0":
            del digits[0]
        if len(digits) < 2:
            return None
        one, other = digits[:2] if front else digits[-2:]
        signs = list(number)
        signs[one], signs[other] = signs[other], signs[one]
        return None if signs == list(number) else "".join(signs)

    return swap


def _digit(number: str) -> str | None:
    """Return a number with its first digit one more."""
    place = next((place for place, sign in enumerate(number) if sign in "12345678"), None)
    return None if place is None else number[:place] + str(int(number[place]) + 1) + number[place + 1 :]


def _cut_off(pair: Quantity, second: Quantity) -> str | None:
    """Return the second unit as it is when the digits behind are cut off; None when that is how it is rounded."""
    if pair.form not in (Form.VALUE, Form.RANGE) or second.form is not pair.form or pair.kind is Kind.TEMPERATURE:
        return None
    here, there = named(pair.unit), named(second.unit)
    ends = [convert(value, here, there) for value in (pair.low, pair.high) if value is not None]
    cut, rounded = ([end.quantize(second.step, rounding=how) for end in ends] for how in (ROUND_FLOOR, ROUND_HALF_EVEN))
    if cut == rounded or not all(cut) or all(end - most < _FLOOR * end for end, most in zip(ends, cut, strict=True)):
        return None
    return f"{' to '.join(dict.fromkeys(f'{end:f}' for end in cut))} {second.unit}"


_OTHER_UNITS = {
    "N·m": ("lbf·ft", "kgf·m", "lbf·in"),
    "lbf·ft": ("lbf·in", "N·m"),
    "lbf·in": ("lbf·ft",),
    "kgf·m": ("kgf·cm", "N·m"),
    "mm": ("cm", "in"),
    "cm": ("mm",),
    "in": ("mm",),
    "kPa": ("bar", "psi"),
    "kgf/cm²": ("bar", "kPa"),
    "psi": ("kPa",),
    "l": ("US qt", "ml"),
    "N": ("kgf", "lbf"),
    "lbf": ("N", "kgf"),
    "kg": ("lb", "g"),
    "lb": ("kg", "oz"),
}


def _upside_down(pair: Quantity, second: Quantity) -> str | None:
    """Return the second unit as it is when the factor is used the wrong way round."""
    if pair.form is not Form.VALUE or not pair.low or pair.kind is Kind.TEMPERATURE:
        return None
    wrong = convert(pair.low, named(second.unit), named(pair.unit))
    return f"{wrong:.{max(second.digits, 2)}g} {second.unit}" if Decimal("1e-4") < wrong < 100000 else None


def _without_32(pair: Quantity, second: Quantity) -> str | None:
    if pair.kind is not Kind.TEMPERATURE or pair.form is not Form.VALUE or pair.low is None:
        return None
    factor = Decimal("1.8") if pair.unit == "°C" else 1 / Decimal("1.8")
    return f"{pair.low * factor:.0f} {second.unit}"


def slips(printed: list[Printed]) -> Iterator[Slip]:
    """Yield each slip of each kind, put into every good pair that can have it."""
    for pair in printed:
        quantity = pair.quantity
        if pair.wrong or quantity.high == 0:
            continue
        second = quantity.also[-1]
        said = core(second).replace("\u00a0", " ").replace("−", "-")
        number, unit = said[: said.rindex(second.unit)], second.unit
        spread = second.form not in (Form.VALUE, Form.AT_LEAST, Form.AT_MOST)
        made = [
            ("decimal point to the right (× 10)", _numbers(number, _moved(1))),
            ("decimal point to the left (÷ 10)", _numbers(number, _moved(-1))),
            ("decimal point of one end only", _numbers(number, _moved(-1), last=True) if spread else None),
            ("first two digits swapped", _numbers(number, _swapped(front=True), last=True)),
            ("last two digits swapped", _numbers(number, _swapped(front=False), last=True)),
            ("first digit one more", _numbers(number, _digit, last=True)),
        ]
        first = core(quantity)
        for name, text in made:
            if text is not None:
                yield Slip(name, f"{first} ({text}{unit})", pair)
        for other in _OTHER_UNITS.get(unit, ()):
            if other != quantity.unit:
                yield Slip("another unit behind the number", f"{first} ({number}{other})", pair)
        for name, wrong in (
            ("cut off, and so off by 3.5 % or more", _cut_off(quantity, second)),
            ("factor the wrong way round", _upside_down(quantity, second)),
            ("the 32 of °F forgotten", _without_32(quantity, second)),
        ):
            if wrong is not None:
                yield Slip(name, f"{first} ({wrong})", pair)


def share(part: int, whole: int) -> str:
    """Return a share in percent, rounded down so that 100 % is all; a dash of nothing."""
    return f"{part * 1000 // whole / 10:.1f} %" if whole else "–"


def kinds(printed: list[Printed]) -> Iterator[str]:
    """Yield how many good pairs of each kind are called wrong, and how many wrong ones are found, line by line."""
    yield f"{'kind':26}{'good pairs':>12}{'called wrong':>14}{'wrong in print':>16}{'found':>7}"
    for kind in [*dict.fromkeys(pair.kind for pair in printed), None]:
        these = [pair for pair in printed if kind in (None, pair.kind)]
        good, wrong = [pair for pair in these if not pair.wrong], [pair for pair in these if pair.wrong]
        false, found = sum(pair.found for pair in good), sum(pair.found for pair in wrong)
        yield f"{kind.value if kind else 'all':26}{len(good):>12}{false:>14}{len(wrong):>16}{found:>7}"


def found_slips(printed: list[Printed]) -> Iterator[str]:
    """Yield how many slips of each kind are found, line by line."""
    tried: Counter[str] = Counter()
    found: Counter[str] = Counter()
    for slip in slips(printed):
        tried[slip.kind] += 1
        found[slip.kind] += slip.found
    yield f"{'slip in the second unit':38}{'tried':>7}{'found':>7}{'share':>9}"
    for kind, count in tried.items():
        yield f"{kind:38}{count:>7}{found[kind]:>7}{share(found[kind], count):>9}"


def report(printed: list[Printed]) -> str:
    """Return all that is measured."""
    parts = []
    for name, later in ((TUNED, False), (LATER, True)):
        these = [pair for pair in printed if pair.later is later]
        sources = len({pair.source for pair in these})
        parts += [f"{name}: {len(these)} of {sources} sources", "", *kinds(these), "", *found_slips(these), ""]
    return "\n".join(parts).rstrip()


def main() -> None:
    """Print the tables, and the good pairs that are called wrong."""
    printed = read_all()
    print(report(printed))
    for pair in printed:
        if pair.found != pair.wrong:
            print(f"  {'called wrong' if pair.found else 'not found'}: {pair.text} ({pair.source})")


if __name__ == "__main__":
    main()
