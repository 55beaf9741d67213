"""Whatever a hint says of a torque is safe: over all threads, classes, conditions and materials."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from putback.joints.friction import NOT_STATED, Condition, Film, Finish
from putback.joints.joint import WEAKEST, Joint
from putback.joints.members import MATERIALS, insert_thread
from putback.joints.preload import Wrong, judge
from putback.joints.readings import likely, meant
from putback.joints.strength import (
    JIS,
    NON_FERROUS,
    SAE,
    SET_SCREW,
    STAINLESS,
    STEEL,
    StrengthClass,
    read_class,
    read_nut_class,
)
from putback.joints.thread_sizes import METRIC, UNIFIED, mixed
from putback.joints.threads import Thread, read_thread
from putback.joints.usual import SAFE, SAFE_AS_READ, safe, unusual
from putback.units import Kind, parse, si

THREADS = [
    *(read_thread(f"M{size:g} x {pitch:g}") for size, pitches in METRIC.items() for pitch in pitches),
    *(read_thread(f"{mixed(size)}-{UNIFIED['UNC'][size]} UNC") for size in UNIFIED["UNC"]),
]
CLASSES: list[StrengthClass | None] = [
    None,
    *map(read_class, [*STEEL, "6.9", *JIS, *SET_SCREW, *NON_FERROUS, "nylon"]),
    *(read_class(f"grade {grade}") for grade in SAE),
    *(read_class(f"{steel}-{grade}") for steel, grades in STAINLESS.items() for grade in grades),
    *map(read_nut_class, ("04", "05", "8", "12")),
]
CONDITIONS = [Condition(film, finish) for film in (None, *Film) for finish in (None, *Finish)]


ALL = frozenset({"M3 × 0.5", "M8 × 1.25", "M18 × 2.5", "M36 × 4"})
"""Threads with which each class meets each condition; the others meet the common classes only."""


def joints(thread: Thread) -> Iterator[Joint]:
    """Yield a joint of each class and condition, and some of each material, as a bolt and as a plug."""
    whole = thread.designation in ALL
    for index, strength in enumerate(CLASSES if whole else [None, read_class("8.8"), read_class("A2-70")]):
        for condition in CONDITIONS if whole else CONDITIONS[index::5]:
            yield Joint(thread, strength, condition)
        for material in MATERIALS if whole else MATERIALS[index::3]:
            deep = material.least * thread.diameter
            yield Joint(thread, strength, NOT_STATED, material, deep)
            yield Joint(thread, strength, NOT_STATED, material, deep / 3, insert="wire insert")
    for thin in (True, False):
        yield Joint(thread, seals=True, thin=thin)
    yield Joint(thread, CLASSES[1], bore=thread.diameter / 3)
    yield Joint(thread, CLASSES[1], shank=thread.diameter * 0.7)


def at_least_friction(torque: float, joint: Joint) -> float:
    return torque / (joint.nut_factors.low * joint.thread.diameter / 1000)


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: thread.designation)
def test_a_safe_torque_breaks_nothing_and_is_usual(thread: Thread) -> None:
    for joint in joints(thread):
        least, most = safe(joint)
        assert 0 < least < most
        weakest = joint.proof_load(None if joint.strength else WEAKEST)
        threads = joint.strip_load()
        bears = min(weakest, threads.low) if threads else weakest
        assert at_least_friction(most, joint) <= SAFE * bears * 1.000001
        for torque in (least, (least * most) ** 0.5, most):
            judged = judge((torque, torque), joint)
            assert judged is not None
            assert judged.wrong is None, (joint, torque)
            assert unusual((torque, torque), joint) is None, (joint, torque)


@pytest.mark.parametrize("unit", ["N·m", "lbf·in", "lbf·ft", "kgf·m"])
@pytest.mark.parametrize(
    "thread", [THREADS[5], THREADS[60], THREADS[-9], read_thread("M8")], ids=lambda thread: thread.designation
)
def test_what_is_printed_is_safe_too(thread: Thread, unit: str) -> None:
    for joint in (Joint(thread, strength) for strength in CLASSES):
        found = re.fullmatch(r"([0-9.]+) to ([0-9.]+) (\S+) is likely", likely(joint, unit))
        assert found is not None
        ends = [si(parse(f"{found[place]} {found[3]}", Kind.TORQUE))[0] or 0.0 for place in (1, 2)]
        least, most = safe(joint)
        assert least * 0.999999 <= ends[0] < ends[1] <= most * 1.000001


CLASS = re.compile(r"class (\S+?)(?: and|$)")


@pytest.mark.parametrize("thread", [read_thread(name) for name in ("M8", "M20")], ids=lambda thread: thread.designation)
def test_another_reading_is_safe_for_what_it_supposes(thread: Thread) -> None:
    asked = 0
    for strength in CLASSES:
        for condition in CONDITIONS[::3]:
            joint = Joint(thread, strength, condition)
            for times in (0.1, 3, 10):
                number = safe(joint)[1] * times
                question = meant(
                    parse(f"{number:.3g} N·m" if number < 1000 else f"{number:.0f} N·m", Kind.TORQUE), joint
                )
                if question is None:
                    continue
                asked += 1
                found = re.fullmatch(r"was (.+?)(?:, or (.+?))? meant(?:, for (.+))?\?", question)
                assert found is not None, question
                grade = CLASS.search(found[3] or "")
                supposed = replace(joint, strength=read_class(grade[1])) if grade else joint
                if "dry threads" in (found[3] or ""):
                    supposed = replace(supposed, condition=Condition(Film.DRY))
                for text in filter(None, (found[1], found[2])):
                    size = si(parse(text, Kind.TORQUE))[0] or 0.0
                    assert at_least_friction(size, supposed) <= SAFE_AS_READ * supposed.bears() * 1.000001
                    assert unusual((size, size), supposed) is None
    assert asked > 300


def test_a_slip_of_ten_is_offered_first() -> None:
    joint = Joint(read_thread("M8"), read_class("8.8"), Condition(Film.DRY))
    assert meant(parse("240 N·m", Kind.TORQUE), joint) == "was 24 N·m, 240 lbf·in, or 240 kgf·cm meant?"
    assert meant(parse("2.4 N·m", Kind.TORQUE), joint) == "was 24 N·m, or 2.4 kgf·m meant?"


def test_a_reading_says_what_it_supposes() -> None:
    joint = Joint(read_thread("M8"))
    assert meant(parse("250 N·m", Kind.TORQUE), joint) == (
        "was 25 N·m, 250 lbf·in, or 250 kgf·cm meant, for class 8.8 and dry threads?"
    )


def test_a_bolt_without_a_mark_may_be_soft() -> None:
    assert likely(Joint(read_thread("M8")), "N·m") == "5.1 to 7.1 N·m is likely"


def test_zinc_flake_is_not_dry_zinc() -> None:
    plain, flake = (
        Joint(read_thread("M8"), read_class("8.8"), Condition(Film.DRY, f)) for f in (Finish.ZINC, Finish.ZINC_FLAKE)
    )
    assert safe(flake)[1] < safe(plain)[1] * 0.75


def test_an_insert_is_judged_in_its_parent_metal() -> None:
    thread, plastic = read_thread("M6"), next(each for each in MATERIALS if each.name == "plastic")
    bare = Joint(thread, read_class("8.8"), NOT_STATED, plastic, 6)
    wire = replace(bare, insert="wire insert")
    assert insert_thread(thread, "wire insert").diameter == pytest.approx(7.299, abs=0.001)
    loads = [joint.strip_load() for joint in (bare, wire)]
    assert loads[0] is not None
    assert loads[1] is not None
    assert 1.1 < loads[1].high / loads[0].high < 1.4


def test_a_spark_plug_in_aluminium_at_122_newton_metres_is_found() -> None:
    aluminium = next(each for each in MATERIALS if each.name == "aluminium")
    judged = judge((122, 122), Joint(read_thread("M14 x 1.25"), material=aluminium, seals=True, thin=True))
    assert judged is not None
    assert judged.wrong is Wrong.HIGH


def test_set_screws_bear_their_proof_torque_and_no_more() -> None:
    # ISO 898-5, proof torques of 45H, N·m, read in two copies
    for name, proof in {"M4": 2.5, "M5": 5, "M6": 8.5, "M8": 20, "M10": 40, "M12": 65, "M16": 160, "M20": 310}.items():
        joint = Joint(read_thread(name), read_class("45H"))
        judged = judge((proof * 0.8, proof * 0.8), joint)
        assert judged is not None
        assert judged.wrong is None
        assert judge((proof * 1.5, proof * 1.5), joint).wrong is Wrong.HIGH  # type: ignore[union-attr]


def test_feet_are_offered_for_inches_before_other_units() -> None:
    joint = Joint(read_thread("3/8-16"), read_class("grade 5"), Condition(Film.DRY))
    hint = meant(parse("31 lbf·in", Kind.TORQUE), joint)
    assert hint == "was 310 lbf·in, 31 lbf·ft, or 31 N·m meant?"
