"""The units that are known, with their exact factors.

Factors follow from definitions (NIST SP 811, 2008, appendix B.8): lb = 0.453 592 37 kg, in = 0.0254 m,
standard gravity 9.806 65 m/s², US gal = 231 in³, imperial gal = 4.546 09 l, kn = 1852 m/h, and, for the
columns of mercury, 13 595.1 kg/m³. They stand as text and become numbers when first used.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from typing import NamedTuple


class Kind(StrEnum):
    """What a quantity measures."""

    TORQUE = "torque"
    LENGTH = "length"
    VOLUME = "volume"
    MASS = "mass"
    PRESSURE = "pressure"
    TEMPERATURE = "temperature"
    TIME = "time"
    ANGLE = "angle"
    SPEED = "speed"
    """Of turning (rpm) or of travel (km/h); the two do not convert into each other."""
    FORCE = "force"
    VOLTAGE = "voltage"
    CURRENT = "current"
    RESISTANCE = "resistance"
    RATIO = "ratio"

    @property
    def one(self) -> str:
        """The word with its article: "a torque"."""
        return f"{'an' if self is Kind.ANGLE else 'a'} {self.value}"


class System(StrEnum):
    """A family of units that a guide can be printed in."""

    METRIC = "metric"
    US = "us"


class Unit(NamedTuple):
    """One unit. A value x in it is (x + offset) · over / under in the SI unit `si`."""

    symbol: str
    """As it is printed."""
    kind: Kind
    """What it measures."""
    system: System | None
    """The family; None when readers of both use it (min, °, V), or of neither (imp gal)."""
    si: str
    """The SI unit that the factor leads to."""
    over: str
    """Numerator of the factor, exact; π to 50 digits."""
    under: str = "1"
    """Denominator of the factor, exact."""
    names: str = ""
    """Other ways to write it, parted by |; see `key` for what is treated alike."""
    offset: str = "0"
    """Added before the factor is applied: degrees from absolute zero."""

    @property
    def joined(self) -> str:
        """The number's join to the unit: a no-break space, or nothing before a degree sign."""
        return "" if self.symbol == "°" else "\u00a0"


_METRIC, _US = System.METRIC, System.US
_PI = "3.1415926535897932384626433832795028841971693993751"
_LBF = "4.4482216152605"
_INCH_WORDS = "inch|inches|\"|''"

UNITS: tuple[Unit, ...] = (
    # The first of each kind is the one that hints suggest.
    Unit("N·m", Kind.TORQUE, _METRIC, "N·m", "1", names="Nm"),
    Unit("lbf·ft", Kind.TORQUE, _US, "N·m", "1.3558179483314004", names="<lbf><ft>"),
    Unit("lbf·in", Kind.TORQUE, _US, "N·m", "0.1129848290276167", names="<lbf><in>"),
    Unit("mN·m", Kind.TORQUE, _METRIC, "N·m", "0.001", names="mNm"),
    Unit("kN·m", Kind.TORQUE, _METRIC, "N·m", "1000", names="kNm"),
    Unit("N·cm", Kind.TORQUE, _METRIC, "N·m", "0.01", names="Ncm"),
    Unit("N·mm", Kind.TORQUE, _METRIC, "N·m", "0.001", names="Nmm"),
    Unit("kgf·m", Kind.TORQUE, _METRIC, "N·m", "9.80665", names="kgfm|m·kgf"),
    Unit("kgf·cm", Kind.TORQUE, _METRIC, "N·m", "0.0980665", names="kgfcm|cm·kgf"),
    Unit("ozf·in", Kind.TORQUE, _US, "N·m", "0.00706155181422604375", names="<ozf><in>"),
    Unit("mm", Kind.LENGTH, _METRIC, "m", "0.001", names="millimetre|millimetres|millimeter|millimeters"),
    Unit("cm", Kind.LENGTH, _METRIC, "m", "0.01"),
    Unit("m", Kind.LENGTH, _METRIC, "m", "1", names="metre|metres|meter|meters"),
    Unit("µm", Kind.LENGTH, _METRIC, "m", "0.000001", names="um"),
    Unit("in", Kind.LENGTH, _US, "m", "0.0254", names=_INCH_WORDS),
    Unit("ft", Kind.LENGTH, _US, "m", "0.3048", names="foot|feet|'"),
    Unit("mil", Kind.LENGTH, _US, "m", "0.0000254", names="mils"),
    Unit("thou", Kind.LENGTH, _US, "m", "0.0000254"),
    Unit("ml", Kind.VOLUME, _METRIC, "m³", "0.000001", names="mL|cc"),
    Unit("cm³", Kind.VOLUME, _METRIC, "m³", "0.000001"),
    Unit("cl", Kind.VOLUME, _METRIC, "m³", "0.00001", names="cL"),
    Unit("dl", Kind.VOLUME, _METRIC, "m³", "0.0001", names="dL"),
    Unit("l", Kind.VOLUME, _METRIC, "m³", "0.001", names="L|litre|litres|liter|liters"),
    Unit("m³", Kind.VOLUME, _METRIC, "m³", "1"),
    Unit("US fl oz", Kind.VOLUME, _US, "m³", "0.0000295735295625", names="fl·oz|floz"),
    Unit("US pt", Kind.VOLUME, _US, "m³", "0.000473176473", names="pt|pint|pints|US·pint|US·pints"),
    Unit("US qt", Kind.VOLUME, _US, "m³", "0.000946352946", names="qt|qts|quart|quarts|US·quart|US·quarts"),
    Unit("US gal", Kind.VOLUME, _US, "m³", "0.003785411784", names="gal|gallon|gallons|US·gallon|US·gallons"),
    Unit("imp fl oz", Kind.VOLUME, None, "m³", "0.0000284130625"),
    Unit("imp pt", Kind.VOLUME, None, "m³", "0.00056826125", names="imp·pint|imp·pints"),
    Unit("imp qt", Kind.VOLUME, None, "m³", "0.0011365225", names="imp·quart|imp·quarts"),
    Unit("imp gal", Kind.VOLUME, None, "m³", "0.00454609", names="imp·gallon|imp·gallons"),
    Unit("kg", Kind.MASS, _METRIC, "kg", "1"),
    Unit("g", Kind.MASS, _METRIC, "kg", "0.001"),
    Unit("mg", Kind.MASS, _METRIC, "kg", "0.000001"),
    Unit("t", Kind.MASS, _METRIC, "kg", "1000", names="tonne|tonnes"),
    Unit("lb", Kind.MASS, _US, "kg", "0.45359237", names="lbs|pound|pounds"),
    Unit("oz", Kind.MASS, _US, "kg", "0.028349523125", names="ounce|ounces"),
    Unit("kPa", Kind.PRESSURE, _METRIC, "Pa", "1000"),
    Unit("bar", Kind.PRESSURE, _METRIC, "Pa", "100000"),
    Unit("psi", Kind.PRESSURE, _US, "Pa", _LBF, "0.00064516", names="lbf/in2"),
    Unit("Pa", Kind.PRESSURE, _METRIC, "Pa", "1"),
    Unit("hPa", Kind.PRESSURE, _METRIC, "Pa", "100"),
    Unit("MPa", Kind.PRESSURE, _METRIC, "Pa", "1000000", names="N/mm2"),
    Unit("mbar", Kind.PRESSURE, _METRIC, "Pa", "100"),
    Unit("kgf/cm²", Kind.PRESSURE, _METRIC, "Pa", "98066.5"),
    Unit("inHg", Kind.PRESSURE, _US, "Pa", "3386.388640341", names="in·Hg"),
    Unit("mmHg", Kind.PRESSURE, _METRIC, "Pa", "133.322387415", names="mm·Hg"),
    Unit("atm", Kind.PRESSURE, _METRIC, "Pa", "101325"),
    Unit("°C", Kind.TEMPERATURE, _METRIC, "K", "1", names="°·C|degC|deg·C", offset="273.15"),
    Unit("°F", Kind.TEMPERATURE, _US, "K", "1", "1.8", names="°·F|degF|deg·F", offset="459.67"),
    Unit("K", Kind.TEMPERATURE, _METRIC, "K", "1"),
    Unit("min", Kind.TIME, None, "s", "60", names="mins|minute|minutes"),
    Unit("h", Kind.TIME, None, "s", "3600", names="hr|hrs|hour|hours"),
    Unit("s", Kind.TIME, None, "s", "1", names="sec|secs|second|seconds"),
    Unit("ms", Kind.TIME, None, "s", "0.001"),
    Unit("d", Kind.TIME, None, "s", "86400", names="day|days"),
    Unit("°", Kind.ANGLE, None, "rad", _PI, "180", names="deg|degree|degrees"),
    Unit("rad", Kind.ANGLE, None, "rad", "1"),
    Unit("turn", Kind.ANGLE, None, "rad", _PI, "0.5", names="turns"),
    Unit("rpm", Kind.SPEED, None, "rad/s", _PI, "30", names="r/min|rev/min|1/min"),
    Unit("km/h", Kind.SPEED, _METRIC, "m/s", "1", "3.6", names="kph"),
    Unit("m/s", Kind.SPEED, _METRIC, "m/s", "1"),
    Unit("mph", Kind.SPEED, _US, "m/s", "0.44704", names="mi/h"),
    Unit("kn", Kind.SPEED, None, "m/s", "1852", "3600", names="knot|knots"),
    Unit("N", Kind.FORCE, _METRIC, "N", "1"),
    Unit("kN", Kind.FORCE, _METRIC, "N", "1000"),
    Unit("lbf", Kind.FORCE, _US, "N", _LBF),
    Unit("kgf", Kind.FORCE, _METRIC, "N", "9.80665"),
    Unit("ozf", Kind.FORCE, _US, "N", "0.27801385095378125"),
    Unit("V", Kind.VOLTAGE, None, "V", "1", names="volt|volts"),
    Unit("mV", Kind.VOLTAGE, None, "V", "0.001"),
    Unit("kV", Kind.VOLTAGE, None, "V", "1000"),
    Unit("A", Kind.CURRENT, None, "A", "1", names="amp|amps|ampere|amperes"),
    Unit("mA", Kind.CURRENT, None, "A", "0.001"),
    Unit("Ω", Kind.RESISTANCE, None, "Ω", "1", names="ohm|ohms"),
    Unit("mΩ", Kind.RESISTANCE, None, "Ω", "0.001"),
    Unit("kΩ", Kind.RESISTANCE, None, "Ω", "1000", names="kohm"),
    Unit("MΩ", Kind.RESISTANCE, None, "Ω", "1000000", names="Mohm"),
    Unit("%", Kind.RATIO, None, "1", "0.01", names="percent|per·cent"),
)
"""Every unit, the most usual of each kind first."""

LADDERS = (("s", "min", "h", "d"), ("in", "ft"), ("oz", "lb"))
"""Units that are written together (1 h 30 min), the smallest first."""

_PARTS = {
    "<lbf>": ("lbf", "lb", "lbs"),
    "<ozf>": ("ozf", "oz"),
    "<ft>": ("ft", "foot", "feet"),
    "<in>": ("in", "inch"),
}
_ALIKE = str.maketrans(
    {"⋅": "·", "•": "·", "∙": "·", "*": "·", "²": "2", "³": "3", "^": "", "º": "°", "μ": "µ", "\u2126": "Ω"}
    | {"℃": "°C", "℉": "°F", "″": '"', "”": '"', "′": "'", "’": "'"}
)


def key(text: str) -> str:
    """Return what is compared when a unit is looked up: dots, spaces and hyphens in it are one dot."""
    plain = re.sub(r"\s*/\s*", "/", text.translate(_ALIKE).strip())
    return re.sub(r"[ .·-]+", "·", plain.rstrip(". "))


def _written(unit: Unit) -> Iterator[str]:
    yield key(unit.symbol)
    if unit.names.startswith("<"):
        left, right = (_PARTS[f"<{part}>"] for part in re.findall(r"<(\w+)>", unit.names))
        for force in left:
            for arm in right:
                yield from (f"{force}·{arm}", f"{force}{arm}", f"{arm}·{force}", f"{arm}{force}")
    elif unit.names:
        yield from unit.names.split("|")


@cache
def _by_key() -> dict[str, Unit]:
    return {name: unit for unit in UNITS for name in _written(unit)}


@cache
def _by_folded_key() -> dict[str, Unit]:
    # Metric prefixes live by their case (mN, MN), so only these may be written in any case.
    free = [unit for unit in UNITS if unit.system is System.US or unit.symbol.startswith("imp") or unit.symbol == "rpm"]
    return {name.lower(): unit for unit in free for name in _written(unit)}


def find(text: str) -> Unit | None:
    """Return the unit that is written so, or None."""
    name = key(text)
    return _by_key().get(name) or _by_folded_key().get(name.lower())


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
