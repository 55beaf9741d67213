"""What is on and what is in, what a guide says of several things at once, and what is said where a job ends."""

from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.model.machine import Fastener
from putback.sheet import sheet_of
from putback.words.english import English
from putback.words.english.clauses import of_it, stopped
from putback.words.pieces import as_text

GUIDE = """
title: T
edition: draft 1
date: 2026-01-02
authors: [A]
licence: CC0-1.0
language: en-GB
"""
MACHINE = """
machine: A pump
options: {port: [small, wide]}
parts:
  case: {name: case, clean-before: [thin-gasket, thick-gasket]}
  cover: {name: cover}
  shaft: {name: crankshaft, rotation: clockwise, wear: {measure: run-out of the shaft, limit: "<= 0.2 mm"}}
  thin-gasket: {name: gasket, when: {port: small}}
  thick-gasket: {name: gasket, when: {port: wide}, instead-of: thin-gasket}
  wheel: {name: impeller, thread: M14 x 1.5, to: shaft, by-hand: until it stops}
  rose: {name: strainer, thread: M10 x 1.0, to: case, by-hand: until it stops}
  igniter: {name: spark plug, thread: M14 x 1.25, to: case, by-hand: until it stops}
fasteners:
  ties: {name: clamp of the hose, kind: clamp, count: {port: {small: 1, wide: 2}}, no-torque: until tight}
  stud-nuts: {name: cover nut, kind: nut, count: 2, thread: M8 x 1.25, to: case, torque: 18 N·m}
  vent: {name: bleed screw, kind: screw, thread: M8 x 1.25, to: case, torque: 5 N·m}
  lid: {name: filler cap, kind: cap, to: case, by-hand: until it stops}
fluids:
  oil: {name: oil, volume: 1 l, drains: [vent], fills: [lid]}
stacks: [[cover, thin-gasket], [cover, thick-gasket]]
"""
JOB = """
job: A job
steps:
  - loosen: ties
  - loosen: [ties, vent]
  - remove: [thick-gasket, thin-gasket]
  - check: level of the oil
    limit: at the mark
    otherwise: [{act: Top it up., on: oil}, {act: Shake it., on: cover}]
"""


def spoken(folder: Path) -> tuple[English, list[tuple[str, str]]]:
    """Return the language, and each step of the job, after the variants that do it."""
    for name, text in (("guide", GUIDE), ("machine", MACHINE), ("jobs/a", JOB)):
        path = folder / f"{name}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(textwrap.dedent(text), encoding="utf-8")
    opened = open_guide(read_guide(folder))
    assert opened.guide.faults == ()
    words, sheet = English(opened), sheet_of(opened.guide.jobs["a"], opened)
    assert sheet is not None
    return words, [(words.only(line.when) or "", as_text(words.step(line.step))) for line in sheet.walk()]


def test_a_nut_is_on_and_a_screw_in(tmp_path: Path) -> None:
    words, _ = spoken(tmp_path)
    things = words.things
    found = {
        key: words.joint(thing, [], "case")
        for key, thing in things.items()
        if isinstance(thing, Fastener) and "@" not in key
    }
    assert found == {
        "wheel": "on case",
        "rose": "on case",  # a part that is not known to go in
        "igniter": "in case",
        "ties": "on case",
        "stud-nuts": "on case",
        "vent": "in case",
        "lid": "on case",
    }


def test_steps_name_a_thing_once_and_variants_in_one_order(tmp_path: Path) -> None:
    _, lines = spoken(tmp_path)
    assert lines[0][1].endswith("Leave it on.")
    assert lines[1][1].endswith("Leave them on.")
    assert [said for _, said in lines[-2:]] == ["Top it up.", "Shake it (cover)."]
    # The machine file has the thin one first, whatever the order of the step.
    gaskets = [line for line in lines if "gasket" in line[1]]
    assert gaskets == [(f"only with a {port} port", "Remove the gasket.") for port in ("small", "wide")]


def test_two_variants_with_one_name_are_told_apart(tmp_path: Path) -> None:
    words, _ = spoken(tmp_path)
    remarks = {key: list(words.remarks(thing)) for key, thing in words.things.items()}
    assert remarks["case"] == ["Clean it before the gasket goes on."]
    assert remarks["thick-gasket"] == ["It takes the place of the one with a small port."]
    assert remarks["shaft"][0] == "Turn it clockwise only: the other way may damage it, or what it turns."


@pytest.mark.parametrize(
    ("measured", "name", "expected"),
    [
        ("run-out of the shaft", "crankshaft", "run-out"),
        ("height of the lobe", "cam", "height of the lobe"),
        ("run-out", "shaft", "run-out"),
        ("width of belt", "drive belt", "width"),
    ],
)
def test_what_is_measured_does_not_name_its_part_again(measured: str, name: str, expected: str) -> None:
    assert of_it(measured, name) == expected


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Call a workshop.", "Stop here. Call a workshop."),
        ("Switch the engine off, and call a workshop.", "Go no further: switch the engine off, and call a workshop."),
        ("Shut the fuel tap. Find the leak.", "Go no further: shut the fuel tap. Find the leak."),
        ("Turn the shaft back.", "Stop here. Turn the shaft back."),
        ("Stop using it.", "Stop here. Stop using it."),
    ],
)
def test_who_goes_no_further_switches_off_first(words: str, expected: str) -> None:
    assert stopped(words) == expected
