"""Property classes and grades as people write them."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.joints.strength import (
    NON_FERROUS,
    SAE,
    STAINLESS,
    STEEL,
    ClassError,
    Standard,
    Strength,
    read_class,
    read_nut_class,
)

SPELLINGS = {
    "8.8": ["8.8", " 8.8 ", "class 8.8", "Property class 8.8", "cl. 8.8", "ISO 8.8", "ISO 898-1 8.8"],
    "12.9": ["12.9", "class 12.9"],
    "A2-70": ["A2-70", "a2-70", "A2–70", "A2 70", "A270", "A2/70", "A2L-70"],
    "C1-110": ["C1-110"],
    "F1-60": ["F1-60"],
    "grade 5": ["grade 5", "Grade 5", "gr. 5", "gr 5", "SAE 5", "SAE grade 5", "SAE J429 grade 5", "J 429 grade 5"],
    "grade 8.2": ["grade 8.2", "SAE 8.2"],
    "CU2": ["brass", "Brass", "CU2", "cu2"],
    "CU4": ["bronze"],
    "nylon": ["nylon", "plastic", "Polyamide"],
    "7T": ["7T", "7t", "class 7T", "7 T"],
    "45H": ["45H", "45h", "class 45H"],
    "6.9": ["6.9", "6G", "class 6.9"],
    "10.9": ["10K"],
}


@pytest.mark.parametrize(("name", "text"), [(name, text) for name, texts in SPELLINGS.items() for text in texts])
def test_spellings(name: str, text: str) -> None:
    read = read_class(text)
    assert (read.name, read.text) == (name, text.strip())


def test_which_standard() -> None:
    read = {text: read_class(text) for text in ("8.8", "A4-80", "grade 8", "brass", "nylon")}
    assert [(found.standard.value, found.stainless) for found in read.values()] == [
        ("ISO 898-1", False),
        ("ISO 3506-1", True),
        ("SAE J429", False),
        ("ISO 8839", False),
        ("no standard", False),
    ]
    assert read["8.8"].standard is Standard.STEEL
    later = {text: read_class(text).standard.value for text in ("9T", "6.9", "33H", "8G")}
    assert later == {"9T": "JIS B 1051", "6.9": "DIN 267", "33H": "ISO 898-5", "8G": "ISO 898-1"}


def test_the_tensile_strength_of_old_japanese_classes() -> None:
    # kgf/mm², breaking loads by stress area in a table of JIS B 1051, read: M8 4T 1450, 5T 1830, 6T 2200, 7T 2560 kgf
    for name, load in {"4T": 1450, "5T": 1830, "6T": 2200, "7T": 2560}.items():
        assert read_class(name).at(8).tensile * 36.6 / 9.80665 == pytest.approx(load, rel=0.015)


def test_thin_nuts_are_known_of_nuts_only() -> None:
    assert [read_nut_class(name).at(10).proof for name in ("04", "05", "class 04")] == [380, 500, 380]
    with pytest.raises(ClassError):
        read_class("04")


def test_the_nearest_row_beyond_a_standard() -> None:
    assert read_class("8.8").at(16) == Strength(580, 640, 800)
    assert read_class("8.8").at(16.2) == read_class("8.8").at(60) == Strength(600, 660, 830)
    grade = read_class("grade 5")
    assert grade.at(0.19 * 25.4) == grade.at(25.4)
    assert grade.at(25.5) == grade.at(2 * 25.4)
    assert grade.at(25.5).tensile < grade.at(25.4).tensile


def test_what_stands_in_for_proof() -> None:
    assert read_class("A4-70").at(8) == Strength(450, 450, 700)
    assert read_class("nylon").at(8).proof is None


CLASSES = "ISO 898-1 has the classes 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9 and 12.9"
KNOWN = (
    "write a class such as 8.8 or 10.9, a stainless steel such as A2-70, a grade such as 'grade 5', or 'brass'"
)  # fmt: skip
STEELS = "A1, A2, A3, A4, A5, A8, D2, D4, D6, D8, C1, C3, C4 and F1"
ERRORS = [
    ("8,8", "'8,8' is not a known property class or grade", "did you mean 8.8?"),
    ("88", "'88' is not a known property class or grade", "did you mean 8.8?"),
    ("10,9", "'10,9' is not a known property class or grade", "did you mean 10.9?"),
    ("10.8", "'10.8' is not a known property class or grade", CLASSES),
    ("8.9", "'8.9' is not a property class of ISO 898-1", CLASSES),
    ("8", "'8' is not a property class of ISO 898-1", "write 'grade 8' for SAE J429"),
    ("8.2", "'8.2' is not a property class of ISO 898-1", "write 'grade 8.2' for SAE J429"),
    ("3", "'3' is not a property class of ISO 898-1", KNOWN),
    ("A4", "'A4' names a stainless steel but not its strength", "A4 has the classes A4-50, A4-70, A4-80 and A4-100"),
    ("A4-75", "A4 has no class 75", "A4 has the classes A4-50, A4-70, A4-80 and A4-100"),
    ("A2-100", "A2 has no class 100", "A2 has the classes A2-50, A2-70 and A2-80"),
    ("C3-70", "C3 has no class 70", "C3 has the class C3-80"),
    ("A6-70", "'A6-70' is not a stainless steel of ISO 3506-1", f"ISO 3506-1 has the steels {STEELS}"),
    ("grade 6", "SAE J429 has no grade 6", "it has the grades 1, 2, 4, 5, 5.2, 7, 8, 8.1 and 8.2"),
    ("titanium", "'titanium' is not a known property class or grade", KNOWN),
    ("8.8 " * 40, "'8.8 8.8 8.8 8.8 8.8 8.8 8.8 8. …' is too long for a property class", KNOWN),
]


@pytest.mark.parametrize(("text", "message", "hint"), ERRORS)
def test_errors(text: str, message: str, hint: str) -> None:
    with pytest.raises(ClassError) as caught:
        read_class(text)
    assert (str(caught.value), caught.value.hint) == (message, hint)


@pytest.mark.parametrize(
    "text", ["", " ", "nan", "inf", "1e9", "٨.٨", "-8.8", "8.8\x00", "8" * 60, "A2-", "grade", "sae"]
)
def test_hostile_text_is_refused(text: str) -> None:
    with pytest.raises(ClassError) as caught:
        read_class(text)
    assert caught.value.hint


LISTED = [
    *STEEL,
    *NON_FERROUS,
    *(f"grade {grade}" for grade in SAE),
    *(f"{steel}-{number}" for steel, classes in STAINLESS.items() for number in classes),
]


@pytest.mark.parametrize("name", LISTED)
def test_every_listed_class_reads_back_and_rises(name: str) -> None:
    read = read_class(name)
    assert read.name == name
    assert read == read_class(read.name)
    for largest, strength in read.rows:
        assert read.at(largest) == strength
        assert strength.proof is not None
        assert strength.proof <= strength.yield_ < strength.tensile


@given(st.text(max_size=70) | st.text("0123456789. ,-ACFgradesL", max_size=20))
def test_any_text_is_a_class_or_an_error(text: str) -> None:
    with suppress(ClassError):
        read = read_class(text)
        assert read_class(read.name) == read
