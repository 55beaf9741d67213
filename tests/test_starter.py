"""A new guide checks clean, is whole or not there at all, and shows the reader what to fill in."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from putback import starter
from putback.guide.reading import read_guide
from putback.lint.guides import lint
from putback.placing.scratch import open_scratch
from putback.placing.switch import JOURNAL
from putback.starter import GuideExistsError, start_guide
from putback.starter.schemas import FOLDER


def test_a_new_guide_checks_clean_and_shows_what_a_guide_needs(tmp_path: Path) -> None:
    start_guide(tmp_path / "pump")
    result = lint([tmp_path / "pump"])
    assert result.findings == ()
    assert (result.jobs, result.exit_code) == (1, 0)
    guide = read_guide(tmp_path / "pump")
    assert guide.machine is not None
    assert [*map(len, guide.machine.options.values())] == [2]
    steps = [line for path in (tmp_path / "pump").rglob("*.yaml") for line in path.read_text("utf-8").split("\n")]
    for shown in (
        *("ends-with:", "- do:", "- reverse:", "- caution:", "- place:", "otherwise:", "- stop:", "- replace:"),
        *("- measure:", "wear:", "tool:", "- check:", "when:", "safe-when:", "covers:", "keeps:", "(invented)"),
    ):
        assert any(shown in line for line in steps), shown


def test_a_new_guide_has_every_kind_of_file(tmp_path: Path) -> None:
    folder = tmp_path / "pump"
    files = start_guide(folder)
    assert [path.relative_to(folder).as_posix() for path in files if path.parent.name != FOLDER] == [
        "blocks/open-mill.yaml",
        "cautions.yaml",
        "equipment.yaml",
        "guide.yaml",
        "hazards.yaml",
        "index.md",
        "jobs/blades.yaml",
        "machine.yaml",
        "safety.md",
        "tools.yaml",
    ]
    assert (folder / "images").is_dir()


UNFOUND = {"inspect: blades", "note", "tool", "because", "with", "readings", "at"}
"""What a job or block may lack: the measurement looks at the blades as well, and the rest adds to a step."""


def test_a_line_left_out_of_the_new_job_is_found(tmp_path: Path) -> None:
    folder = tmp_path / "pump"
    start_guide(folder)
    for path in (folder / "jobs" / "blades.yaml", folder / "blocks" / "open-mill.yaml"):
        text = path.read_text(encoding="utf-8")
        steps = text.index("steps:\n")
        missed = set()
        for cut, rest in _without_a_step(text[steps:]):
            path.write_text(text[:steps] + rest, encoding="utf-8")
            if not lint([folder]).findings:
                missed.add(cut)
        path.write_text(text, encoding="utf-8")
        assert missed <= UNFOUND, path.name


def _without_a_step(text: str) -> Iterator[tuple[str, str]]:
    """Yield each step and each key of one, with the text without it."""
    lines = text.splitlines(keepends=True)
    depths = [len(line) - len(line.lstrip()) for line in lines]
    for number, line in enumerate(lines):
        if line.lstrip().startswith(("- title", "steps", "when", "for")):
            continue
        end = next((after for after in range(number + 1, len(lines)) if depths[after] <= depths[number]), len(lines))
        said = line.partition("#")[0].strip()
        cut = said.removeprefix("- ") if said.startswith("- ") else said.partition(":")[0]
        yield cut, "".join(lines[:number] + lines[end:])


def test_the_pages_of_a_new_guide_name_files_that_are_there(tmp_path: Path) -> None:
    start_guide(tmp_path / "pump")
    index = (tmp_path / "pump" / "index.md").read_text(encoding="utf-8")
    entries = index.partition("```{toctree}")[2].partition("```")[0].split("\n\n", 1)[1].split()
    assert entries
    for entry in entries:
        assert any((tmp_path / "pump" / f"{entry}{ending}").is_file() for ending in (".md", ".yaml"))


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "pump").mkdir()
    assert start_guide(tmp_path / "pump")


def test_folders_above_it_are_made(tmp_path: Path) -> None:
    assert start_guide(tmp_path / "a" / "b" / "pump")


def test_what_is_there_stays(tmp_path: Path) -> None:
    (tmp_path / "pump").mkdir()
    (tmp_path / "pump" / "mine").write_text("mine", encoding="utf-8")
    with pytest.raises(GuideExistsError, match="already exists; nothing was written"):
        start_guide(tmp_path / "pump")
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    with pytest.raises(GuideExistsError):
        start_guide(tmp_path / "file")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "pump"]


def test_a_copy_that_breaks_off_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*args: object, **kwargs: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(shutil, "copytree", full)
    with pytest.raises(OSError, match="No space left"):
        start_guide(tmp_path / "pump")
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_folder_stays(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to("real")
    (tmp_path / "nowhere").symlink_to("nothing")
    for name in ("link", "nowhere"):
        with pytest.raises(GuideExistsError, match=f"{name}' is a link; nothing was written"):
            start_guide(tmp_path / name)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link", "nowhere", "real"]
    assert list((tmp_path / "real").iterdir()) == []


def test_the_current_folder_is_not_filled(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for folder in (Path(), tmp_path):
        with pytest.raises(GuideExistsError, match="is the current folder; go up one level"):
            start_guide(folder)
    assert list(tmp_path.iterdir()) == []


def test_what_came_meanwhile_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = shutil.copytree

    def slow(*args: Any, **kwargs: Any) -> Any:
        (tmp_path / "pump").mkdir(exist_ok=True)
        (tmp_path / "pump" / "mine").write_text("mine", encoding="utf-8")
        return real(*args, **kwargs)

    monkeypatch.setattr(shutil, "copytree", slow)
    with pytest.raises(GuideExistsError):
        start_guide(tmp_path / "pump")
    # And in the very last moment.
    monkeypatch.setattr(shutil, "copytree", real)
    monkeypatch.setattr(starter, "_check", lambda folder: None)
    with pytest.raises(OSError, match=r"mpty|exists"):
        start_guide(tmp_path / "pump")
    assert [path.name for path in tmp_path.rglob("*")] == ["pump", "mine"]


KILLED = """
import os, shutil, signal, sys
from pathlib import Path
from putback.starter import start_guide
real, left = shutil.copy2, int(sys.argv[2])
def copy(*args, **kwargs):
    global left
    left -= 1
    if left < 0:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*args, **kwargs)
shutil.copytree.__kwdefaults__ = None
shutil.copytree.__defaults__ = (False, None, copy, False, False)
start_guide(Path(sys.argv[1]))
"""


@pytest.mark.skipif(os.name != "posix", reason="a kill as POSIX has it")
def test_what_a_killed_run_left_is_cleared_away(tmp_path: Path) -> None:
    mine = [".new-guide-abc", ".putback-0123456789abcdef", ".putback-mine"]
    for name in mine:
        (tmp_path / name).mkdir()
        (tmp_path / name / "mine").write_text("mine", encoding="utf-8")
    for files in (0, 3):
        done = subprocess.run([sys.executable, "-c", KILLED, str(tmp_path / "pump"), str(files)], check=False)
        assert done.returncode == -signal.SIGKILL
        assert len(list(tmp_path.iterdir())) == len(mine) + 1
        assert not (tmp_path / "pump").exists()
    start_guide(tmp_path / "pump")
    assert sorted(path.name for path in tmp_path.iterdir()) == [*mine, "pump"]
    assert all((tmp_path / name / "mine").exists() for name in mine)


def test_a_manual_that_is_half_in_place_is_left_to_build(tmp_path: Path) -> None:
    scratch = open_scratch(tmp_path)
    (scratch / JOURNAL).write_text("[]", encoding="ascii")
    start_guide(tmp_path / "pump")
    assert sorted(path.name for path in tmp_path.iterdir()) == [scratch.name, "pump"]


def test_no_file_of_the_program_goes_into_a_guide(tmp_path: Path) -> None:
    assert Path(starter.__file__).suffix == ".py"
    assert {path.suffix for path in start_guide(tmp_path / "pump")} == {".yaml", ".md", ".json"}
