"""One program at a time puts things into a folder, and what a killed one left is nobody's."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from putback.placing import lock
from putback.placing.lock import LOCK_FILE, BusyError, claim
from putback.placing.scratch import MARK, MARKER, is_scratch, leftovers, open_scratch, remove

HOLD = """
import sys
from pathlib import Path
from putback.placing import lock
if sys.argv[2] == "file":
    def no(folder): raise lock._NoLockError
    lock._lock_folder = no
with lock.claim(Path(sys.argv[1])):
    print("mine", flush=True)
    sys.stdin.read()
"""


@pytest.fixture(params=["folder", "file"])
def kind(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Lock the folder itself; or a file in it, as where a folder cannot be locked."""
    if request.param == "file":

        def cannot(folder: Path) -> None:
            raise lock._NoLockError

        monkeypatch.setattr(lock, "_lock_folder", cannot)
    return str(request.param)


def holder(folder: Path, kind: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", HOLD, str(folder), kind]
    child = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert child.stdout is not None
    assert child.stdout.readline() == "mine\n"
    return child


def test_a_second_program_waits_and_then_says_so(tmp_path: Path, kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "PATIENCE", 0.2)
    told: list[str] = []
    child = holder(tmp_path, kind)
    try:
        with pytest.raises(BusyError), claim(tmp_path, lambda: told.append("waiting")):
            pytest.fail("two have it")
        assert told == ["waiting"]
        monkeypatch.setattr(lock, "PATIENCE", 60)
        with claim(tmp_path, child.terminate) as alone:
            assert alone
    finally:
        child.kill()
        child.communicate()
    assert list(tmp_path.iterdir()) == []


def test_a_killed_program_holds_nothing(tmp_path: Path, kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    child = holder(tmp_path, kind)
    child.kill()
    child.communicate()
    monkeypatch.setattr(lock, "PATIENCE", 5)
    with claim(tmp_path):
        pass
    assert list(tmp_path.iterdir()) == []


def test_folders_are_made_and_empty_ones_removed(tmp_path: Path, kind: str) -> None:
    deep = tmp_path / "a" / "b" / "c"
    with claim(deep):
        assert deep.is_dir()
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "a").mkdir()
    with claim(deep):
        (tmp_path / "a" / "b" / "book").write_text("x", encoding="utf-8")
    assert not deep.exists()
    assert (tmp_path / "a" / "b" / "book").exists()


def test_a_folder_that_was_there_stays(tmp_path: Path, kind: str) -> None:
    with pytest.raises(ZeroDivisionError), claim(tmp_path):
        raise ZeroDivisionError
    assert tmp_path.is_dir()


def test_a_file_of_that_name_with_something_in_it_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def cannot(folder: Path) -> None:
        raise lock._NoLockError

    monkeypatch.setattr(lock, "_lock_folder", cannot)
    (tmp_path / LOCK_FILE).write_text("mine", encoding="utf-8")
    with claim(tmp_path) as alone:
        assert alone
    assert (tmp_path / LOCK_FILE).read_text(encoding="utf-8") == "mine"


def test_a_disk_without_locks_is_used_without(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fcntl = pytest.importorskip("fcntl", reason="another system's locks")

    def cannot(*rest: object) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(fcntl, "flock", cannot)
    monkeypatch.setattr(fcntl, "lockf", cannot)
    with claim(tmp_path) as alone:
        assert not alone


# scratch folders


def test_a_scratch_folder_is_known_and_removed(tmp_path: Path) -> None:
    scratch = open_scratch(tmp_path)
    (scratch / "new" / "html").mkdir(parents=True)
    (scratch / "new" / "html" / "index.html").write_text("x", encoding="utf-8")
    (scratch / "file").write_text("x", encoding="utf-8")
    with suppress(OSError):
        (scratch / "link").symlink_to(tmp_path)
    assert list(leftovers(tmp_path)) == [scratch]
    remove(scratch)
    assert list(tmp_path.iterdir()) == []
    assert tmp_path.is_dir()


@pytest.mark.parametrize("cut", [0, 1, 40])
def test_one_that_was_killed_at_its_start_is_known(tmp_path: Path, cut: int) -> None:
    scratch = tmp_path / ".putback-0123456789abcdef"
    scratch.mkdir()
    assert is_scratch(scratch)
    (scratch / MARKER).write_bytes(MARK[:cut])
    assert is_scratch(scratch)
    (scratch / "mine").write_text("mine", encoding="utf-8")
    assert not is_scratch(scratch)


def test_what_looks_alike_is_left(tmp_path: Path) -> None:
    mine = tmp_path / ".putback-0123456789abcdef"
    mine.mkdir()
    (mine / "mine.txt").write_text("mine", encoding="utf-8")
    for name in (".making-abc", ".html-old", ".new-guide-x", ".putback-mine", ".putback-0123456789ABCDEF"):
        (tmp_path / name).mkdir()
        (tmp_path / name / MARKER).write_bytes(MARK)
    (tmp_path / ".putback-0000000000000000").write_bytes(MARK)
    away = tmp_path / "away"
    away.mkdir()
    (away / MARKER).write_bytes(MARK)
    (tmp_path / ".putback-1111111111111111").symlink_to(away)
    linked = tmp_path / ".putback-2222222222222222"
    linked.mkdir()
    (linked / MARKER).symlink_to(away / MARKER)
    assert list(leftovers(tmp_path)) == []


def test_a_disk_that_is_full_at_once_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, text: bytes) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OSError, match=os.strerror(errno.ENOSPC)):
        open_scratch(tmp_path)
    assert list(tmp_path.iterdir()) == []
