"""Which guides a path stands for: deep folders, links, names, and folders that cannot be looked into."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Protocol

import pytest

import putback as package
from putback.guide.reading import read_guide
from putback.lint.search import NoGuideError, find_guides
from putback.source.finding import Finding
from tests.conftest import GUIDE, JOB, MACHINE, Putback, Write

SRC = Path(package.__file__).parents[1]


class Dig(Protocol):
    def __call__(self, top: Path, depth: int, name: str = "d") -> Path: ...


@pytest.fixture
def dig() -> Iterator[Dig]:
    """Make folders in folders, deeper than a path may be long, and return the first."""
    made: list[Path] = []

    def deep(top: Path, depth: int, name: str = "d") -> Path:
        here = Path.cwd()
        (top / name).mkdir()
        made.append(top / name)
        os.chdir(top / name)
        for _ in range(depth - 1):
            Path(name).mkdir()
            os.chdir(name)
        os.chdir(here)
        return top / name

    yield deep
    here = Path.cwd()
    for folder in made:  # Python's own `rmtree` falls over them
        depth = 0
        os.chdir(folder.parent)
        while Path(folder.name).is_dir():
            os.chdir(folder.name)
            depth += 1
        shutil.rmtree("jobs", ignore_errors=True)
        for path in list(Path().iterdir()):
            path.unlink()
        for _ in range(depth):
            os.chdir("..")
            Path(folder.name).rmdir()
    os.chdir(here)


@pytest.mark.parametrize("place", ["", "pump/jobs"])
def test_folders_1500_deep(place: str, write_guide: Write, putback: Putback, dig: Dig) -> None:
    folder = write_guide({}).parent / place
    folder.mkdir(exist_ok=True)
    dig(folder, 1500)
    began = time.process_time()
    answer = putback("lint")
    assert answer.out == "1 job, 1 step in 4 files: everything goes back\n"
    assert time.process_time() - began < 5


def test_a_guide_1500_deep(write_guide: Write, putback: Putback, dig: Dig) -> None:
    inner = dig(write_guide({}).parent, 1500)
    for _ in range(1499):
        inner /= "d"
    (inner / "guide.yaml").write_text(GUIDE, encoding="utf-8")
    (inner / "machine.yaml").write_text(MACHINE, encoding="utf-8")
    (inner / "jobs").mkdir()
    (inner / "jobs" / "look.yaml").write_text(JOB, encoding="utf-8")
    assert putback("lint").out.startswith("2 jobs, 2 steps in ")
    assert putback("lint", str(inner)).code == 0


def test_folders_deeper_than_a_path_can_say(write_guide: Write, putback: Putback, dig: Dig) -> None:
    dig(write_guide({}).parent, 100, "d" * 60)
    answer = putback("lint")
    assert answer.code == 2
    assert "the folder cannot be read: file name too long" in answer.out
    assert "; not checked: what is in d" in answer.out


def test_links_to_folders_are_followed_once(write_guide: Write, tmp_path_factory: pytest.TempPathFactory) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    (elsewhere / "motor").mkdir()
    (elsewhere / "motor" / "machine.yaml").write_text(MACHINE, encoding="utf-8")
    pump = write_guide({})
    top = pump.parent
    (top / "up").symlink_to("..")
    (top / "root").symlink_to("/")
    (top / "self").symlink_to(".")
    (top / "again").symlink_to("pump")
    (top / "there").symlink_to(elsewhere / "motor")
    (top / "not-searched").symlink_to(elsewhere)
    (top / "processes").symlink_to("/proc")
    (top / "inner").mkdir()
    (top / "inner" / "pump").symlink_to("../pump")
    (pump / "self").symlink_to(".")
    (pump / "other").symlink_to(elsewhere / "motor")
    (pump / "jobs" / "up").symlink_to("..")
    (pump / "images").symlink_to("/usr")
    (elsewhere / "back").symlink_to(top)
    (top / "lost").symlink_to("nowhere")
    (top / "round").symlink_to("round")
    told: list[Finding] = []
    assert set(find_guides([Path()], told)) == {pump.resolve()}
    assert [(each.span.path, each.message, each.hint) for each in told] == [
        (
            "there",
            "nothing in this folder is read: it is a link that leads elsewhere",
            "name the folder that it leads to as well",
        )
    ]
    assert set(find_guides([Path("there")])) == {(elsewhere / "motor").resolve()}
    assert read_guide(pump).faults == ()


def test_more_folders_than_are_searched(write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch) -> None:
    top = write_guide({}).parent
    for number in range(20):
        (top / f"a{number:02}").mkdir()
    monkeypatch.setattr("putback.guide.folders.MOST_FOLDERS", 10)
    answer = putback("lint", "--format", "json")
    assert answer.findings == ["a09:1:1 unread-file: more than 10 folders: the rest is ignored"]
    assert answer.code == 2


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_guide_whose_name_is_no_utf_8(form: str, write_guide: Write, putback: Putback) -> None:
    pump = write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n  - clean: lidd\n"})
    pump.rename(pump.with_name(os.fsdecode(b"p\xffmp\x1b")))
    answer = putback("lint", "--format", form)
    assert answer.code == 1
    shown = "p\\xffmp\\x1b/jobs/look.yaml"
    assert (shown.replace("\\", "\\\\") if form == "json" else shown) in answer.out
    assert "\x1b" not in answer.out


@pytest.mark.parametrize("name", [b"n\xffthing", b"n\x1bthing"])
def test_a_path_to_nothing_whose_name_cannot_be_shown(name: bytes, write_guide: Write, putback: Putback) -> None:
    write_guide({})
    for form in ("text", "json"):
        answer = putback("lint", "--format", form, os.fsdecode(name))
        assert answer.code == 2
        assert "thing' does not exist" in answer.err
        assert "\x1b" not in answer.err + answer.out
        answer.err.encode()


@pytest.mark.parametrize("args", [["lint"], ["lint", "."], ["lint", "pump"], ["lint", "--format", "json"], ["build"]])
def test_a_current_folder_that_is_gone(args: list[str], write_guide: Write) -> None:
    top = write_guide({}).parent
    gone = top / "gone"
    gone.mkdir()
    program = "import os, sys; os.rmdir(os.getcwd()); from putback.cli import main; sys.exit(main(sys.argv[1:]))"
    ran = subprocess.run(
        [sys.executable, "-c", program, *args],
        cwd=gone, env=os.environ | {"PYTHONPATH": str(SRC)}, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert ran.returncode == 2
    assert "the current folder no longer exists; go to another one" in ran.stderr
    assert "Traceback" not in ran.stderr


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda path: path.symlink_to("nowhere"), "cannot be read: it is a link to 'nowhere', which does not exist"),
        (lambda path: path.symlink_to(path.name), "cannot be read: it is a link that leads back to itself"),
        (lambda path: os.mkfifo(path), "cannot be read: it is a named pipe"),
        (lambda path: path.symlink_to("/dev/zero"), "cannot be read: it is a device"),
        (lambda path: None, "does not exist"),
    ],
)
def test_a_path_that_is_no_file_and_no_folder(make: object, message: str, write_guide: Write) -> None:
    path = write_guide({}).parent / "x"
    assert callable(make)
    make(path)
    with pytest.raises(NoGuideError, match=f"'x' {message}"):
        find_guides([Path("x")])


def test_a_name_that_is_far_too_long(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    answer = putback("lint", "x" * 5000)
    assert answer.code == 2
    assert "does not exist" in answer.err


def test_a_thousand_links_in_a_row(write_guide: Write, putback: Putback) -> None:
    top = write_guide({}).parent
    for number in range(1500):
        (top / f"l{number}").symlink_to(f"l{number + 1}")
    (top / "l1500").symlink_to("pump")
    assert "cannot be read: it is a link that leads back to itself" in putback("lint", "l0").err
    assert putback("lint").code == 0


def test_a_folder_that_may_not_be_listed(write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch) -> None:
    top, listed = write_guide({"closed/x.yaml": "a: b\n"}).parent, os.listdir

    def refuse(path: str | Path) -> list[str]:
        if Path(path).absolute() == top / "closed":
            raise PermissionError(13, "Permission denied", str(path))
        return listed(path)

    monkeypatch.setattr(os, "listdir", refuse)
    answer = putback("lint", "--format", "json")
    assert answer.findings == ["closed:1:1 unread-file: the folder cannot be read: permission denied"]
    assert (answer.code, answer.data["summary"]["not_checked"]) == (2, ["what is in closed"])
    assert putback("lint", "pump").code == 0
    assert "'closed': the folder cannot be read: permission denied" in putback("build").err


def test_a_guide_in_a_guide(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/old/guide.yaml": GUIDE, "pump/old/machine.yaml": MACHINE})
    answer = putback("lint", "--format", "json")
    assert answer.findings == ["pump/old:1:1 unread-file: this is a guide inside a guide, so it is not read"]


def test_a_library_in_a_guide(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/shared/tools.yaml": "lamp: {}\n"})
    answer = putback("lint", "--format", "json")
    assert answer.findings == ["pump/shared:1:1 unread-file: nothing in this folder is read"]


def test_shared_blocks_without_a_library(write_guide: Write, putback: Putback) -> None:
    write_guide({"shared/tools.yaml": None, "shared/blocks/a.yaml": "block: A\nsteps:\n  - clean: lid\n"})
    answer = putback("lint", "--format", "json")
    assert answer.findings == [
        "shared/blocks:1:1 unread-file: nothing in this folder is read: there are no library files in it"
    ]
