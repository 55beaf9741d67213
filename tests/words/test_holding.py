# ruff: noqa: E501 - a sentence stands whole on one line
"""What is held while something else is turned, and with what."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.turned import fitting_tool
from putback.sheet import SecondTool, sheet_of
from putback.words import as_text, catalogue
from tests.sphinxext.projects import write

MACHINE = """\
machine: Test engine
parts:
  block: {}
  cover: {}
  idle-screw: {}
fasteners:
  cover-nuts: {name: cover nut, kind: nut, count: 4, drive: hex 13 mm, torque: 20 N·m, counterhold: cover-bolts}
  cover-bolts: {name: cover bolt, kind: bolt, count: 4, drive: hex 13 mm, secures: cover}
  side-bolt: {name: side bolt, kind: bolt, drive: hex 10 mm, torque: 9 N·m, counterhold: side-nut}
  side-nut: {name: side nut, kind: nut, drive: hex 11 mm}
  lock-nuts:
    {name: lock nut, kind: nut, count: 2, positions: [inlet, exhaust], drive: hex 13 mm, torque: 14 N·m, locks: adjusters}
  adjusters: {name: adjuster, kind: screw, count: 2, positions: [inlet, exhaust], drive: slot 6 mm, no-torque: until it clicks}
  idle-nut: {name: idle nut, kind: nut, drive: hex 8 mm, torque: 4 N·m, locks: idle-screw}
  fan-nut: {name: fan nut, kind: nut, thread: M8 LH, torque: 20 N·m}
  play-nut: {name: play nut, kind: nut, torque: 4 N·m, locks: [idle-screw, play]}
settings:
  play: {limit: 1 mm .. 2 mm, adjusted-by: [adjusters, play-nut]}
"""

SOCKETS = "socket-13: {name: 13 mm socket, drives: hex 13 mm}\nsocket-10: {name: 10 mm socket, drives: hex 10 mm}\n"
SPANNERS = "spanner-13: {name: 13 mm spanner, drives: hex 13 mm}\nblade: {name: screwdriver, drives: slot 6 mm}\n"


def opened(folder: Path, steps: str, tools: str) -> Opened:
    files = {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": f"job: Test\nsteps:\n{steps}"}
    write(folder / "guide", files)
    write(folder / "shared", {"tools.yaml": tools})
    guide = read_guide(folder / "guide")
    assert guide.faults == ()
    return open_guide(guide)


def told(case: Opened) -> list[str]:
    sheet, words = sheet_of(case.guide.jobs["job"], case), catalogue(case)
    assert sheet is not None
    lines = [line for section in sheet.sections for line in section.walk()]
    return [as_text(words.step(line.step, line.stays_in)).replace("\N{NO-BREAK SPACE}", " ") for line in lines]


@pytest.mark.parametrize(
    ("step", "end"),
    [
        ("loosen: cover-nuts", " Hold the cover bolts with the 13 mm spanner, and turn the cover nuts with the 13 mm socket."),
        ("{loosen: cover-nuts, count: 1}", " Hold the cover bolt with the 13 mm spanner, and turn the cover nut with the 13 mm socket."),
        ("loosen: side-bolt", " Hold the side nut (11 mm hex), and turn the side bolt with the 10 mm socket."),
        ("{tighten: lock-nuts, at: inlet}", " Hold the adjuster at inlet with the screwdriver as you do so."),
        ("loosen: lock-nuts", " Hold the adjusters with the screwdriver as you do so."),
        ("loosen: idle-nut", " Hold the idle screw as you do so."),
        ("replace: cover-nuts", " with new ones, hand-tight. Hold the cover bolts with the 13 mm spanner, and turn the cover nuts with the 13 mm socket."),
        ("replace: idle-nut", " with a new one, hand-tight."),
        ("replace: fan-nut", " Left-hand thread: turn the fan nut clockwise to loosen it, anticlockwise to tighten it."),
    ],
)  # fmt: skip
def test_what_is_held(tmp_path: Path, step: str, end: str) -> None:
    (sentence,) = told(opened(tmp_path, f"  - {step}\n", SOCKETS + SPANNERS))
    assert sentence.endswith(end)


def test_what_comes_out_is_not_kept_from_turning(tmp_path: Path) -> None:
    assert told(opened(tmp_path, "  - remove: idle-nut\n", SOCKETS)) == ["Remove the idle nut (8 mm hex)."]


def test_what_is_out_is_not_held(tmp_path: Path) -> None:
    both = told(opened(tmp_path, "  - remove: side-nut\n  - {remove: side-bolt, text: Pull it out.}\n", SOCKETS))
    assert both[1] == "Pull it out. 10 mm hex."


def test_an_own_text_that_says_it_is_not_told_twice(tmp_path: Path) -> None:
    steps = "  - {loosen: idle-nut, text: "
    (own,) = told(opened(tmp_path / "a", f"{steps}Hold the screw and loosen the nut (hex 8 mm).}}\n", SOCKETS))
    assert own == "Hold the screw and loosen the nut (hex 8 mm)."
    (bare,) = told(opened(tmp_path / "b", f"{steps}Loosen the nut.}}\n", SOCKETS))
    assert bare == "Loosen the nut. 8 mm hex, hold the idle screw as you do so."


@pytest.mark.parametrize(
    ("tools", "laid_out"),
    [
        (SOCKETS, ["13 mm socket", "13 mm socket"]),
        (SOCKETS + SPANNERS, ["13 mm spanner", "13 mm socket"]),
        ("", ["hex 13 mm", "hex 13 mm"]),
    ],
)
def test_both_tools_are_laid_out(tmp_path: Path, tools: str, laid_out: list[str]) -> None:
    case = opened(tmp_path, "  - loosen: cover-nuts\n  - tighten: cover-nuts\n", tools or "{}")
    sheet = sheet_of(case.guide.jobs["job"], case)
    assert sheet is not None
    assert [row.what for row in sheet.set_up.tools] == laid_out
    second = [row.what for row in sheet.set_up.tools if isinstance(row.what, SecondTool)]
    assert second == ([] if SPANNERS in tools else laid_out[1:])


SLOTS = "blade: {name: 6 mm screwdriver, drives: slot 6 mm}\nbit: {name: 6 mm slotted bit, drives: slot 6 mm}\n"


def test_a_screwdriver_holds_and_a_bit_is_for_the_torque_wrench(tmp_path: Path) -> None:
    case = opened(tmp_path, "  - loosen: lock-nuts\n  - {adjust: play}\n", SLOTS + SOCKETS)
    sheet = sheet_of(case.guide.jobs["job"], case)
    assert sheet is not None
    assert [row.what for row in sheet.set_up.tools] == ["6 mm screwdriver", "13 mm socket"]
    library = case.guide.library
    assert fitting_tool("slot 6 mm", library, torqued=True) is library.tools["bit"]
    assert fitting_tool("slot 6 mm", library, torqued=False) is library.tools["blade"]


def test_what_a_setting_is_adjusted_by_wants_its_tool(tmp_path: Path) -> None:
    case = opened(tmp_path, "  - adjust: play\n", SLOTS)
    sheet = sheet_of(case.guide.jobs["job"], case)
    assert sheet is not None
    assert [row.what for row in sheet.set_up.tools] == ["6 mm screwdriver"]


def test_no_socket_holds_what_sits_inside_a_lock_nut(tmp_path: Path) -> None:
    tools = "bit: {name: 6 mm slotted bit, drives: slot 6 mm}\n"
    case = opened(tmp_path, "  - loosen: lock-nuts\n", tools)
    sheet = sheet_of(case.guide.jobs["job"], case)
    assert sheet is not None
    assert [row.what for row in sheet.set_up.tools] == ["slot 6 mm", "hex 13 mm"]
    assert told(case)[0].endswith(" Hold the adjusters (6 mm slot) as you do so.")


@pytest.mark.parametrize(
    ("drive", "name"),
    [
        ("hex 21 mm", "socket or spanner for 21 mm hex"),
        ("hex key 6 mm", "key or bit for 6 mm hex key"),
        ("hex 6 mm", "tool for 6 mm hex"),
        ("slot 6 mm", "screwdriver or bit for 6 mm slot"),
        ("pin 4 mm", "tool for pin 4 mm"),
    ],
)
def test_a_tool_that_the_library_has_none_of(tmp_path: Path, drive: str, name: str) -> None:
    assert catalogue(opened(tmp_path, "  - note: x\n", "{}")).tool_for(drive).replace("\N{NO-BREAK SPACE}", " ") == name


def test_a_lock_nut_holds_no_setting(tmp_path: Path) -> None:
    case = opened(tmp_path, "  - note: x\n", "{}")
    assert case.guide.machine is not None
    remarks = " ".join(catalogue(case).remarks(case.guide.machine.things["play-nut"]))
    assert remarks == "It locks the idle screw, which is held while the play nut is turned. It locks the play."
