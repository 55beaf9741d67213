"""Which machine is in front of the reader: where steps hang on it, how to tell, and what else its answer changes."""

from __future__ import annotations

import re

import pytest
from docutils import nodes

from putback.sheet import sheet_of
from putback.sphinxext.bench.tables import torque_table
from putback.sphinxext.bench.tray import tray
from putback.sphinxext.countback import new_parts
from putback.sphinxext.matter.indexpage import index
from putback.sphinxext.optionstable import options, telling_apart
from putback.words import catalogue
from tests.conftest import Putback, Write
from tests.sphinxext.test_job_sheet import shipped


def rows(table: nodes.table | None) -> list[list[str]]:
    assert table is not None
    return [[cell.astext() for cell in row.findall(nodes.entry)] for row in table.findall(nodes.row)]


def test_the_book_tells_every_choice_and_a_job_only_those_that_its_steps_hang_on() -> None:
    opened = shipped("tarrick-d2")
    machine, words = opened.guide.machine, catalogue(opened)
    assert machine is not None
    told = rows(options(machine, words))[1:]
    assert [row[:2] for row in told[:3]] == [
        ["Cooling", "raw water"],
        ["Cooling", "heat exchanger"],
        ["Pump drive", "belt"],
    ]
    assert len(told) == sum(map(len, machine.options.values()))
    assert rows(telling_apart(machine, words, {"stop"})) == [
        ["Steps that say", "How to tell", "Yours"],
        ["Only with cable stop", "A pull handle stops the engine. It runs on with the key off.", "☐"],
        ["Only with solenoid stop", "The key stops the engine.", "☐"],
    ]
    assert telling_apart(machine, words, set()) is None


def test_new_parts_of_other_machines_are_not_more_of_them_and_the_tray_names_every_step() -> None:
    opened = shipped("tarrick-d2")
    words, sheet = catalogue(opened), sheet_of(opened.guide.jobs["thermostat"], opened)
    assert sheet is not None
    bought = [row[0] for row in rows(new_parts(sheet.set_up.parts, words)) if row[0].startswith("Thermostat (")]
    assert len(bought) == 2
    assert not any("more" in row for row in bought)
    [laid] = tray(sheet, opened, words, "tray")
    asked = {step for row in sheet.each_piece if row.new and not row.out for step in row.only_if}
    [said] = re.findall(r"a new one if step (.*) asks for it", laid.astext())
    assert set(re.findall(r"\d+", said)) == asked
    assert len(asked) == 4


def test_the_table_of_torques_has_every_stage() -> None:
    opened = shipped("ambry-g5")
    sheet = sheet_of(opened.guide.jobs["head-gasket"], opened)
    assert sheet is not None
    [row] = [row for row in rows(torque_table(sheet, catalogue(opened), [])) if row[1].startswith("Head bolts")]
    assert re.findall(r"(\d+)\sN·m", row[2]) == ["22", "32", "40"]


def test_the_index_leads_to_each_sign() -> None:
    opened = shipped("hollin-20")
    said = "\n".join(node.astext() for node in index(opened, catalogue(opened), 2))
    assert "Little or no water comes from the tell-tale" in said
    assert all(symptom.sign.removesuffix(".") in said for symptom in opened.guide.symptoms.values())


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ("{hood: {tall: It is tall.}}", "hood"),
        ("{cover: {tall: It is tall.}}", "tall"),
        ("{cover: {}}", "cover"),
        ("{cover: tall}", "cover"),
    ],
)
def test_what_no_machine_has_cannot_be_told(write_guide: Write, putback: Putback, told: str, said: str) -> None:
    write_guide({"pump/machine.yaml": f"machine: M\noptions: {{cover: [low, high]}}\nhow-to-tell: {told}\n"})
    answer = putback("lint", "pump")
    assert answer.code == 1
    assert f"'{said}'" in answer.out
    assert re.search(r"error [a-z-]+ at pump/machine\.yaml:3:\d+", answer.out), answer.out
