"""How strong bolts are: property classes and grades, by diameter.

Status of the values: read-2, seen in public copies of the table; memory, recalled and not seen.

ISO 898-1 (2013): read-2. SAE J429: grades 1, 2, 5 and 8 in two copies, 4, 5.2, 7 and 8.2 in one; 8.1 is memory. ISO
8839: CU2 to CU5, AL1 and AL3 in two copies, the others in one. ISO 3506-1: austenitic steels of classes 50 to 80
read-2; class 100, A8, duplex, martensitic and ferritic steels are memory. Nylon: one handbook table, dry; it loses
strength when damp or warm. JIS B 1051, classes until 1999: tensile strengths read (40, 50, 60, 70 kgf/mm² of 4T to 7T
in a table of breaking loads), proof stresses memory. Class 6.9 and the names of DIN 267 (8G, 10K): read in one table.
Thin nuts 04 and 05: ISO 898-2, memory. Set screws: ISO 898-5, proof torques of 45H read in two copies.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum

from putback.joints import JointError
from putback.source.late import Late

KSI = 6.894757293168
"""N/mm²."""
_INCH = 25.4


class ClassError(JointError):
    """A text that names no property class or grade. Its message is fit for the author."""


class Standard(StrEnum):
    """Where the strength is laid down."""

    STEEL = "ISO 898-1"
    DIN = "DIN 267"
    STAINLESS = "ISO 3506-1"
    SET_SCREW = "ISO 898-5"
    JIS = "JIS B 1051"
    SAE = "SAE J429"
    NON_FERROUS = "ISO 8839"
    NONE = "no standard"


@dataclass(frozen=True, slots=True)
class Strength:
    """The least stresses that a bolt stands, N/mm² of its stress area."""

    proof: float | None
    """Without staying longer; 0.2 % proof stress where the standard has no proof load; None for plastics."""
    yield_: float
    """At which it begins to stretch for good (ReL, Rp0.2 or Rpf)."""
    tensile: float
    """At which it breaks."""


@dataclass(frozen=True, slots=True)
class StrengthClass:
    """A property class or grade."""

    text: str = field(compare=False)
    """As the author wrote it, with single spaces."""
    name: str
    """As the standard writes it: 8.8, A4-70, grade 5, CU2."""
    standard: Standard
    """Where it is laid down."""
    rows: tuple[tuple[float, Strength], ...]
    """Strengths, each with the largest diameter, mm, that it is for."""

    @property
    def stainless(self) -> bool:
        """Whether it is a stainless steel, whose threads gall."""
        return self.standard is Standard.STAINLESS

    def at(self, diameter: float) -> Strength:
        """Return the strength at a diameter, mm.

        Beyond the range of the standard, above or below, its nearest row: that is the weakest above.
        """
        return next((strength for largest, strength in self.rows if diameter <= largest + 0.01), self.rows[-1][1])


_Rows = tuple[tuple[float, Strength], ...]


def _one(largest: float, proof: float | None, yield_: float, tensile: float) -> _Rows:
    return ((largest, Strength(proof, yield_, tensile)),)


def _same(largest: float, yield_: float, tensile: float) -> _Rows:
    """Return a row of a standard without proof loads: the 0.2 % proof stress stands in."""
    return _one(largest, yield_, yield_, tensile)


def _ksi(largest: float, proof: float, yield_: float, tensile: float) -> _Rows:
    return _one(largest * _INCH, proof * KSI, yield_ * KSI, tensile * KSI)


STEEL: dict[str, _Rows] = {
    "4.6": _one(39, 225, 240, 400),
    "4.8": _one(39, 310, 340, 420),
    "5.6": _one(39, 280, 300, 500),
    "5.8": _one(39, 380, 420, 520),
    "6.8": _one(39, 440, 480, 600),
    "8.8": _one(16, 580, 640, 800) + _one(39, 600, 660, 830),
    "9.8": _one(16, 650, 720, 900),
    "10.9": _one(39, 830, 940, 1040),
    "12.9": _one(39, 970, 1100, 1220),
}
"""ISO 898-1: proof stress Sp, least yield, least tensile strength, N/mm²."""

DIN: dict[str, _Rows] = {"6.6": _one(39, 340, 360, 600), "6.9": _one(39, 480, 540, 600)}
"""DIN 267, withdrawn, N/mm²; proof stress memory."""

FORMER = {
    "4d": "4.6", "4s": "4.8", "5d": "5.6", "5s": "5.8", "6d": "6.6", "6s": "6.8", "6g": "6.9", "8g": "8.8",
    "10k": "10.9", "12k": "12.9",
}  # fmt: skip
"""Names of DIN 267 on old bolts, by the class of today."""

JIS: dict[str, _Rows] = {
    "4T": _one(39, 225, 240, 392),
    "5T": _one(39, 280, 300, 490),
    "6T": _one(39, 350, 400, 588),
    "7T": _one(39, 440, 490, 686),
    "8T": _one(39, 580, 640, 785),
    "9T": _one(39, 650, 720, 883),
    "10T": _one(39, 800, 883, 981),
    "11T": _one(39, 850, 940, 1079),
}
"""JIS B 1051 until 1999: proof stress, yield and least tensile strength, N/mm²."""

SET_SCREW: dict[str, _Rows] = {
    f"{hardness}H": _one(39, 240 * hardness / 45, 300 * hardness / 45, 400 * hardness / 45)
    for hardness in (14, 22, 33, 45)
}
"""ISO 898-5: a set screw is pressed and not pulled, so these are no strengths of steel, N/mm²: at the highest
friction, 240 is what the proof torques of 45H bring about, 8.5 N·m for M6, 40 N·m for M10. The softer ones by their
hardness."""

THIN_NUTS: dict[str, _Rows] = {"04": _same(39, 380, 380), "05": _same(39, 500, 500)}
"""ISO 898-2: proof stress of thin nuts, N/mm². They strip before the bolt gives."""

SAE: dict[str, _Rows] = {
    "1": _ksi(1.5, 33, 36, 60),
    "2": _ksi(0.75, 55, 57, 74) + _ksi(1.5, 33, 36, 60),
    "4": _ksi(1.5, 65, 100, 115),
    "5": _ksi(1, 85, 92, 120) + _ksi(1.5, 74, 81, 105),
    "5.2": _ksi(1, 85, 92, 120),
    "7": _ksi(1.5, 105, 115, 133),
    "8": _ksi(1.5, 120, 130, 150),
    "8.1": _ksi(1.5, 120, 130, 150),
    "8.2": _ksi(1, 120, 130, 150),
}
"""SAE J429, from ksi."""

_AUSTENITIC: dict[str, tuple[float, float]] = {"50": (210, 500), "70": (450, 700), "80": (600, 800), "100": (800, 1000)}
STAINLESS: dict[str, dict[str, tuple[float, float]]] = {
    **{grade: {c: _AUSTENITIC[c] for c in ("50", "70", "80")} for grade in ("A1", "A2", "A3")},
    **dict.fromkeys(("A4", "A5"), _AUSTENITIC),
    **{grade: {c: _AUSTENITIC[c] for c in ("70", "80", "100")} for grade in ("A8", "D2", "D4", "D6", "D8")},
    "C1": {"50": (250, 500), "70": (410, 700), "110": (820, 1100)},
    "C3": {"80": (640, 800)},
    "C4": {"50": (250, 500), "70": (410, 700)},
    "F1": {"45": (250, 450), "60": (410, 600)},
}
"""ISO 3506-1: 0.2 % proof stress and least tensile strength, N/mm², by steel and class."""

NON_FERROUS: dict[str, _Rows] = {
    "CU1": _same(39, 160, 240),
    "CU2": _same(6, 340, 440) + _same(39, 250, 370),
    "CU3": _same(6, 340, 440) + _same(39, 250, 370),
    "CU4": _same(12, 340, 470) + _same(39, 200, 400),
    "CU5": _same(39, 540, 590),
    "CU6": _same(39, 180, 440),
    "CU7": _same(39, 270, 640),
    "AL1": _same(10, 230, 270) + _same(20, 180, 250),
    "AL2": _same(14, 205, 310) + _same(36, 200, 280),
    "AL3": _same(6, 250, 320) + _same(39, 260, 310),
    "AL4": _same(10, 290, 420) + _same(39, 260, 380),
    "AL5": _same(39, 380, 460),
    "AL6": _same(39, 440, 510),
}
"""ISO 8839: 0.2 % proof stress, as proof too, and least tensile strength, N/mm²."""

_PLASTIC = _one(39, None, 8 * KSI, 11 * KSI)
_WORDS: dict[str, tuple[str, Standard, _Rows]] = {
    "brass": ("CU2", Standard.NON_FERROUS, NON_FERROUS["CU2"]),
    "bronze": ("CU4", Standard.NON_FERROUS, NON_FERROUS["CU4"]),
    "nylon": ("nylon", Standard.NONE, _PLASTIC),
    "polyamide": ("nylon", Standard.NONE, _PLASTIC),
    "plastic": ("nylon", Standard.NONE, _PLASTIC),
}
"""What is named by its material only: brass as CuZn37, bronze as CuSn6, plastic as nylon 66 (common practice)."""

_LONGEST = 60
_CHARS = str.maketrans(dict.fromkeys("‐‑–—−", "-"))
_LETTERED = Late(r"(?:class\s*)?(?P<n>[0-9]{1,2})\s?(?P<letter>[th])")
_SAE = Late(r"(?:sae\s*)?(?:j\s?429\s*)?(?P<word>grade|gr\.?)?\s*(?P<n>[0-9](?:\.[0-9])?)")
_CLASS = Late(r"(?:(?:property\s+)?class|cl\.?|iso(?:\s*898-1)?)?[\s:]*(?P<n>[0-9]{1,2}\.[0-9])")
_STEEL_GRADE = Late(r"(?P<steel>[acdf][0-9])l?(?:[\s/-]*(?P<n>[0-9]{2,3}))?")
_KNOWN = "write a class such as 8.8 or 10.9, a stainless steel such as A2-70, a grade such as 'grade 5', or 'brass'"


NUTS = {"4": "4.8", "5": "5.8", "6": "6.8", "8": "8.8", "9": "9.8", "10": "10.9", "12": "12.9"}
"""ISO 898-2: property classes of nuts, each with the strongest bolt that may stand in it."""


def read_nut_class(text: str) -> StrengthClass:
    """Return the class of the strongest bolt that a nut is for: `8` is for 8.8. Raises ClassError."""
    said = " ".join(text[: _LONGEST + 1].split())
    name = re.sub(r"^class\s*", "", said.lower())
    if name in THIN_NUTS:
        return StrengthClass(said, name, Standard.STEEL, THIN_NUTS[name])
    bolt = NUTS.get(name)
    if (found := _CLASS.fullmatch(name)) and found["n"] in STEEL:
        whole = found["n"].partition(".")[0]
        raise ClassError(f"'{said}' is a class of bolts: ISO 898-2 gives nuts a whole number", f"write '{whole}'")
    return replace(read_class(bolt), text=said) if bolt else read_class(text)


def read_class(text: str) -> StrengthClass:
    """Return the property class or grade that a text names. Raises ClassError."""
    said = " ".join(text[: _LONGEST + 1].split())
    if len(text) > _LONGEST:
        raise ClassError(f"'{said[:30]} …' is too long for a property class", _KNOWN)
    plain = said.translate(_CHARS).lower()
    if plain in _WORDS:
        return StrengthClass(said, *_WORDS[plain])
    if plain.upper() in NON_FERROUS:
        return StrengthClass(said, plain.upper(), Standard.NON_FERROUS, NON_FERROUS[plain.upper()])
    match = _CLASS.fullmatch(plain)
    name = FORMER.get(plain) or (match["n"] if match else "")
    for standard, rows in ((Standard.STEEL, STEEL), (Standard.DIN, DIN)):
        if name in rows:
            return StrengthClass(said, name, standard, rows[name])
    if match := _LETTERED.fullmatch(plain):
        name = f"{match['n']}{match['letter']}".upper()
        for standard, rows in ((Standard.JIS, JIS), (Standard.SET_SCREW, SET_SCREW)):
            if name in rows:
                return StrengthClass(said, name, standard, rows[name])
    if match := _STEEL_GRADE.fullmatch(plain):
        return _stainless(said, match)
    if match := _SAE.fullmatch(plain):
        return _sae(said, match, named=bool(match["word"]) or "sae" in plain or "429" in plain)
    raise ClassError(f"'{said}' is not a known property class or grade", _near(plain) or _KNOWN)


def _and(words: Iterable[str]) -> str:
    *most, end = words
    return f"{', '.join(most)} and {end}" if most else end


def _stainless(said: str, match: re.Match[str]) -> StrengthClass:
    steel, number = match["steel"].upper(), match["n"]
    classes = STAINLESS.get(steel)
    if classes is None:
        raise ClassError(
            f"'{said}' is not a stainless steel of ISO 3506-1", f"ISO 3506-1 has the steels {_and(STAINLESS)}"
        )
    listed = f"{steel} has the class{'es' if len(classes) > 1 else ''} {_and(f'{steel}-{c}' for c in classes)}"
    if number is None:
        raise ClassError(f"'{said}' names a stainless steel but not its strength", listed)
    if number not in classes:
        raise ClassError(f"{steel} has no class {number}", listed)
    return StrengthClass(said, f"{steel}-{number}", Standard.STAINLESS, _same(39, *classes[number]))


def _sae(said: str, match: re.Match[str], *, named: bool) -> StrengthClass:
    number = match["n"]
    if not named:
        hint = f"write 'grade {number}' for SAE J429" if number in SAE else _near(number) or _KNOWN
        raise ClassError(f"'{said}' is not a property class of ISO 898-1", hint)
    if number not in SAE:
        raise ClassError(f"SAE J429 has no grade {number}", f"it has the grades {_and(SAE)}")
    return StrengthClass(said, f"grade {number}", Standard.SAE, SAE[number])


def _near(plain: str) -> str | None:
    """Return a hint at the class whose digits were written: 8,8 and 88 for 8.8."""
    digits = re.sub(r"[^0-9]", "", plain)
    if not re.fullmatch(r"[0-9\s.,/-]+", plain):
        return None
    near = next((name for name in STEEL if name.replace(".", "") == digits), None)
    return f"did you mean {near}?" if near else f"ISO 898-1 has the classes {_and(STEEL)}" if len(digits) > 1 else None
