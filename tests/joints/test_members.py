"""What bolts are screwed into, and what strips."""

from __future__ import annotations

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.joints.members import (
    LOOSE,
    MATERIALS,
    STEEL,
    MaterialError,
    bolt_area,
    bolt_strip_load,
    hole_area,
    read_material,
    strip_load,
)
from putback.joints.strength import read_class
from putback.joints.threads import read_thread

SPELLINGS = {
    "steel": ["steel", "Steel", "mild steel", "cast steel", "zinc-plated steel", "steel, zinc plated"],
    "stainless steel": ["stainless steel", "stainless", "steel, stainless", "304 stainless-steel"],
    "ductile iron": ["ductile iron", "SG iron", "nodular cast iron", "spheroidal graphite iron"],
    "cast iron": ["cast iron", "grey cast iron", "gray iron", "cast-iron", "iron casting"],
    "aluminium": ["aluminium", "aluminum", "cast aluminium", "aluminium die casting", "aluminium alloy", "light alloy"],
    "hard aluminium": ["7075 aluminium", "aluminium alloy 2024-T3", "7075-T6"],
    "magnesium": ["magnesium", "magnesium casting"],
    "zinc": ["zinc", "die-cast zinc alloy"],
    "brass": ["brass", "brass bush"],
    "bronze": ["bronze", "tin bronze"],
    "copper": ["copper"],
    "plastic": ["plastic", "nylon", "ABS", "POM", "glass-filled polyamide"],
}


@pytest.mark.parametrize(("name", "text"), [(name, text) for name, texts in SPELLINGS.items() for text in texts])
def test_spellings(name: str, text: str) -> None:
    assert read_material(text).name == name


def test_every_material_reads_back_and_has_a_band() -> None:
    assert {material.name for material in MATERIALS} == SPELLINGS.keys()
    for material in MATERIALS:
        assert read_material(material.name) == material
        assert 0 < material.low < material.high
        assert 1 <= material.least <= material.usual
        assert material.source


KNOWN = (
    "name one of aluminium, brass, bronze, cast iron, copper, ductile iron, hard aluminium, magnesium, plastic, "
    "stainless steel, steel, zinc"
)
ERRORS = [
    ("rubber", "'rubber' is not a material whose thread strength is known", KNOWN),
    ("", "'' is not a material whose thread strength is known", KNOWN),
    (
        "steel and aluminium",
        "'steel and aluminium' names two materials: aluminium and steel",
        "name the one with the threads",
    ),
    ("x" * 5000, f"'{'x' * 60} …' is not a material whose thread strength is known", KNOWN),
]


@pytest.mark.parametrize(("text", "message", "hint"), ERRORS)
def test_errors(text: str, message: str, hint: str) -> None:
    with pytest.raises(MaterialError) as caught:
        read_material(text)
    assert (str(caught.value), caught.value.hint) == (message, hint)


@given(st.text(max_size=300))
def test_any_text_is_a_material_or_an_error(text: str) -> None:
    with suppress(MaterialError):
        assert read_material(text) in MATERIALS


@pytest.mark.parametrize("text", ["M6", "M10 x 1.25", "1/4-20", "#10-32"])
def test_the_areas_follow_from_the_basic_profile(text: str) -> None:
    # calc: for a 60° thread of basic sizes, 3/4 of the cylinder at the minor diameter and 7/8 of that at the major
    thread = read_thread(text)
    assert thread.minor_diameter is not None
    assert bolt_area(thread, 7) == pytest.approx(0.75 * math.pi * 7 * thread.minor_diameter, rel=1e-5)
    assert hole_area(thread, 7) == pytest.approx(0.875 * math.pi * 7 * thread.diameter, rel=1e-5)


def test_loads() -> None:
    thread = read_thread("M8")
    load = strip_load(thread, read_material("aluminium"), 12)
    assert load is not None
    area = 0.875 * math.pi * 12 * 8  # 263.9 mm²
    assert load == pytest.approx((LOOSE * area * 138, area * 221), rel=1e-5)
    bolt = bolt_strip_load(thread, read_class("8.8"), 8)
    assert bolt is not None
    sheared = 0.75 * math.pi * 8 * (8 - 1.082532 * 1.25)
    assert bolt == pytest.approx((LOOSE * sheared * 800 * 0.58, sheared * 800 * 0.70), rel=1e-5)


def test_pipe_threads_are_not_judged() -> None:
    thread = read_thread("G 1/4")
    assert strip_load(thread, STEEL, 10) is None
    assert bolt_strip_load(thread, read_class("8.8"), 10) is None


@pytest.mark.parametrize("text", ["M5", "M8", "M12", "M20", "1/4-20"])
def test_a_bolt_in_steel_breaks_before_a_hole_of_its_diameter_strips(text: str) -> None:
    # common practice: one diameter in steel holds a bolt of 8.8 until it breaks
    thread = read_thread(text)
    load = strip_load(thread, STEEL, STEEL.usual * thread.diameter)
    assert load is not None
    assert thread.stress_area is not None
    assert load.high > thread.stress_area * read_class("8.8").at(thread.diameter).tensile
