"""Which texts of a guide may state a torque: each with its place, whatever field it stands in."""

from __future__ import annotations

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.lint.run import check_guide
from putback.prose.settled import Settled
from putback.prose.wordings import Wording, wordings
from tests.conftest import Write

MACHINE = """\
machine: Pump
note: All bolts have 9 N·m.
parts:
  lid: {note: The 4 N·m bolt is elsewhere.}
fasteners:
  lid-bolts: {name: lid bolt, plural: lid bolts, count: 4, torque: 9 N·m, secures: lid, note: "Not 5 N·m.",
              stages: [snug, 4 N·m, 9 N·m], kit: for 1 N·m}
"""
JOB = """\
job: Bring it to 20 N·m
purpose: More than 21 N·m.
skill: Who can hold 22 N·m.
waive: {no-final-test: the 23 N·m say it}
sections:
  - title: Up to 24 N·m
    steps:
      - tighten: lid-bolts
        torque: 9 N·m
        text: Tighten with 25 N·m.
        note: And
          26 N·m.
        because: It takes 27 N·m.
        figure: {image: a.svg, alt: Shows 28 N·m, caption: With 29 N·m}
      - inspect: bolts with 30 N·m
        for: [cracks at 31 N·m]
        otherwise:
          - stop: Ask about 32 N·m.
      - measure: drag
        limit: "< 33 N·m"
        otherwise:
          - note: |
              Take 34 N·m.
      - place: stand
        at: where 35 N·m hold
"""
CAUTION = """\
hot:
  signal: warning
  hazard: It has 40 N·m.
  consequence: It gives 41 N·m.
  avoid: [Let it cool., "Take 42 N·m."]
  covers: [hot]
"""


def found_in(write_guide: Write, **files: str) -> list[tuple[Wording, str]]:
    """Return the texts that may state a torque, each with what stands at the place of its number."""
    texts = {"machine": MACHINE} | files
    folder = write_guide({f"pump/{name.replace('_', '/')}.yaml": text for name, text in texts.items()})
    guide = read_guide(folder)
    assert guide.faults == ()
    assert guide.machine is not None
    sequences = open_guide(guide).nesting.sequences()
    found = []
    for wording in wordings(guide, guide.machine, sequences, Settled(guide.machine, sequences)):
        start = wording.passage.text.index(" N·m")
        first = max(wording.passage.text.rfind(" ", 0, start), wording.passage.text.rfind("(", 0, start)) + 1
        span = wording.passage.span(first, start)
        found.append((wording, span.cut((folder.parent / span.path).read_text(encoding="utf-8"))))
    return found


def test_texts_of_a_job(write_guide: Write) -> None:
    found = [pair for pair in found_in(write_guide, jobs_look=JOB) if pair[0].passage.path.endswith("look.yaml")]
    assert sorted(cut for _, cut in found) == [*map(str, range(20, 36)), "9"]
    # What is a value, or a reason to accept something, is not compared with the machine file.
    assert sorted(cut for wording, cut in found if not wording.compared) == ["23", "33", "9"]
    assert sorted(cut for wording, cut in found if wording.own) == ["25", "26", "27", "28", "29", "9"]


def test_texts_of_the_machine(write_guide: Write) -> None:
    found = [pair for pair in found_in(write_guide) if pair[0].passage.path.endswith("machine.yaml")]
    assert [cut for _, cut in found] == ["9", "4", "5", "9", "4", "9", "1"]
    assert [cut for wording, cut in found if wording.compared] == ["9", "4", "5"]
    assert [cut for wording, cut in found if wording.own] == ["5", "9", "4", "9", "1"]


def test_texts_of_a_caution(write_guide: Write) -> None:
    found = found_in(write_guide, cautions=CAUTION, hazards="hot: {signal-at-least: warning, tags: [hot]}\n")
    assert [cut for wording, cut in found if wording.passage.path.endswith("cautions.yaml")] == ["40", "41", "42"]


@pytest.mark.parametrize(
    ("machine", "place"),
    [
        ("parts: {lid: {wear: {measure: drag, limit: 9 N·m (20 lbf·ft)}}}", "9 N·m (20 lbf·ft)"),
        ("fasteners: {bolts: {torque: '9 N·m (20 lbf·ft)'}}", "9 N·m (20 lbf·ft)"),
        ("fasteners: {bolts: {torque: 9 N·m, stages: [9 N·m (20 lbf·ft)]}}", "9 N·m (20 lbf·ft)"),
    ],
)
def test_two_units_of_a_value_that_disagree_are_found_where_they_stand(
    machine: str, place: str, write_guide: Write
) -> None:
    folder = write_guide({"pump/machine.yaml": f"machine: Pump\n{machine}\n", "pump/jobs/look.yaml": None})
    (found,) = (finding for finding in check_guide(folder)[1] if finding.check == "units-disagree")
    assert found.span.cut((folder / "machine.yaml").read_text(encoding="utf-8")) == place
