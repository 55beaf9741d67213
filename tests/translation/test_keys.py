"""Tests of names that are printed as words."""

from __future__ import annotations

from pathlib import Path

from putback.guide.reading import read_guide
from putback.source.intake import Memory
from putback.translation.keys import OWN_KINDS, keys_of
from putback.words.plain.kinds import KINDS

MACHINE = """\
machine: Trial
options: {deck-size: [narrow, extra-wide]}
controls:
  tap: {positions: [open, on the plug, 1500 rpm], normal: open}
parts:
  lid: {material: cast aluminium, seen-from: the belt end}
  drum: {}
fasteners:
  pins: {kind: dog, count: 2, positions: [front-left, right], drive: eye of the lid}
  bolts: {kind: bolt, count: 2, drive: hex 10 mm}
"""
JOB = """\
job: Look
steps:
  - inspect: [lid, "the slots, all of them"]
    note: Look for cracks.
  - turn: drum
    way: clockwise
    by: 1 turn
"""


def test_what_is_printed_as_words_is_listed_and_nothing_else() -> None:
    files = {"guide.yaml": "title: Trial\n", "machine.yaml": MACHINE, "jobs/look.yaml": JOB}
    root = Path("/guide")
    guide = read_guide(root, store=Memory({root / name: text for name, text in files.items()}))
    assert guide.faults == ()
    assert {each.key for each in keys_of(guide)} == {
        "deck-size", "narrow", "extra-wide", "open", "on the plug", "cast aluminium", "the belt end", "dog",
        "front-left", "right", "eye of the lid", "the slots, all of them",
    }  # fmt: skip
    assert all(each.note and each.span.path.startswith("/guide/") for each in keys_of(guide))


def test_the_kinds_that_are_left_out_are_those_that_pages_have_words_for() -> None:
    assert KINDS.keys() == OWN_KINDS
