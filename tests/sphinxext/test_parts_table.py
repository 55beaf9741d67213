"""The table of parts says how many a job takes, where that is more than there are on the machine."""

from __future__ import annotations

from pathlib import Path

from docutils import nodes

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sphinxext.machinepage import parts_to_buy
from putback.words import catalogue

MACHINE = """machine: Pump
parts:
  body: {name: body}
  lid: {name: lid}
fasteners:
  lid-bolts: {name: lid bolt, kind: bolt, count: 2, secures: lid, to: body, by-hand: until it stops, replace: always}
  plug: {name: plug, count: 1, to: body, by-hand: until it stops, replace: always}
"""
ONCE = "  - install: lid-bolts\n    new: true\n  - tighten: lid-bolts\n"
JOB = f"job: Measure\nsteps:\n  - remove: lid-bolts\n{ONCE}  - remove: lid-bolts\n{ONCE}"


def test_the_most_that_a_job_takes_is_said(tmp_path: Path) -> None:
    for name, text in {"guide.yaml": "title: Pump\n", "machine.yaml": MACHINE, "jobs/measure.yaml": JOB}.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    opened = open_guide(read_guide(tmp_path))
    assert opened.guide.machine
    table = parts_to_buy(opened.guide.machine, catalogue(opened), opened)
    assert table
    rows = [[cell.astext() for cell in row.findall(nodes.entry)] for row in table.findall(nodes.row)]
    assert [row[3] for row in rows[1:]] == ["2; one job takes 4", "1"]
