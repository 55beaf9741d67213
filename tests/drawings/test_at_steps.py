"""Where bolts and orders are drawn in a job, and what is said of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.machine import Fastener
from putback.model.same_joint import in_order
from putback.sheet import sheet_of
from putback.source.intake import Memory
from putback.sphinxext import nodes as own
from putback.sphinxext.drawn import orders, sizes
from putback.sphinxext.drawn.placed import OnPage
from putback.words import catalogue

MACHINE = """\
machine: Bench pump
options: {shaft: [short, long]}
parts:
  pump: {}
  lid: {}
  lid-washer: {shape: washer, size: {outside: 16 mm, inside: 8.4 mm, thickness: 1.6 mm}}
fasteners:
  lid-bolts: {count: 4, kind: bolt, thread: M8 x 1.25, drive: hex 13 mm, length: 45 mm, torque: 22 N·m, class: "8.8",
    secures: lid, to: pump, layout: rectangle 60 mm x 40 mm, front: up, seen-from: above, when: {shaft: short}}
  long-bolts: {count: 4, kind: bolt, thread: M8 x 1.25, drive: hex 13 mm, length: 170 mm, torque: 22 N·m, class: "8.8",
    secures: lid, to: pump, order: crosswise, when: {shaft: long}}
  rear-bolt: {kind: bolt, thread: M10 x 1.5, drive: hex 16 mm, length: 70 mm, stages: [20 N·m, 45 N·m], torque: 45 N·m,
    class: "8.8", secures: lid, to: pump, layout: [[0, -40]], tightened-after: lid-bolts, when: {shaft: short}}
  cable-bolt: {kind: bolt, thread: M8 x 1.25, drive: hex 13 mm, length: 20 mm, torque: 22 N·m, class: "8.8", to: pump}
  plug-bolt: {kind: bolt, thread: M12 x 1.5, drive: hex 17 mm, length: 20 mm, torque: 30 N·m, class: "8.8", to: pump}
  seal-bolt: {kind: bolt, thread: M6, drive: hex 10 mm, length: 20 mm, torque: 9 N·m, class: "8.8", to: pump,
    secures: lid-washer}
"""
JOB = """\
job: Look under the lid
steps:
  - remove: [lid-bolts, rear-bolt, long-bolts, cable-bolt, plug-bolt, seal-bolt]
  - install: [lid-bolts, rear-bolt]
  - install: long-bolts
  - install: cable-bolt
  - install: plug-bolt
  - install: seal-bolt
  - tighten: lid-bolts
  - tighten: rear-bolt
"""


@pytest.fixture(scope="module")
def opened() -> Opened:
    texts = {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": JOB}
    return open_guide(read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()})))


def test_bolts_stand_beside_those_that_they_can_be_taken_for(opened: Opened) -> None:
    """Never with those of other machines, never twice, and not one that is like no other."""
    job = opened.guide.jobs["job"]
    sheet = sheet_of(job, opened)
    assert sheet is not None
    page = OnPage(job, sheet, opened, catalogue(opened))
    told: dict[str, list[str]] = {}
    for section in sheet.sections:
        for line in section.walk():
            for placed in sizes.at_step(page, line):
                assert isinstance(placed.node, own.drawing)
                before = page.shown.setdefault(placed.key, line.number)
                assert placed.see is not None
                words = placed.node["alt"].split(". ")[0] if before == line.number else placed.see(before)
                told.setdefault(line.number, []).append(words)
    assert told == {
        "7": ["Lid bolts and cable bolt at true size"],
        "8": ["Long bolts and cable bolt at true size"],
        "9": ["See the pieces at true size at step 7."],
        "11": ["Seal bolt and lid washer at true size"],
    }


def test_the_words_of_a_joint_say_each_group_with_its_size(opened: Opened) -> None:
    words = catalogue(opened)
    said = words.drawn(in_order(thing_of(words.things["rear-bolt"]), words.things), loosening=False)
    assert said.headline == "Tighten 1 → 5"
    assert said.caption.replace("\N{NO-BREAK SPACE}", " ") == (
        "Tightening order of the four lid bolts and rear bolt. Seen from above. Tighten them in the order of the "
        "numbers, from 1 to 5. 1 to 4: lid bolts (M8 x 1.25, 45 mm), to 22 N·m (16 lbf·ft). 5: rear bolt (M10 x 1.5, "
        "70 mm), to 20 N·m (15 lbf·ft), then to 45 N·m (33 lbf·ft)."
    )
    assert said.description.endswith(
        "Start at the top left; 2 at the middle right; 3 at the top right; 4 at the middle left; 5 at the "
        "bottom. Seen from above. The front of the machine is at the top."
    )
    tags = [[line.replace("\N{NO-BREAK SPACE}", " ") for line in tag] for group in said.tags for tag in group]
    assert tags == [["M8 x 45"]] * 4 + [["M10 x 70"]]
    lid = thing_of(words.things["lid-bolts"])
    alone = words.drawn(in_order(lid, {lid.key: lid}), loosening=True)
    assert "bottom right, opposite; 3" in alone.description
    assert "; the places by their numbers: 1, 3, 2, 4." in alone.description
    assert (alone.headline, alone.turn, alone.place) == ("Loosen 4 → 1", "turn, in tightening", "place")
    assert [tag for group in alone.tags for tag in group] == [("1",), ("2",), ("3",), ("4",)]


def thing_of(thing: object) -> Fastener:
    assert isinstance(thing, Fastener)
    return thing


def test_a_joint_is_drawn_once_on_the_page_of_the_machine(opened: Opened) -> None:
    assert opened.guide.machine is not None
    found = orders.of_machine(opened.guide.machine, catalogue(opened))
    drawn = [node for each in found for node in each.findall(own.drawing)]
    assert [node["alt"].split(". ")[0] for node in drawn] == ["Tightening order of the four lid bolts and rear bolt"]
