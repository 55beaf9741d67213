"""A part that is screwed on is a part and a fastener at once."""

from __future__ import annotations

from dataclasses import fields

import pytest

from putback.model import build_machine as building
from putback.model.build_machine import build_machine
from putback.model.called import goes_in, kinds_of, noun
from putback.model.machine import Fastener, Machine, Part
from putback.model.screwed import PlainPart, ScrewedPart, left_handed
from putback.model.states import GroupState, PartState, opening
from putback.source.load import Mapping, load_text
from putback.source.schema import document

ONLY_FASTENERS = {"at", "layout", "order", "front", "top", "tightened-after", "head", "thread-length"}
"""Of a fastener only: the end of a line that a clamp holds, and what needs many pieces on one face."""


def machine(parts: str) -> tuple[Machine, list[str]]:
    root = load_text(f"machine: M\nparts:\n{parts}", "machine.yaml").root
    assert isinstance(root, Mapping)
    made, faults = build_machine(root, "machine.yaml")
    return made, [fault.message for fault in faults]


MAKES_SCREWED = (
    "thread: M6", "drive: hex 10 mm", "torque: 9 N·m", "stages: [9 N·m]", "past-hand-tight: 2 turns", "by-hand: x",
    "no-torque: x",
)  # fmt: skip


@pytest.mark.parametrize("fact", MAKES_SCREWED)
def test_one_fact_makes_a_part_a_screwed_one(fact: str) -> None:
    made, faults = machine(f"  p: {{{fact}, mass: 2 kg, adjustable: true}}\n  q: {{mass: 2 kg}}\n")
    screwed, plain = made.things["p"], made.things["q"]
    assert faults == []
    assert isinstance(screwed, ScrewedPart)
    assert isinstance(screwed, Part)
    assert isinstance(screwed, Fastener)
    assert isinstance(plain, PlainPart)
    assert screwed.adjustable
    assert screwed.mass == getattr(plain, "mass", None)
    assert (noun(screwed), noun(plain)) == ("part", "part")
    assert (kinds_of(screwed), kinds_of(plain)) == (("part", "fastener"), ("part",))
    assert (goes_in(screwed), goes_in(plain)) == (False, False)
    assert opening(screwed) == GroupState(1)
    assert opening(plain) == PartState()


def test_a_screwed_part_has_all_that_both_have_and_no_more() -> None:
    names = {each.name for each in fields(ScrewedPart)}
    assert names == {each.name for each in (*fields(PlainPart), *fields(Fastener))}
    assert not hasattr(machine("  p: {thread: M6}\n")[0].things["p"], "__dict__")


def test_a_part_may_have_what_a_fastener_has() -> None:
    definitions = document("machine.schema.json")["$defs"]
    of_part, of_fastener = set(definitions["part"]["properties"]), set(definitions["fastener"]["properties"])
    assert of_fastener - of_part == ONLY_FASTENERS


def test_a_fact_of_a_thread_needs_one_that_makes_a_part_a_screwed_one() -> None:
    definitions = document("machine.schema.json")["$defs"]
    others = set(definitions["line"]["properties"]) | {
        "material",
        "mass",
        "rotation",
        "wear",
        "loosen-evenly",
        "own-places",
        "clean-before",
        "uses",
        "seen-from",
    }
    of_thread = (set(definitions["fastener"]["properties"]) | {"kind"}) - ONLY_FASTENERS - (others - {"kind"})
    assert of_thread == set(building._SCREWED) | building._OF_SCREWED
    assert machine("  p: {to: q, class: '8.8'}\n  q: {}\n")[1] == [
        "'to' is for a part that is screwed on, but nothing says how this one is"
    ]


def test_several_alike_are_counted_and_named_as_fasteners_are() -> None:
    made, faults = machine("  spark-plugs: {count: 2, thread: M14 x 1.25, positions: [front, rear]}\n")
    plugs = made.things["spark-plugs"]
    assert faults == []
    assert isinstance(plugs, ScrewedPart)
    assert (plugs.name, plugs.count, plugs.positions) == ("spark plug", 2, ("front", "rear"))
    assert opening(plugs) == GroupState(2, places=("tight", "tight"))


@pytest.mark.parametrize(
    ("thread", "left"),
    [
        ("M12 x 1.25 LH", True),
        ("M12 x 1.25", False),
        ("left-hand", True),
        ("3/8 BSW, left-hand", True),
        ("3/8 BSW", False),
    ],
)
def test_a_left_hand_thread_is_known_though_it_is_not_judged(thread: str, left: bool) -> None:
    made, faults = machine(f'  p: {{thread: "{thread}"}}\n')
    thing = made.things["p"]
    assert faults == []
    assert isinstance(thing, ScrewedPart)
    assert left_handed(thing) is left
