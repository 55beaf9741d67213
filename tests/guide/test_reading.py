"""Reading a guide's folder: what is taken from where, and which library it uses."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.library import FILES, folder_for
from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.lint.run import findings_of
from putback.source.intake import Memory
from putback.source.schema import shipped
from tests.conftest import JOB, MACHINE, Write

CAUTION = """\
hot:
  signal: warning
  hazard: It is hot.
  consequence: It burns.
  avoid: [Let it cool.]
  covers: [hot]
"""
BLOCK = "block: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"


def test_a_whole_guide(write_guide: Write) -> None:
    guide = read_guide(
        write_guide(
            {
                "pump/guide.yaml": """\
title: Bench pump
subtitle: Workshop manual
edition: 2
date: 2026-11-25
authors: [A. Fitter, B. Turner]
licence: CC BY 4.0
units: [us, metric]
language: en
read-first: >
  Invented,
  all of it.
waive: {no-final-test: the bench is the test}
""",
                "pump/blocks/look.yaml": BLOCK,
                "shared/blocks/clean.yaml": BLOCK,
                "shared/cautions.yaml": CAUTION,
                "pump/hazards.yaml": "hot: {name: hot parts, signal-at-least: warning, tags: [hot]}\n",
                "pump/notes.yaml": "not: read\n",
            }
        )
    )
    assert guide.faults == ()
    assert guide.cover is not None
    assert (guide.cover.title, guide.cover.subtitle) == ("Bench pump", "Workshop manual")
    assert (guide.cover.edition, guide.cover.date) == ("2", "2026-11-25")
    assert guide.cover.authors == ("A. Fitter", "B. Turner")
    assert guide.cover.units == ("us", "metric")
    assert guide.cover.read_first == "Invented, all of it."
    assert [waiver.reason for waiver in guide.cover.waive] == ["the bench is the test"]
    assert guide.machine is not None
    assert list(guide.machine.things) == ["lid", "screws"]
    assert (list(guide.jobs), list(guide.blocks)) == (["look"], ["look"])
    assert set(guide.library.blocks) == {"look", "clean"}
    assert (set(guide.library.cautions), set(guide.library.hazards)) == ({"hot"}, {"hot"})
    assert [sequence.key for sequence in guide.sequences()] == ["look", "look"]
    assert sorted(guide.files) == [
        "pump/blocks/look.yaml",
        "pump/guide.yaml",
        "pump/hazards.yaml",
        "pump/jobs/look.yaml",
        "pump/machine.yaml",
        "shared/blocks/clean.yaml",
        "shared/cautions.yaml",
        "shared/tools.yaml",
    ]
    assert not guide.unreadable


def test_what_is_not_said_has_its_default(write_guide: Write) -> None:
    cover = read_guide(write_guide({})).cover
    assert cover is not None
    assert (cover.units, cover.language, cover.authors, cover.read_first) == (("metric", "us"), "en", (), None)


def test_unsaved_text_stands_in_for_a_file_that_is_not_there(write_guide: Write) -> None:
    folder = write_guide({"pump/machine.yaml": None}).resolve()
    assert read_guide(folder).machine is None
    guide = read_guide(folder, {folder / "machine.yaml": MACHINE})
    assert guide.machine is not None
    assert guide.faults == ()


# Which library


def test_the_nearest_library_above_the_guide(write_guide: Write) -> None:
    folder = write_guide({"far/near/shared/equipment.yaml": "{}\n", "far/near/guides/pump/guide.yaml": "title: P\n"})
    assert folder_for(folder) == folder.parent / "shared"
    assert folder_for(folder.parent / "far/near/guides/pump") == (folder.parent / "far/near/shared").resolve()


def test_a_folder_called_shared_without_a_library_is_none(write_guide: Write) -> None:
    folder = write_guide({"shared/tools.yaml": None, "shared/photo.txt": "x"})
    assert folder_for(folder) == shipped("shared")
    guide = read_guide(folder)
    assert set(guide.library.cautions) == set(read_guide(shipped("shared").parent).library.cautions)


@pytest.mark.parametrize("name", FILES)
def test_each_file_of_the_library_alone_makes_one(name: str, write_guide: Write) -> None:
    folder = write_guide({"shared/tools.yaml": None, f"shared/{name}.yaml": "{}\n"})
    assert folder_for(folder) == folder.parent / "shared"


def test_one_name_in_both_is_a_fault_of_the_guide(write_guide: Write) -> None:
    folder = write_guide({"shared/cautions.yaml": CAUTION, "pump/cautions.yaml": CAUTION})
    (fault,) = read_guide(folder).faults
    assert (fault.check, str(fault.span)) == ("same-name", "pump/cautions.yaml:1:1")
    assert [str(also.span) for also in fault.also] == ["shared/cautions.yaml:1:1"]


# From memory


def test_a_whole_guide_from_memory(write_guide: Write) -> None:
    texts: dict[str, str | bytes] = {
        "pump/guide.yaml": "title: Bench pump\n",
        "pump/machine.yaml": MACHINE,
        "pump/jobs/look.yaml": JOB,
        "pump/blocks/look.yaml": BLOCK,
        "pump/index.md": "# Bench pump\n",
        "shared/cautions.yaml": CAUTION,
        "shared/blocks/clean.yaml": BLOCK,
    }
    write_guide({"shared/tools.yaml": None, **texts})
    on_disk = read_guide(Path("pump"))
    nowhere = Path("/nowhere/at/all")
    guide = read_guide(nowhere / "pump", store=Memory({nowhere / name: text for name, text in texts.items()}))
    assert guide.faults == on_disk.faults == ()
    assert guide.files == tuple(str(nowhere / name) for name in on_disk.files)
    assert list(guide.pages.values()) == ["# Bench pump\n"]
    assert (list(guide.jobs), list(guide.blocks)) == (["look"], ["look"])
    assert set(guide.library.blocks) == {"look", "clean"}
    assert set(guide.library.cautions) == {"hot"}
    assert [finding.message for finding in findings_of(open_guide(guide))[0]] == [
        finding.message for finding in findings_of(open_guide(on_disk))[0]
    ]


def test_a_guide_from_memory_uses_the_shipped_library_when_it_brings_none() -> None:
    pump = Path("/nowhere/pump")
    guide = read_guide(pump, store=Memory({pump / "guide.yaml": "title: P\n", pump / "machine.yaml": MACHINE}))
    assert guide.faults == ()
    assert guide.library.cautions


def test_a_guide_from_memory_without_anything_in_it() -> None:
    guide = read_guide(Path("/nowhere/pump"), store=Memory({}))
    assert [fault.message for fault in guide.faults] == ["the folder cannot be read: no such file or directory"]
    assert guide.unreadable
