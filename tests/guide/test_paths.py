"""Where guides are, and how their paths are shown."""

from __future__ import annotations

import pytest

from putback.guide.paths import guide_of, is_guide, shown_path
from tests.conftest import MACHINE, Write


def test_a_guide_is_a_folder_with_one_of_its_files(write_guide: Write) -> None:
    folder = write_guide({"half/machine.yaml": MACHINE, "none/readme.yaml": "a: b\n"})
    assert is_guide(folder)
    assert is_guide(folder.parent / "half")
    assert not is_guide(folder.parent / "none")
    assert guide_of(folder / "jobs" / "look.yaml") == folder.resolve()
    assert guide_of(folder) == folder.resolve()
    assert guide_of(folder.parent / "none") is None


def test_shown_paths(write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = write_guide({})
    assert shown_path(folder) == "pump"
    monkeypatch.chdir(folder)
    assert shown_path(folder) == "."
    assert shown_path(folder.parent) == str(folder.parent)
