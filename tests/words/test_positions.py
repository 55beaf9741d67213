# ruff: noqa: E501 - a sentence stands whole on one line
"""What brings a control to a position reads as a sentence, in a step, in its reverse, and before the work."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.sheet import sheet_of
from putback.words import as_text, catalogue
from tests.sphinxext.projects import write

MACHINE = """\
machine: Test set
options:
  start: [recoil, electric]
controls:
  lanyard: {positions: {clipped: clip the lanyard in, pulled: Pull the lanyard out.}, normal: clipped}
  plug-cap: {name: spark-plug cap, positions: [on the plug, parked], normal: on the plug}
  tap: {name: fuel tap, positions: [open, closed], normal: open}
  switch: {name: battery switch, positions: {on: switch the battery on, off: switch the battery off}, normal: on, when: {start: electric}}
  breaker: {positions: [on, off], normal: on}
  gear: {name: gear selector, positions: [neutral, "1", in-reverse, half-open], normal: neutral}
  engine: {positions: [stopped, running], normal: stopped}
  brake: {name: drum brake, positions: [applied, released], normal: released}
  lamp: {name: lamp switch, positions: [on, off], normal: off}
  valves: {name: heater valves, positions: [open, shut], normal: open}
parts:
  lid: {}
"""


def opened(folder: Path, steps: str, block: str = "") -> Opened:
    write(
        folder, {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": f"job: Test\nsteps:\n{steps}"}
    )
    if block:
        write(folder, {"blocks/safe.yaml": block})
    guide = read_guide(folder)
    assert [fault.message for fault in guide.faults] == []
    return open_guide(guide)


def sentences(at: Opened) -> list[str]:
    words = catalogue(at)
    sheet = sheet_of(at.guide.jobs["job"], at)
    assert sheet is not None
    return [as_text(words.step(line.step)) for line in sheet.walk()]


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("{set: lanyard, to: pulled}", "Pull the lanyard out."),
        ("{set: lanyard, to: clipped}", "Clip the lanyard in."),
        ("{set: plug-cap, to: on the plug}", "Put the spark-plug cap on the plug."),
        ("{set: plug-cap, to: parked}", "Set the spark-plug cap to parked."),
        ("{set: tap, to: closed}", "Close the fuel tap."),
        ("{set: engine, to: stopped}", "Stop the engine."),
        ("{set: brake, to: applied}", "Apply the drum brake."),
        ("{set: lamp, to: on}", "Turn the lamp switch on."),
        ("{set: valves, to: shut}", "Close the heater valves."),
        ("{set: valves, to: open}", "Open the heater valves."),
        ("{set: breaker, to: off}", "Switch the breaker off."),
        ("{set: gear, to: in-reverse}", "Put the gear selector in reverse."),
        ("{set: gear, to: half-open}", "Set the gear selector to half open."),
        ('{set: gear, to: "1"}', "Set the gear selector to 1."),
    ],
)
def test_a_position_reads_as_a_sentence(tmp_path: Path, step: str, sentence: str) -> None:
    assert sentences(opened(tmp_path, f"  - {step}\n")) == [sentence]


def test_reverse_prints_the_words_of_the_position_it_goes_back_to(tmp_path: Path) -> None:
    block = "block: Make safe\nends-with: [lanyard, tap, switch]\nsteps:\n  - {set: lanyard, to: pulled}\n  - {set: tap, to: closed}\n  - {set: switch, to: off}\n"
    assert sentences(opened(tmp_path, "  - do: safe\n  - reverse: safe\n", block)) == [
        "Pull the lanyard out.",
        "Close the fuel tap.",
        "Switch the battery off.",
        "Switch the battery on.",
        "Open the fuel tap.",
        "Clip the lanyard in.",
    ]


def test_set_first_says_it_too_and_for_which_variants(tmp_path: Path) -> None:
    at = opened(
        tmp_path,
        "  - {set: lanyard, to: pulled}\n  - {set: switch, to: off}\n  - {set: tap, to: closed, when: {start: recoil}}\n"
        "  - remove: lid\n  - {set: breaker, to: off}\n",
    )
    sheet = sheet_of(at.guide.jobs["job"], at)
    assert sheet is not None
    assert [as_text(catalogue(at).set_first(*row.what, row.when)) for row in sheet.set_up.positions] == [
        "Pull the lanyard out.",
        "Only with electric start. Switch the battery off.",
        "Only with recoil start. Close the fuel tap.",
    ]


def test_the_name_of_the_control_in_the_author_s_words_leads_to_it(tmp_path: Path) -> None:
    at = opened(tmp_path, "  - {set: lanyard, to: pulled}\n")
    (step,) = at.guide.jobs["job"].steps()
    assert [(piece.text, piece.key) for piece in catalogue(at).step(step)] == [
        ("Pull the ", None),
        ("lanyard", "lanyard"),
        (" out.", None),
    ]


def faults(folder: Path, positions: str) -> list[tuple[str, str]]:
    write(
        folder,
        {
            "guide.yaml": "title: T\n",
            "machine.yaml": f"machine: T\ncontrols:\n  tap: {{positions: {positions}, normal: open}}\n",
        },
    )
    guide: Guide = read_guide(folder)
    return [(fault.check, fault.message) for fault in guide.faults]


@pytest.mark.parametrize(
    ("positions", "message"),
    [
        ("open", "'positions' must be a list of positions, or a mapping from positions to what is done, not 'open'"),
        ("{}", "'positions' is empty"),
        ("{open: }", "'open' has no value"),
        ("{open: [a]}", "'open' must be text, not a list"),
        ("{open: turn it, open: 2}", "the key 'open' is here a second time; the first is on line 3"),
        ("{closed: shut it}", None),
    ],
)
def test_positions_of_another_shape_are_refused(tmp_path: Path, positions: str, message: str | None) -> None:
    found = [message for _, message in faults(tmp_path, positions)]
    assert found == ([message] if message else [])
