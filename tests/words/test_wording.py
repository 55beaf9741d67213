"""How the sentences read: articles, numbers, what a branch hangs on, where a colon stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.words import as_text, catalogue
from putback.words.english.things import spaced
from tests.sphinxext.projects import write

MACHINE = """\
machine: Test engine
options:
  voltage: [12-v, 24-v]
  belt-width: ["3-8", "1-2"]
parts:
  block: {name: engine block}
  plug-3: {name: spark plug 3}
  leads: {name: spark-plug leads, number: TE-1}
  pawls: {name: pair of pawls}
  harness: {}
  terminal-b: {name: terminal B}
  b: {name: B}
  seal: {replace: always, number: TE-2}
fasteners:
  lock-nuts: {name: lock nut, positions: [inlet, exhaust], thread: M8, torque: 14 N·m, condition: oiled}
  screws: {name: screw, kind: screw, count: 4, number: TE-3}
  cap: {name: cap, by-hand: until it stops}
  lid: {name: header-tank cap, by-hand: a quarter turn to the stop}
  clamp: {drive: hex 7 mm, no-torque: until the hose cannot be turned}
"""


def opened(folder: Path, steps: str, units: str = "") -> Opened:
    write(
        folder,
        {
            "guide.yaml": f"title: Test\n{units}",
            "machine.yaml": MACHINE,
            "jobs/job.yaml": f"job: Test\nsteps:\n{steps}",
        },
    )
    guide = read_guide(folder)
    assert [fault.message for fault in guide.faults] == []
    return open_guide(guide)


def sentence(at: Opened) -> str:
    step = next(at.guide.jobs["job"].steps())
    return as_text(catalogue(at).step(step)).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("{measure: B, limit: 2 mm}", "Measure B: it must be 2 mm (0.08 in)."),
        ("{measure: b, limit: as it was}", "Measure B: as it was."),
        ("remove: plug-3", "Remove spark plug 3."),
        ("inspect: terminal-b", "Inspect terminal B."),
        ("{measure: voltage at terminal B, limit: 12 V}", "Measure the voltage at terminal B: it must be 12 V."),
        (
            "{measure: clearance of cylinder 1, limit: 0.2 mm}",
            "Measure the clearance of cylinder 1: it must be 0.2 mm (0.008 in).",
        ),
        ("{check: dimension B, limit: as drawn}", "Check dimension B: as drawn."),
        ("{check: whether it turns}", "Check whether it turns."),
        ("{install: leads, new: true}", "Install new spark-plug leads (part number TE-1)."),
        ("{install: pawls, new: true}", "Install a new pair of pawls."),
        ("{install: harness, new: true}", "Install a new harness."),
        (
            "{install: [seal, leads], new: true}",
            "Install a new seal (part number TE-2) and new spark-plug leads (part number TE-1).",
        ),
        ("replace: leads", "Replace the spark-plug leads (part number TE-1) with new ones."),
        (
            "{replace: screws, count: 1}",
            "Replace one of the four screws (part number TE-3) with a new one, hand-tight.",
        ),
        ("{install: screws, new: true, count: 1}", "Install a new screw (part number TE-3) hand-tight."),
        ("{install: screws, new: true, count: 2}", "Install two new screws (part number TE-3) hand-tight."),
        ("{align: leads, against: the block}", "Align the spark-plug leads with their marks against the block."),
        ("{mark: leads, against: block}", "Mark the position of the spark-plug leads against the engine block."),
        ("{loosen: lock-nuts, at: inlet}", "Loosen the lock nut (M8) at inlet. Leave it on."),
        ("{tighten: lock-nuts, at: inlet}", "Tighten the lock nut at inlet to 14 N·m (10.3 lbf·ft), thread oiled."),
        (
            "{tighten: lock-nuts, at: [inlet, exhaust]}",
            "Tighten the two lock nuts at inlet and exhaust to 14 N·m (10.3 lbf·ft), threads oiled.",
        ),
        ("tighten: clamp", "Tighten the clamp until the hose cannot be turned."),
        ("install: cap", "Install the cap by hand until it stops."),
        ("install: lid", "Install the header-tank cap by hand: a quarter turn to the stop."),
        ("{run: engine, at: 1500 1/min, for: 5 min}", "Run the engine at 1500 rpm for 5 min."),
        ("{run: engine, at: a fast idle}", "Run the engine at a fast idle."),
        ("{wait: 2 min, until: it is cold}", "Wait 2 min, until it is cold."),
    ],
)
def test_a_sentence(tmp_path: Path, step: str, words: str) -> None:
    assert sentence(opened(tmp_path, f"  - {step}\n")) == words


@pytest.mark.parametrize(
    ("step", "label"),
    [
        ("{inspect: block, for: [a crack, rust]", "If you find any of these:"),
        ("{inspect: block, for: rust", "If you find any:"),
        ("{inspect: block", "If it is not good:"),
        ("{measure: gap, limit: 0.2 mm .. 0.4 mm", "If the value is outside 0.2–0.4 mm (0.0079–0.0157 in):"),
        ("{measure: gap, limit: '<= 0.3 mm'", "If the value is more than 0.3 mm (0.012 in):"),
        ("{measure: gap, limit: '>= 0.3 mm'", "If the value is less than 0.3 mm (0.012 in):"),
        ("{measure: gap, limit: '< 0.3 mm'", "If the value is at least 0.3 mm (0.012 in):"),
        ("{measure: gap, limit: 20 mm ± 2 mm", "If the value is outside 20 ± 2 mm (0.79 ± 0.08 in):"),
        (
            "{measure: gap, limit: 0.010 in (0.25 mm) .. 0.012 in (0.30 mm)",
            "If the value is outside 0.25–0.30 mm (0.010–0.012 in):",
        ),
        (
            "{measure: spring, limit: '98 to 116 N (10 to 11.8 kgf, 22 to 26 lbf) at 46.23 mm (1.820 in)'",
            "If the value is outside 98–116 N (22–26 lbf, 10–11.8 kgf) at 46.23 mm (1.820 in):",
        ),
        (
            "{measure: belt, limit: 10 mm ± 2 mm at 30 N",
            "If the value is outside 10 ± 2 mm (0.394 ± 0.079 in) at 30 N (6.7 lbf):",
        ),
        ("{measure: gap, limit: as on the plate", "If the value is not so:"),
        ("{measure: gap", "If the value is not good:"),
        ("{check: tell-tale, limit: wet", "If not:"),
    ],
)
def test_a_branch_says_what_it_hangs_on(tmp_path: Path, step: str, label: str) -> None:
    at = opened(tmp_path, f"  - {step}, otherwise: [{{stop: Call a workshop.}}]}}\n")
    words = catalogue(at).otherwise(next(at.guide.jobs["job"].steps()))
    assert words.replace("\N{NO-BREAK SPACE}", " ") == label


@pytest.mark.parametrize(("units", "unit"), [("", "mm"), ("units: [us, metric]\n", "in"), ("units: [metric]\n", "mm")])
def test_a_value_is_written_down_in_the_unit_that_is_printed_first(tmp_path: Path, units: str, unit: str) -> None:
    from putback.units import parse_any

    at = opened(tmp_path, "  - {measure: gap, limit: 0.2 mm}\n", units)
    assert catalogue(at).unit_of(parse_any("0.2 mm")) == unit
    assert catalogue(at).unit_of(parse_any("12 V")) == "V"


@pytest.mark.parametrize(
    ("name", "words"),
    [("12-v", "12 v"), ("3-8", "3-8"), ("heat-exchanger", "heat exchanger"), ("2-and-3-4", "2 and 3-4")],
)
def test_a_number_keeps_its_hyphen(name: str, words: str) -> None:
    assert spaced(name) == words


def test_a_list_on_a_page_names_all_of_it(tmp_path: Path) -> None:
    seek = ", ".join(f"a fault {at}" for at in range(60))
    words = sentence(opened(tmp_path, f"  - {{inspect: block, for: [{seek}]}}\n"))
    assert all(f"a fault {at}" in words for at in range(60))
