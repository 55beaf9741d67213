"""A machine that has one thing of each kind, to ask what is said of its states."""

from __future__ import annotations

from pathlib import Path

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from tests.sphinxext.projects import write

MACHINE = """\
machine: Trial pump
parts: {pump: {}, tank: {}, lid: {}}
fasteners:
  lid-screws: {name: lid screw, kind: screw, count: 4, thread: M5 x 0.8, torque: 4 N·m, class: 8.8, secures: lid}
  hubs: {name: hub nut, kind: nut, count: 2, positions: [left, right], thread: M8 x 1.25, torque: 20 N·m, class: 8}
lines: {hose: {kind: hose, joins: [pump, tank]}}
fluids: {oil: {grade: ISO VG 46, volume: 1 L}}
controls: {fuel-cock: {positions: [open, shut], normal: open}}
settings: {play: {limit: 1 mm .. 2 mm, adjusted-by: [lid-screws]}}
"""


def trial_pump(folder: Path) -> Opened:
    """Write the machine into a folder, and read it."""
    write(folder, {"guide.yaml": "title: Trial\n", "machine.yaml": MACHINE})
    guide = read_guide(folder)
    assert guide.machine is not None
    return open_guide(guide)
