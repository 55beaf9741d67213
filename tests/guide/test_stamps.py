"""States of a guide's files: it is read again only when one has changed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from putback.guide.stamps import cached_guide, stamp_of
from tests.conftest import JOB, Write


def test_a_guide_is_read_again_only_when_a_file_changed(write_guide: Write) -> None:
    folder = write_guide({}).resolve()
    first = cached_guide(folder, stamp_of(folder))
    assert cached_guide(folder, stamp_of(folder)) is first
    look = folder / "jobs" / "look.yaml"
    look.write_text(JOB + "  - clean: lid\n", encoding="utf-8")
    second = cached_guide(folder, stamp_of(folder))
    assert second is not first
    assert len(list(second.jobs["look"].steps())) == 2


def test_a_change_of_time_alone_counts(write_guide: Write) -> None:
    folder = write_guide({}).resolve()
    before = stamp_of(folder)
    os.utime(folder / "machine.yaml", ns=(1, 1))
    assert stamp_of(folder) != before


@pytest.mark.parametrize("place", ["shared", "pump/blocks", "pump", "pump/jobs"])
def test_a_new_file_counts(place: str, write_guide: Write) -> None:
    folder = write_guide({}).resolve()
    before = stamp_of(folder)
    path = folder.parent / place / "equipment.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_text("{}\n", encoding="utf-8")
    assert stamp_of(folder) != before


def test_a_broken_link_has_a_state_too(write_guide: Write) -> None:
    folder = write_guide({}).resolve()
    (folder / "jobs" / "gone.yaml").symlink_to(Path("nowhere.yaml"))
    assert stamp_of(folder)
