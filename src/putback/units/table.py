"""How units are written, and which one a text names."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import product

from putback.source.late import Late
from putback.source.nearest import distance
from putback.units.kinds import Kind, System, Unit
from putback.units.listed import IN_WORDS, UNITS

LADDERS = (("s", "min", "h", "d"), ("in", "ft"), ("oz", "lb"))
"""Units that are written together (1 h 30 min), the smallest first."""

_PARTS = {
    "<lbf>": ("lbf", "lb", "lbs", "pound", "pounds", "pound·force", "pounds·force"),
    "<ozf>": ("ozf", "oz", "ounce", "ounces"),
    "<ounce>": ("ounce", "ounces"),
    "<metre>": ("metre", "metres", "meter", "meters"),
    "<square inch>": ("sq·in", "square·inch", "square·inches"),
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
_TOKEN = Late(r"<[^<>]+>")
_WORD = Late(r"[a-z]{4,}(?:·[a-z]+)*")
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
    else:
        for name in filter(None, f"{unit.names}|{IN_WORDS.get(unit.symbol, '')}".split("|")):
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
    # Metric prefixes live by their case (mN, MN), so only these may be written in any case, and whole words.
    free = [unit for unit in UNITS if unit.system is System.US or unit.symbol.startswith("imp") or unit.symbol in _FREE]
    exact = _by_key()
    words = {name: unit for name, unit in exact.items() if _WORD.fullmatch(name) and name.capitalize() not in exact}
    return {**words, **{name.lower(): unit for unit in free for name in _written(unit)}}


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


def nearest(text: str, kind: Kind | None) -> Unit | None:
    """Return the unit of `kind` (None for any) that a text is a slip for; None when none is near, or two are.

    A far one would be another size: milliamps are no amps, and inch-ounces no inch-pounds.
    """
    names = {name: unit for name, unit in _by_key().items() if kind in (None, unit.kind)}
    wanted = key(text)
    for alike in (_even, _bare, _one, _letters, _slip):
        found = {unit.symbol: unit for name, unit in names.items() if alike(wanted, name)}
        if found:
            return next(iter(found.values())) if len(found) == 1 else None
    return None


def _even(text: str, name: str) -> bool:
    return text.lower() == name.lower()


def _bare(text: str, name: str) -> bool:
    return _only_letters(text) == _only_letters(name) != ""


def _one(text: str, name: str) -> bool:
    return _only_letters(text).removesuffix("s") == _only_letters(name) != ""


def _letters(text: str, name: str) -> bool:
    """Tell whether letters, or the parts of a unit, have changed places."""
    parts = sorted(text.lower().split("·")) == sorted(name.lower().split("·"))
    return parts or (len(text) > 3 and sorted(_only_letters(text)) == sorted(_only_letters(name)))


def _slip(text: str, name: str) -> bool:
    """Tell whether a word that is written out has one letter wrong, but not the first one: that tells the size."""
    one, other = _only_letters(text), _only_letters(name)
    return min(len(one), len(other)) > 3 and one[0] == other[0] and distance(one, other, 1) <= 1


@lru_cache(maxsize=2048)
def _only_letters(text: str) -> str:
    return "".join(letter for letter in text.lower() if letter not in "·/°")
