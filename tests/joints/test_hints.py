"""A hint of the checks on torques, obeyed, removes its finding and brings no new one."""

from __future__ import annotations

import re

import pytest

from putback.source.finding import Finding
from putback.testing import run_example
from putback.testing.examples import parse_example

BOLTS = [
    ('M8 x 1.25, class: "8.8"', "250 N·m"),
    ('M8 x 1.25, class: "8.8", condition: dry', "2.4 N·m"),
    ('M6 x 1.0, class: "8.8", condition: greased', "45 N·m"),
    ('M10 x 1.5, class: "10.9", condition: "zinc flake"', "12 N·m"),
    ("M8, class: A4-70, condition: anti-seize", "140 N·m"),
    ("M8", "250 N·m"),
    ("M22 x 1.5", "15 N·m"),
    ('M5, class: "4.8"', "9 lbf·ft"),
    ("3/8-16 UNC, class: grade 5", "300 lbf·ft"),
    ("1/4-20 UNC, class: grade 2, condition: MoS2", "2 lbf·in"),
    ("M6, class: brass", "9 kgf·m"),
    ('M12 x 1.25, class: "8.8", bore: 5 mm', "150 N·m"),
    ('M10 x 1.5, class: "10.9", shank: 6 mm', "70 N·m"),
]
LIKELY = re.compile(r"(\S+) to (\S+) ([^;]+) is likely")
READING = re.compile(r"was (\S+ \S+?)(?:,| meant)")


def told(bolt: str, torque: str) -> list[Finding]:
    """Return what is told of a bolt, but for a class that is not stated."""
    machine = f"# machine.yaml\nmachine: Bench pump\nfasteners:\n  bolt: {{thread: {bolt}, torque: {torque}}}\n"
    findings = run_example(parse_example(machine.replace("thread: ", "count: 2, thread: ", 1)))
    return [finding for finding in findings if finding.check != "class-unstated"]


@pytest.mark.parametrize(("bolt", "torque"), BOLTS)
def test_it_is_obeyed(bolt: str, torque: str) -> None:
    (finding,) = told(bolt, torque)
    assert finding.check in ("torque-unlikely", "torque-unusual")
    assert finding.hint is not None
    safe = LIKELY.match(finding.hint)
    assert safe is not None
    for end in (safe[1], safe[2]):
        assert told(bolt, f"{end} {safe[3]}") == []
    reading = READING.search(finding.hint)
    if reading is not None:
        assert told(bolt, reading[1]) == []


def test_a_spanner_of_another_thread_is_spoken_of_first() -> None:
    (finding,) = told('M8 x 1.25, class: "8.8", drive: hex 24 mm', "210 N·m")
    assert finding.hint == "the spanner size is that of M16: check the thread first"
    assert told('M16 x 2, class: "8.8", drive: hex 24 mm', "210 N·m") == []
