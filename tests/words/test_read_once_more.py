"""How a manual of a chipper with two knives reads: places, new screws, one pair of gloves, words of either side."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.sheet import sheet_of
from putback.sheet.lines import SheetStep
from putback.sheet.protection import as_one
from putback.source.grammar import plural
from putback.words import as_text, catalogue
from putback.words.english.built import built
from tests.sphinxext.projects import write

MACHINE = """\
machine: Test chipper
places: {knife: 2}
parts:
  disc: {name: flywheel disc}
  fuel-pump: {name: fuel lift pump}
  water-pump: {name: water pump}
  motor: {name: electric motor}
  motor-pulley: {name: motor pulley}
  chipper-knife: {name: chipper knife, each: knife, number: TC-1, wear: {measure: nick, limit: <= 1/16 in}}
fasteners:
  screws: {name: knife screw, each: knife, count: 4, replace: always, secures: chipper-knife, compound: locker}
  bolts: {name: hopper bolt, count: 2, compound: locker}
renew-together: [[chipper-knife]]
"""
JOB = """\
job: Turn the knives
sections:
  - title: Knives
    steps:
      - remove: screws
      - remove: chipper-knife
      - measure: chipper-knife
        otherwise:
          - replace: chipper-knife
      - remove: bolts
      - apply: locker
        to: bolts
      - install: bolts
      - apply: locker
        to: screws
      - install: chipper-knife
      - install: screws
        new: true
      - act: Slide the motor toward the disc.
        on: motor-pulley
      - act: Look at the disc from both sides.
        on: disc
      - act: Prime the pump with the lever.
        on: fuel-pump
      - act: Knock the old one out with a drift.
        on: motor-pulley
"""


def _opened(folder: Path, language: str) -> Opened:
    files = {
        "guide.yaml": f"title: Test guide\nunits: [us, metric]\nlanguage: {language}\n",
        "machine.yaml": MACHINE,
        "consumables.yaml": "locker: {name: thread-locker, threads: thread-locker}\n",
        "jobs/knives.yaml": JOB,
    }
    write(folder, files)
    return open_guide(read_guide(folder))


def _lines(opened: Opened) -> list[SheetStep]:
    sheet = sheet_of(opened.guide.jobs["knives"], opened)
    assert sheet is not None
    return [line for section in sheet.sections for step in section.steps for line in step.walk()]


def test_a_sheet_says_what_goes_in_new_and_how_many(tmp_path: Path) -> None:
    opened = _opened(tmp_path, "en-US")
    words = catalogue(opened)
    said = [as_text(words.step(line.step, line.stays_in)) for line in _lines(opened)]
    for sentence in (
        "Apply thread-locker to the two hopper bolts.",
        "Apply thread-locker to the four new knife screws.",
        "Lay out two new chipper knives (part number TC-1) to go back, and discard the old ones.",
        "Slide the motor toward the disc (motor pulley).",
        "Look at the disc from both sides.",
        "Prime the pump with the lever (fuel lift pump).",
        "Knock the old one out with a drift (motor pulley).",
    ):
        assert sentence in said
    measure = next(line.step for line in _lines(opened) if line.otherwise)
    assert [words.otherwise(measure, places).replace("\N{NO-BREAK SPACE}", " ") for places in (1, 2, 3)] == [
        f"If {value} is more than 1/16 in (1.6 mm):" for value in ("the value", "either value", "any value")
    ]


@pytest.mark.parametrize(
    ("language", "said", "renew"), [("en-GB", "condemned", "Renew"), ("en-US", "rejected", "Replace")]
)
def test_what_is_ours_is_said_as_the_side_says_it(tmp_path: Path, language: str, said: str, renew: str) -> None:
    opened = _opened(tmp_path, language)
    words = catalogue(opened)
    install = next(line for line in _lines(opened) if line.new_if)
    assert words.new_if(install.step, install.new_if) == f"Fit a new one if step 3 {said} it."
    assert f"{renew} them all together." in list(words.remarks(opened.guide.machine.things["chipper-knife"]))  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("items", "worn"),
    [
        (("leather gloves", "cut-resistant gloves"), ("cut-resistant leather gloves",)),
        (
            ("cut-resistant gloves", "eye protection", "leather gloves"),
            ("cut-resistant leather gloves", "eye protection"),
        ),
        (("gloves", "oil-resistant gloves"), ("oil-resistant gloves",)),
        (("cut-resistant gloves", "oil-resistant gloves"), ("cut-resistant gloves", "oil-resistant gloves")),
        (("eye protection", "ear protection"), ("eye protection", "ear protection")),
    ],
)
def test_nobody_wears_two_pairs_of_gloves(items: tuple[str, ...], worn: tuple[str, ...]) -> None:
    assert as_one(items) == worn


@pytest.mark.parametrize(
    ("one", "several"),
    [
        ("Knife", "Knives"), ("chipper knife", "chipper knives"), ("Half", "Halves"), ("leaf", "leaves"),
        ("relief valve", "relief valves"), ("axis of a lever", "axes of a lever"), ("chassis", "chassis"),
    ],
)  # fmt: skip
def test_plurals(one: str, several: str) -> None:
    assert plural(one) == several


@pytest.mark.parametrize(
    ("option", "choices", "said"),
    [
        ("motor", ["gas"], "with a gas motor"),
        ("motor", ["electric", "gas"], "with an electric or gas motor"),
        ("main shaft", ["keyed"], "with a keyed main shaft"),
        ("motor", ["2B"], "with motor: 2B"),
        ("colour", ["red"], "with colour: red"),
    ],
)
def test_an_option_that_is_a_piece_of_the_machine(option: str, choices: list[str], said: str) -> None:
    assert built(option, choices) == said


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("[us, metric]", "key, 3.0–18.4 lbf·ft (4–25 N·m), in steps of 0.37 lbf·ft (0.5 N·m)"),
        ("[metric]", "key, 4–25 N·m, in steps of 0.5 N·m"),
    ],
)
def test_the_step_of_a_scale_is_in_the_units_of_its_range(tmp_path: Path, units: str, said: str) -> None:
    write(
        tmp_path,
        {
            "guide.yaml": f"title: Test guide\nunits: {units}\n",
            "machine.yaml": "machine: Test pump\nparts: {lid: {}}\n",
            "tools.yaml": "key: {name: key, range: 4 N·m .. 25 N·m, step: 0.5 N·m}\n"
            "gauges: {name: feeler gauges, reads: 1 mm}\n",
        },
    )
    opened = open_guide(read_guide(tmp_path))
    words, tools = catalogue(opened), opened.guide.library.tools
    assert words.tool(tools["key"]).replace("\N{NO-BREAK SPACE}", " ") == said
    assert words.tool(tools["gauges"]).startswith("feeler gauges, read to ")
