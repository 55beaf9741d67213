"""How units are written, and which one a text names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import product

from putback.source.late import Late
from putback.units.kinds import Kind, System, Unit
from putback.units.listed import UNITS

LADDERS = (("s", "min", "h", "d"), ("in", "ft"), ("oz", "lb"))
"""Units that are written together (1 h 30 min), the smallest first."""

_PARTS = {
    "<lbf>": ("lbf", "lb", "lbs", "pound", "pounds"),
    "<ozf>": ("ozf", "oz"),
    "<ft>": ("ft", "foot", "feet"),
    "<in>": ("in", "inch", "inches"),
    "<°>": ("°", "°·", "deg·", "degrees·"),
    "<t>": ("TDC", "top·dead·centre", "top·dead·center"),
    "<b>": ("BDC", "bottom·dead·centre", "bottom·dead·center"),
}
_ALIKE = str.maketrans(
    {"⋅": "·", "•": "·", "∙": "·", "*": "·", "²": "2", "³": "3", "^": "", "º": "°", "μ": "µ", "\u2126": "Ω"}
    | {"⁻": "-", "¹": "1", "₂": "2", "∶": ":"}
    | {"℃": "°C", "℉": "°F", "″": '"', "”": '"', "′": "'", "’": "'"}
)
_FREE = frozenset({"rpm", "° BTDC", "° ATDC", "° BBDC", "° ABDC"})
_DESIGNATED = frozenset({Kind.ROUGHNESS, Kind.CRANK_ANGLE, Kind.DIFFERENCE})
_SLASH = Late(r"\s*/\s*")
_JOIN = Late(r"[ .·-]+")
_TOKEN = re.compile(r"<[^<>]+>")
_TO_MANY = Late(r": ?([1-9][0-9]{0,5})")


def key(text: str) -> str:
    """Return what is compared when a unit is looked up: dots, spaces and hyphens in it are one dot."""
    plain = _SLASH.sub("/", text.translate(_ALIKE).strip())
    return _JOIN.sub("·", plain.rstrip(". "))


def _written(unit: Unit) -> Iterator[str]:
    yield key(unit.symbol)
    if unit.names.startswith("<") and unit.kind is Kind.TORQUE:
        left, right = (_PARTS[part] for part in _TOKEN.findall(unit.names))
        for force, arm in product(left, right):
            yield from (f"{force}·{arm}", f"{force}{arm}", f"{arm}·{force}", f"{arm}{force}")
    elif unit.names:
        for name in unit.names.split("|"):
            tokens = _TOKEN.findall(name)
            for parts in product(*(_PARTS[token] for token in tokens)):
                written = name
                for token, part in zip(tokens, parts, strict=True):
                    written = written.replace(token, part)
                yield written


@cache
def _by_key() -> dict[str, Unit]:
    return {name: unit for unit in UNITS for name in _written(unit)}


@cache
def _by_folded_key() -> dict[str, Unit]:
    # Metric prefixes live by their case (mN, MN), so only these may be written in any case.
    free = [unit for unit in UNITS if unit.system is System.US or unit.symbol.startswith("imp") or unit.symbol in _FREE]
    return {name.lower(): unit for unit in free for name in _written(unit)}


def find(text: str) -> Unit | None:
    """Return the unit that is written so, or None."""
    name = key(text)
    found = _by_key().get(name) or _by_folded_key().get(name.lower())
    if found is None and (many := _TO_MANY.fullmatch(text.strip())):
        return Unit(f":{many[1]}", Kind.RATIO, None, "1", "1", many[1])
    return found


AS_A_FORCE = "force"
"""The designation of a weight that stands beside a force: 5 lb (22 N)."""


def of_kind(unit: Unit, kind: Kind, designation: str = "") -> Unit | None:
    """Return the unit of a kind that another unit stands for where that kind is meant; None when there is none.

    A difference of 3 °C is written without "difference" where one is expected, and a second roughness without its Ra.
    """
    if kind is Kind.DIFFERENCE and unit.kind is Kind.TEMPERATURE:
        return find(f"{unit.symbol} difference")
    if kind is Kind.ROUGHNESS and unit.kind is Kind.LENGTH:
        found = find(f"{unit.symbol} {designation or 'Ra'}")
        return found if found is not None and found.kind is kind else None
    if kind is Kind.FORCE and unit.kind is Kind.MASS and designation == AS_A_FORCE:
        return find(f"{unit.symbol}f")
    if kind is Kind.CRANK_ANGLE and unit.symbol == "°" and designation:
        return find(f"° {designation}")
    return None


def designation(unit: Unit) -> str:
    """Return what stands after the plain unit in its symbol: `Ra`, `BTDC`, `difference`."""
    return AS_A_FORCE if unit.kind is Kind.FORCE else unit.symbol.partition(" ")[2] if unit.kind in _DESIGNATED else ""


def usual(kind: Kind) -> Unit:
    """Return the unit that a hint suggests for a kind."""
    return next(unit for unit in UNITS if unit.kind is kind)


def nearest(text: str, kind: Kind | None, least: float) -> Unit | None:
    """Return the unit of `kind` (None for any) written most like `text`, at least `least` alike (0 to 1)."""
    import difflib  # only a fault needs it

    names = {name: unit for name, unit in _by_key().items() if kind in (None, unit.kind)}
    wanted = key(text)
    for alike in (str.lower, lambda name: "".join(sorted(name.lower()))):
        for name, unit in names.items():
            if alike(name) == alike(wanted):
                return unit
    close = difflib.get_close_matches(wanted, names, n=1, cutoff=least)
    return names[close[0]] if close else None
